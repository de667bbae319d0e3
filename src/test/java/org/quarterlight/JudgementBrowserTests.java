package org.quarterlight;

import static org.assertj.core.api.Assertions.assertThat;
import static org.quarterlight.TestBrowser.check;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.quarterlight.tenancy.Role;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.test.web.servlet.assertj.MockMvcTester;

/** In a real browser: sheets, verdicts and inspections, on a phone and at a desk, free of axe's findings. */
@QuarterlightTest
class JudgementBrowserTests extends PagesInABrowser {
    @Autowired
    private TestBusiness business;

    @Autowired
    private MockMvcTester mvc;

    @ParameterizedTest(name = "{0} px")
    @ValueSource(ints = {360, 1440})
    void aManagerChangesASheetAndSeesWhatItWouldDo(int width) {
        var lived = business.live(mvc);
        var page = signIn(lived.fleet(), Role.MANAGER, width);
        visit(page, "/rule-sheets/bs-au-242b-2022");
        visit(page, "/rule-sheets/" + lived.ownSheet() + "/edit");
        visit(page, "/rule-sheets/" + lived.ownSheet() + "/preview");
        visit(page, "/rule-sheets/previews/" + lived.preview());
        visit(page, "/damages/" + lived.openDamage() + "/verdicts");
        assertThat(page.textContent("main")).contains("The same to the letter");
        visit(page, "/glass-patterns/" + lived.pattern() + "/permitted?kind=star-break&diameterMm=15&category=M3");
        assertThat(page.textContent("main")).contains("of the wiped area");
        page.context().close();
    }

    @ParameterizedTest(name = "{0} px")
    @ValueSource(ints = {360, 1440})
    void anInspectorGoesThroughAYard(int width) {
        var lived = business.live(mvc);
        var page = signIn(lived.fleet(), Role.MANAGER, width);
        visit(page, "/inspections");
        visit(page, "/inspections/plans");
        visit(page, "/inspections/plans/" + lived.inspectionPlan());
        visit(page, "/inspections/spread");
        page.navigate(at("/inspections"));
        page.click("text=Subscribe from a calendar program");
        check(page);
        assertThat(page.textContent("main code")).contains("/calendars/ql_");

        visit(page, "/inspections/" + lived.inspection());
        page.check("input[name=grade][value=minor]");
        page.locator("input[name='damages[0].answer'][value=changed]").check();
        page.fill("input[name='damages[0].diameterMm']", "17.5");
        page.click("text=Report a new damage");
        page.goBack();
        assertThat(page.isChecked("input[name=grade][value=minor]"))
                .as("what was ticked before a report stays")
                .isTrue();
        page.navigate(at("/inspections/" + lived.inspection()));
        assertThat(page.inputValue("input[name='damages[0].diameterMm']")).isEqualTo("17.5");
        check(page);
        page.click("text=Keep the result");
        check(page);
        assertThat(page.textContent("main")).contains("Inspected", "changed");

        visit(page, "/inspections/round");
        page.navigate(at("/inspections/round?depot=" + lived.depot() + "&plate=QV+4321"));
        check(page);
        assertThat(page.textContent("main")).contains("QV 4321");
        page.context().close();
    }

    /** Corner after corner, by mouse and by keys: the crack is measured along its course. */
    @Test
    void aDriverDrawsACrack() {
        var lived = business.live(mvc);
        var page = signIn(lived.fleet(), Role.DRIVER, 1440);
        visit(page, "/report?vehicle=" + lived.vehicle());
        page.check("input[name=kind][value=crack]");
        page.click("text=Draw it on the glass");
        var glass = page.locator(".glass-pick svg:visible").first();
        glass.scrollIntoViewIfNeeded();
        var box = glass.boundingBox();
        page.mouse().click(box.x + box.width * 0.40, box.y + box.height * 0.50);
        page.mouse().click(box.x + box.width * 0.45, box.y + box.height * 0.52);
        glass.focus();
        page.keyboard().press("ArrowRight");
        page.keyboard().press("ArrowUp");
        page.keyboard().press("Enter");
        page.click("[data-course-done]");
        assertThat(page.inputValue("#course").strip().lines()).hasSize(3);
        check(page);
        page.check("input[name=layers][value=outer]");
        page.click("text=Send the report");
        assertThat(page.url()).as(() -> page.textContent("main")).endsWith("/answer");
        check(page);
        page.context().close();
    }
}

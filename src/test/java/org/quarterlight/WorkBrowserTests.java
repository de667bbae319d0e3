package org.quarterlight;

import static org.assertj.core.api.Assertions.assertThat;
import static org.quarterlight.TestBrowser.check;

import com.microsoft.playwright.options.FilePayload;
import java.util.List;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.quarterlight.tenancy.Role;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.test.web.servlet.assertj.MockMvcTester;

/** In a real browser: a repairer's day and the order of an organisation, on a phone and at a desk, free of axe's findings. */
@QuarterlightTest
class WorkBrowserTests extends PagesInABrowser {
    @Autowired
    private TestBusiness business;

    @Autowired
    private MockMvcTester mvc;

    @ParameterizedTest(name = "{0} px")
    @ValueSource(ints = {360, 1440})
    void aDispatcherLooksAtTheDay(int width) {
        var lived = business.live(mvc);
        var page = signIn(lived.repairer(), Role.DISPATCHER, width);
        visit(page, "/days/" + lived.day() + "?stop=" + lived.job());
        assertThat(page.textContent("#stop")).contains("QV 4321", "Work has begun, so it stays where it is.");
        assertThat(page.locator(".day-board .stop-frame").boundingBox().width)
                .as("5 px more on each side and a line of 2.5 px, beside the block with its line of 1 px")
                .isCloseTo(
                        page.locator(".day-board .block").boundingBox().width + 11.5,
                        org.assertj.core.api.Assertions.within(1.0));
        visit(page, "/days/" + lived.day() + "?late");
        visit(page, "/days/" + lived.day().plusDays(1) + "?late");
        visit(page, "/vans");
        visit(page, "/shifts/" + lived.shift());
        page.context().close();
    }

    @ParameterizedTest(name = "{0} px")
    @ValueSource(ints = {360, 1440})
    void aTechnicianDoesTheWorkOutdoors(int width) {
        var lived = business.live(mvc);
        var page = signIn(lived.repairer(), Role.TECHNICIAN, width);
        visit(page, "/");
        visit(page, "/jobs/run");
        assertThat(page.url()).endsWith("/jobs/" + lived.job() + "/run");
        assertThat(page.getAttribute("html", "data-look")).isEqualTo("outdoor");
        page.click("text=Stop the clock");
        page.click("text=Start: Open");
        check(page);
        assertThat(page.textContent("h1")).contains("Open");
        page.reload();
        assertThat(page.textContent(".clock")).matches("\\d\\d:\\d\\d");
        page.click("text=Stop the clock");
        page.fill("#text", "Shade put up, glass dry.");
        page.click("text=Keep the note");
        page.setInputFiles("#photo-file", new FilePayload("after.jpg", "image/jpeg", TestBusiness.pictureBytes()));
        page.click("button[name=shows][value=after]");
        check(page);
        assertThat(page.locator("button[name=passed][value=true]").count())
                .as("nothing is passed before its cure")
                .isZero();
        assertThat(page.textContent("main")).contains("Passed comes after:");
        page.click("text=Measure it again");
        page.fill("input[name=diameterMm] >> nth=0", "19.5");
        page.click("text=Keep it");
        check(page);
        assertThat(page.textContent("body")).contains("judged again");
        page.click("text=Read them");
        page.fill("#airCelsius", "15");
        page.fill("#glassCelsius", "220");
        page.fill("#relativeHumidityPercent", "60");
        page.check("input[name=light][value=shade]");
        page.click("text=Go, wait or stop?");
        check(page);
        assertThat(page.inputValue("#airCelsius")).as("what was typed stays").isEqualTo("15");
        visit(page, "/jobs/" + lived.job());
        visit(page, "/stock");
        page.context().close();
    }

    @ParameterizedTest(name = "{0} px")
    @ValueSource(ints = {360, 1440})
    void anAdministratorAndTheOperatorKeepOrder(int width) {
        var own = organisations.fleet();
        var page = signIn(own, Role.ADMINISTRATOR, width);
        for (var path :
                List.of("/settings/people", "/settings/keys", "/settings", "/settings/me", "/partners", "/history")) {
            visit(page, path);
        }
        page.context().close();
        var operator = signIn(organisations.platform(), Role.OPERATOR, width);
        visit(operator, "/operator/organisations");
        visit(operator, "/operator/health");
        operator.context().close();
    }
}

package org.quarterlight;

import static org.assertj.core.api.Assertions.assertThat;
import static org.quarterlight.TestBrowser.check;
import static org.quarterlight.TestOrganisations.as;

import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.quarterlight.damage.PreviewState;
import org.quarterlight.damage.SheetPreviews;
import org.quarterlight.fleet.Depots;
import org.quarterlight.fleet.Fleet;
import org.quarterlight.fleet.SaveDepot;
import org.quarterlight.fleet.SaveVehicle;
import org.quarterlight.glass.SteeringSide;
import org.quarterlight.glass.VehicleCategory;
import org.quarterlight.inspection.AskInspection;
import org.quarterlight.inspection.Inspections;
import org.quarterlight.tenancy.Role;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.core.env.Environment;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.jdbc.datasource.DriverManagerDataSource;
import org.springframework.test.web.servlet.assertj.MockMvcTester;

/** In a real browser: sheets, verdicts and inspections, on a phone and at a desk, free of axe's findings. */
@QuarterlightTest
class JudgementBrowserTests extends PagesInABrowser {
    @Autowired
    private TestBusiness business;

    @Autowired
    private MockMvcTester mvc;

    @Autowired
    private Depots depots;

    @Autowired
    private Fleet fleet;

    @Autowired
    private Inspections inspections;

    @Autowired
    private SheetPreviews previews;

    @Autowired
    private Environment environment;

    @ParameterizedTest(name = "{0} px")
    @ValueSource(ints = {360, 1440})
    void aManagerChangesASheetAndSeesWhatItWouldDo(int width) {
        var lived = business.live(mvc);
        var page = signIn(lived.fleet(), Role.MANAGER, width);
        visit(page, "/rule-sheets/bs-au-242b-2022");
        visit(page, "/rule-sheets/limits");
        visit(page, "/glossary");
        visit(page, "/rule-sheets");
        visit(page, "/rule-sheets/" + lived.ownSheet() + "/edit");
        visit(page, "/rule-sheets/" + lived.ownSheet() + "/preview");
        visit(page, "/rule-sheets/previews/" + lived.preview());
        visit(page, "/damages/" + lived.openDamage() + "/verdicts");
        assertThat(page.textContent("main")).contains("The same to the letter");
        visit(page, "/vehicles/" + lived.vehicle() + "/damages-over-time");
        visit(page, "/damages?needs=growth");
        visit(page, "/depots/" + lived.depot());
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

    /** A page, or a clear word that it is not theirs. */
    @ParameterizedTest
    @EnumSource(
            value = Role.class,
            names = {"MANAGER", "TECHNICIAN", "DISPATCHER", "ADMINISTRATOR", "DRIVER"})
    void everyPageOfJudgementAnswersEachRole(Role role) {
        var lived = business.live(mvc);
        var page = signIn(lived.fleet(), role, 1440);
        var open = Map.ofEntries(
                Map.entry("/inspections", "MDT"),
                Map.entry("/inspections/plans", "MDT"),
                Map.entry("/inspections/plans/new", "M"),
                Map.entry("/inspections/plans/" + lived.inspectionPlan(), "MDT"),
                Map.entry("/inspections/spread", "M"),
                Map.entry("/inspections/" + lived.inspection(), "MDT"),
                Map.entry("/inspections/round", "MT"),
                Map.entry("/inspections/round?depot=" + lived.depot(), "MT"),
                Map.entry("/damages/" + lived.openDamage() + "/observe", "MDT"),
                Map.entry("/damages/" + lived.openDamage() + "/verdicts", "MDT"),
                Map.entry("/rule-sheets/" + lived.ownSheet() + "/preview", "M"),
                Map.entry("/rule-sheets/previews/" + lived.preview(), "M"),
                Map.entry("/rule-sheets/previews/" + lived.preview() + "?from=repair&to=repair", "M"),
                Map.entry("/vehicles/" + lived.vehicle() + "/damages-over-time", "MDT"),
                Map.entry("/damages?needs=growth", "MDTR"),
                Map.entry("/damages?needs=warranty", "MDTR"));
        var letter = role == Role.DRIVER ? "R" : role.name().substring(0, 1);
        var wrong = new ArrayList<String>();
        open.forEach((path, roles) -> {
            var answer = page.navigate(at(path));
            var expected = roles.contains(letter);
            if (expected ? answer.status() != 200 : answer.status() != 403 && answer.status() != 404) {
                wrong.add(path + " answers " + answer.status());
            } else if (!page.textContent("main").matches("(?s).*\\w{4,}.*")) {
                wrong.add(path + " says nothing");
            }
        });
        assertThat(wrong).isEmpty();
        page.context().close();
    }

    /** Without one page load in between: what a script left in the window is still there. */
    @Test
    void aTechnicianWalksARoundOnAPhone() {
        var lived = business.live(mvc);
        var depot = as(lived.fleet(), Role.MANAGER, () -> {
            var yard = depots.create(new SaveDepot(
                    "Round yard",
                    "",
                    new BigDecimal("52"),
                    new BigDecimal("-1"),
                    "Europe/London",
                    "GB",
                    null,
                    null,
                    0,
                    null));
            for (var plate : List.of("QV 71", "QV 72", "QV 73")) {
                var vehicle = fleet.create(new SaveVehicle(
                        yard.id(), plate, null, VehicleCategory.N1, null, SteeringSide.RIGHT, "", "", ""));
                inspections.ask(new AskInspection(vehicle.id(), null));
            }
            return yard.id();
        });
        var page = signIn(lived.fleet(), Role.TECHNICIAN, 360);
        visit(page, "/inspections/round?depot=" + depot);
        page.evaluate("window.stillHere = true");
        assertThat(page.textContent("main")).contains("3 left at Round yard");
        page.tap("text=Later");
        page.waitForSelector("h1:has-text('QV 72')");
        page.tap("button:has-text('Nothing new')");
        page.waitForSelector("text=QV 72 is inspected");
        assertThat(page.textContent("h1")).as("what was left for later waits").contains("QV 73");
        page.tap("button:has-text('Nothing new')");
        page.waitForSelector("text=QV 73 is inspected");
        assertThat(page.textContent("main")).contains("QV 71", "1 left at Round yard");
        assertThat(page.evaluate("window.stillHere")).as("no page was loaded").isEqualTo(true);
        TestBrowser.check(page);

        page.fill("#plate", "QV 72");
        page.tap("text=Show it");
        page.waitForSelector("text=No plan asks for it");
        page.tap("text=Inspect it all the same");
        page.waitForSelector("h1:has-text('Inspect')");
        assertThat(page.evaluate("window.stillHere"))
                .as("nor for one that nothing asks for")
                .isEqualTo(true);
        page.context().close();
    }

    @Test
    void theCalendarIsAFileAndAPreviewCanBeLookedBehind() {
        var lived = business.live(mvc);
        var page = signIn(lived.fleet(), Role.MANAGER, 1440);
        visit(page, "/inspections");
        var file = page.waitForDownload(() -> page.click("text=Calendar file"));
        assertThat(file.suggestedFilename()).endsWith(".ics");
        visit(page, "/rule-sheets/previews/" + lived.preview());
        assertThat(page.textContent("main")).contains("would be stood down");
        page.locator("table.rows a").first().click();
        page.waitForLoadState();
        assertThat(page.textContent("#behind")).startsWith("From ");
        TestBrowser.check(page);
        page.context().close();
    }

    /** By touch on a phone, and by keys: each leg stands in the table by its length and hour. */
    @Test
    void aTechnicianDrawsTheLegsOfAStar() {
        var lived = business.live(mvc);
        var page = signIn(lived.fleet(), Role.TECHNICIAN, 360);
        visit(page, "/report?vehicle=" + lived.vehicle());
        page.check("input[name=kind][value=star-break]");
        var pane = page.locator(".legs-draw svg");
        pane.scrollIntoViewIfNeeded();
        var box = pane.boundingBox();
        // The pane is 80 mm wide: straight up by 20 mm, then to the right by 10 mm.
        page.touchscreen().tap(box.x + box.width / 2, box.y + box.height / 4);
        page.touchscreen().tap(box.x + box.width * 0.625, box.y + box.height / 2);
        assertThat(page.inputValue("input[name='legs[0].lengthMm']")).isEqualTo("20");
        assertThat(page.inputValue("input[name='legs[0].hour']")).isEqualTo("12");
        assertThat(page.inputValue("input[name='legs[1].lengthMm']")).isEqualTo("10");
        assertThat(page.inputValue("input[name='legs[1].hour']")).isEqualTo("3");
        pane.focus();
        page.keyboard().press("Shift+ArrowDown");
        page.keyboard().press("Enter");
        assertThat(page.inputValue("input[name='legs[2].lengthMm']")).isEqualTo("5");
        assertThat(page.inputValue("input[name='legs[2].hour']")).isEqualTo("6");
        page.keyboard().press("Backspace");
        assertThat(page.inputValue("input[name='legs[2].lengthMm']")).isEmpty();
        TestBrowser.check(page);
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
        page.fill("#diameterMm", "7");
        page.click("text=Send the report");
        assertThat(page.url()).as("said before it is sent, or kept for later").contains("/report");
        assertThat(page.textContent("#diameterMm-drawn")).matches("The line drawn is \\d+ mm across, you say 7\\. .*");
        check(page);
        page.fill("#diameterMm", "");
        assertThat(page.isVisible("#diameterMm-drawn")).isFalse();
        page.click("text=Send the report");
        assertThat(page.url()).as(() -> page.textContent("main")).endsWith("/answer");
        check(page);
        page.context().close();
    }

    /** Cracks with a course are judged in full, so that this takes longer than anybody waits for a page. */
    @Test
    void aManagerStopsAPreviewThatIsUnderWay() {
        var lived = business.live(mvc);
        sowCracks(lived);
        var page = signIn(lived.fleet(), Role.MANAGER, 1440);
        visit(page, "/rule-sheets/bs-au-242b-2022/preview");
        page.click("main form button.main");
        assertThat(page.textContent("main")).contains("Going through the windscreens");
        check(page);
        page.click("main .progress button");
        var told = page.textContent("main .notice");
        var matcher =
                Pattern.compile("Stopped after (\\d+) of (\\d+) windscreens").matcher(told);
        assertThat(matcher.find()).as(told).isTrue();
        assertThat(Integer.parseInt(matcher.group(1))).isLessThan(Integer.parseInt(matcher.group(2)));
        assertThat(page.querySelector("main .progress button")).isNull();
        check(page);
        var preview = UUID.fromString(page.url().substring(page.url().lastIndexOf('/') + 1));
        assertThat(as(lived.fleet(), Role.MANAGER, () -> previews.read(preview)).state())
                .isEqualTo(PreviewState.CANCELLED);
        page.context().close();
    }

    /** On as many vehicles as a large fleet has, ten on each glass. */
    private void sowCracks(TestBusiness.Lived lived) {
        var owner = JdbcClient.create(new DriverManagerDataSource(
                environment.getProperty("spring.datasource.url", ""), DatabaseRoles.OWNER, TestServer.PASSWORD));
        for (var statement : List.of("""
                insert into vehicle (tenant_id, id, depot_id, registration, registration_key, category, steering_side, version)
                select :fleet, md5(:fleet::text || 'vehicle' || n)::uuid, :depot, 'P' || n, 'P' || n, 'M1', 'RIGHT', 0
                from generate_series(1, 2400) n\
                """, """
                insert into windscreen (tenant_id, id, vehicle_id, pattern_id, pattern_number, made_at)
                select :fleet, md5(:fleet::text || 'glass' || n)::uuid, md5(:fleet::text || 'vehicle' || n)::uuid, w.pattern_id,
                       w.pattern_number, now()
                from generate_series(1, 2400) n,
                     (select pattern_id, pattern_number from windscreen where tenant_id = :fleet limit 1) w\
                """, """
                insert into damage (tenant_id, id, vehicle_id, windscreen_id, number, kind, state, occurred_at, arrived_at,
                                    reported_by, outcome, rank, act_by, diameter_mm, version)
                select :fleet, md5(:fleet::text || 'damage' || n)::uuid, md5(:fleet::text || 'vehicle' || (1 + n / 10))::uuid,
                       md5(:fleet::text || 'glass' || (1 + n / 10))::uuid, 1 + n % 10, 'CRACK', 'OPEN', now(), now(), 'somebody',
                       'WATCH', 4, current_date, 40, 0
                from generate_series(0, 23999) n\
                """, """
                insert into observation (tenant_id, id, damage_id, kind, x_mm, y_mm, diameter_mm,
                                         diameter_standard_uncertainty_mm, layers, condition, source, seen_at, arrived_at,
                                         seen_by, course)
                select :fleet, md5(:fleet::text || 'seen' || n)::uuid, md5(:fleet::text || 'damage' || n)::uuid, 'CRACK', x, y, 40, 0.3,
                       'OUTER', 'CLEAN_DRY', 'GAUGE', now(), now(), 'somebody',
                       array[x, y, x + 20, y + 5, x + 30, y + 20, x + 31, y + 25]
                from (select n, (n * 7919 % 1000 - 500)::numeric as x, (80 + n * 1049 % 500)::numeric as y
                      from generate_series(0, 23999) n) each\
                """, "analyze vehicle, windscreen, damage, observation")) {
            owner.sql(statement
                            .replace(":fleet", "'" + lived.fleet().id() + "'::uuid")
                            .replace(":depot", "'" + lived.depot() + "'::uuid"))
                    .update();
        }
    }
}

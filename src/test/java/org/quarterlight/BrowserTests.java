package org.quarterlight;

import static org.assertj.core.api.Assertions.assertThat;
import static org.quarterlight.TestBrowser.check;

import com.microsoft.playwright.Page;
import com.microsoft.playwright.options.ColorScheme;
import com.microsoft.playwright.options.FilePayload;
import java.util.List;
import java.util.UUID;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.quarterlight.fleet.Depots;
import org.quarterlight.fleet.Fleet;
import org.quarterlight.fleet.SaveDepot;
import org.quarterlight.fleet.SaveVehicle;
import org.quarterlight.glass.SteeringSide;
import org.quarterlight.glass.VehicleCategory;
import org.quarterlight.tenancy.Role;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.test.web.servlet.assertj.MockMvcTester;

/** In a real browser: a driver reports, the manager sees, decides and sends lists, on a phone and at a desk, free of axe's findings. */
@QuarterlightTest
class BrowserTests extends PagesInABrowser {
    @Autowired
    private TestBusiness business;

    @Autowired
    private MockMvcTester mvc;

    @Autowired
    private Depots depots;

    @Autowired
    private Fleet fleet;

    @ParameterizedTest(name = "{0} px")
    @ValueSource(ints = {360, 1440})
    void aDriverReportsAndTheManagerApproves(int width) {
        var own = organisations.fleet();
        var vehicle = vehicle(own);
        var page = signIn(own, Role.DRIVER, width);
        visit(page, "/report?vehicle=" + vehicle);
        page.fill("#xMm", "300");
        page.fill("#yMm", "500");
        page.check("input[name=kind][value=star-break]");
        page.fill("#diameterMm", "14");
        page.check("input[name=layers][value=outer]");
        page.click("text=Send the report");
        assertThat(page.url()).as(() -> page.textContent("main")).endsWith("/answer");
        check(page);
        assertThat(page.textContent("main")).contains("QV23 KTB", "Cover it with clear tape");

        var manager = signIn(own, Role.MANAGER, width);
        visit(manager, "/");
        visit(manager, "/damages?needs=decision");
        manager.click("main a.plate");
        check(manager);
        assertThat(manager.textContent("h1")).contains("Star break, 14 mm");
        goNearer(manager);
        manager.click("main button[name=work] >> nth=0");
        check(manager);
        assertThat(manager.textContent("main")).contains("Performed by");
        visit(page, "/damages?mine=true");
        page.click("main a.plate");
        assertThat(page.textContent("main")).contains("in hand");
        assertThat(page.locator("main a[href^='/jobs/']").count())
                .as("a driver sees no job")
                .isZero();
        page.context().close();
        visit(manager, "/vehicles");
        visit(manager, "/vehicles/" + vehicle);
        visit(manager, "/jobs?state=open");
        visit(manager, "/rule-sheets");
        visit(manager, "/depots");
        manager.context().close();
    }

    @ParameterizedTest(name = "{0} px")
    @ValueSource(ints = {360, 1440})
    void aManagerSendsAList(int width) {
        var own = organisations.fleet();
        vehicle(own);
        var page = signIn(own, Role.MANAGER, width);
        visit(page, "/vehicles/import");
        var list = """
            Fleet list of today;;
            Registration;Category;Depot
            QV21 AAA;M3;Millbeck Yard
            QV22 BBB;M9;Millbeck Yard
            """;
        page.setInputFiles(
                "#file",
                new FilePayload("list.csv", "text/csv", list.getBytes(java.nio.charset.StandardCharsets.UTF_8)));
        page.click("text=Look it over");
        check(page);
        assertThat(page.textContent("main")).contains("QV22 BBB");
        page.click("text=Take the good row");
        check(page);
        visit(page, "/vehicles?search=QV21");
        assertThat(page.textContent("main")).contains("QV21 AAA", "begins with QV21");
        page.click("a.chip");
        check(page);
        assertThat(page.textContent("main")).contains("QV23 KTB", "QV21 AAA");
        page.context().close();
    }

    @ParameterizedTest(name = "{0} px")
    @ValueSource(ints = {360, 1440})
    void inTheDarkEverythingCanStillBeRead(int width) {
        var lived = business.live(mvc);
        var manager = signIn(lived.fleet(), Role.MANAGER, width);
        manager.emulateMedia(new Page.EmulateMediaOptions().setColorScheme(ColorScheme.DARK));
        for (var path : List.of(
                "/",
                "/vehicles?damaged=true",
                "/vehicles/" + lived.vehicle(),
                "/damages/" + lived.openDamage(),
                "/damages?needs=decision",
                "/jobs/" + lived.job(),
                "/rule-sheets",
                "/report?vehicle=" + lived.vehicle())) {
            visit(manager, path);
        }
        manager.context().close();
        var dispatcher = signIn(lived.repairer(), Role.DISPATCHER, width);
        dispatcher.emulateMedia(new Page.EmulateMediaOptions().setColorScheme(ColorScheme.DARK));
        visit(dispatcher, "/days/" + lived.day());
        dispatcher.context().close();
    }

    private UUID vehicle(TestOrganisation own) {
        return TestOrganisations.as(own, Role.MANAGER, () -> {
            var depot = depots.create(new SaveDepot(
                    "Millbeck Yard",
                    null,
                    new java.math.BigDecimal("52.7"),
                    new java.math.BigDecimal("-1.4"),
                    "Europe/London",
                    "GB",
                    null,
                    null,
                    0,
                    null));
            return fleet.create(new SaveVehicle(
                            depot.id(),
                            "QV23 KTB",
                            null,
                            VehicleCategory.M3,
                            null,
                            SteeringSide.RIGHT,
                            "Coach",
                            null,
                            null))
                    .id();
        });
    }

    /** By keys alone, as with a switch or a screen reader. */
    private static void goNearer(Page page) {
        var drawing = page.locator("svg.whole[aria-keyshortcuts]:visible").first();
        var whole = drawing.getAttribute("viewBox");
        drawing.evaluate("svg => (svg.querySelector('a[data-damage]') ?? svg).focus()");
        page.keyboard().press("+");
        assertThat(drawing.getAttribute("viewBox")).isNotEqualTo(whole);
        page.keyboard().press("0");
        assertThat(drawing.getAttribute("viewBox")).isEqualTo(whole);
    }
}

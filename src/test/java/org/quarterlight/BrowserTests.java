package org.quarterlight;

import static org.assertj.core.api.Assertions.assertThat;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import com.deque.html.axecore.playwright.AxeBuilder;
import com.microsoft.playwright.Browser;
import com.microsoft.playwright.BrowserType;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.Playwright;
import com.microsoft.playwright.options.ColorScheme;
import com.microsoft.playwright.options.FilePayload;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
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
import org.springframework.boot.test.web.server.LocalServerPort;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.test.web.servlet.assertj.MockMvcTester;

/** In a real browser: a driver reports, the manager sees, decides and shares, on a phone and at a desk, free of axe's findings. */
@QuarterlightTest
class BrowserTests {
    private static @Nullable Playwright playwright;
    private static @Nullable Browser browser;

    @LocalServerPort
    private int port;

    @Autowired
    private TestOrganisations organisations;

    @Autowired
    private TestBusiness business;

    @Autowired
    private MockMvcTester mvc;

    @Autowired
    private Depots depots;

    @Autowired
    private Fleet fleet;

    @Autowired
    private JdbcClient jdbc;

    @BeforeAll
    static void openTheBrowser() {
        var chromium = Path.of(Objects.requireNonNullElse(System.getenv("CHROMIUM"), "/usr/bin/chromium"));
        var found = Files.isExecutable(chromium);
        if (System.getenv("CI") != null) {
            assertThat(found).as("a browser, which must not be missing here").isTrue();
        }
        assumeTrue(found, "no Chromium at " + chromium + ": name one in CHROMIUM");
        playwright = Playwright.create(
                new Playwright.CreateOptions().setEnv(Map.of("PLAYWRIGHT_SKIP_BROWSER_DOWNLOAD", "1")));
        browser = playwright
                .chromium()
                .launch(new BrowserType.LaunchOptions()
                        .setHeadless(true)
                        .setChromiumSandbox(false)
                        .setExecutablePath(chromium)
                        .setArgs(List.of("--disable-gpu", "--no-first-run", "--disable-background-networking")));
    }

    @AfterAll
    static void closeTheBrowser() {
        if (playwright != null) {
            playwright.close();
        }
    }

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
        page.context().close();

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
        visit(manager, "/vehicles");
        visit(manager, "/vehicles/" + vehicle);
        visit(manager, "/jobs?state=open");
        visit(manager, "/rule-sheets");
        visit(manager, "/depots");
        manager.context().close();
    }

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
        page.click("button[name=passed][value=true]");
        check(page);
        assertThat(page.textContent("main")).contains("It cannot be passed yet", "There is no cure in the record");
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

    private Page signIn(TestOrganisation own, Role role, int width) {
        var email = jdbc.sql("select email from person where id = :id")
                .param("id", own.person(role).person())
                .query(String.class)
                .single();
        var context = Objects.requireNonNull(browser)
                .newContext(new Browser.NewContextOptions()
                        .setViewportSize(width, 900)
                        .setIsMobile(width < 500)
                        .setHasTouch(width < 500)
                        .setLocale("en-GB"));
        var page = context.newPage();
        visit(page, "/sign-in");
        page.fill("#email", email);
        page.fill("#password", TestOrganisations.PASSWORD);
        page.click("main button");
        return page;
    }

    private void visit(Page page, String path) {
        var answer = page.navigate("http://localhost:" + port + path);
        assertThat(answer.status()).as(path).isEqualTo(200);
        check(page);
    }

    /** No page scrolls sideways, and an automatic accessibility check finds nothing. */
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

    private static void check(Page page) {
        page.waitForLoadState(com.microsoft.playwright.options.LoadState.NETWORKIDLE);
        assertThat(page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth"))
                .as(page.url() + " scrolls sideways")
                .isEqualTo(0);
        var findings = new AxeBuilder(page)
                .withTags(List.of("wcag2a", "wcag2aa", "wcag21aa", "wcag22aa"))
                .analyze()
                .getViolations();
        assertThat(findings.stream()
                        .map(finding -> finding.getId() + ": "
                                + finding.getNodes().getFirst().getHtml())
                        .toList())
                .as(page.url())
                .isEmpty();
    }
}

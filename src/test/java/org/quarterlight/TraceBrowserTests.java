package org.quarterlight;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import com.deque.html.axecore.playwright.AxeBuilder;
import com.microsoft.playwright.Browser;
import com.microsoft.playwright.BrowserType;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.Playwright;
import com.microsoft.playwright.options.FilePayload;
import com.microsoft.playwright.options.LoadState;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.quarterlight.fleet.GlassPatterns;
import org.quarterlight.fleet.PatternView;
import org.quarterlight.fleet.TestFleets;
import org.quarterlight.tenancy.Role;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.web.server.LocalServerPort;
import org.springframework.jdbc.core.simple.JdbcClient;

/** In a real browser: an outline is traced over a picture, by mouse and by keys, on a phone and at a desk. */
@QuarterlightTest
class TraceBrowserTests {
    private static @Nullable Playwright playwright;
    private static @Nullable Browser browser;

    @LocalServerPort
    private int port;

    @Autowired
    private TestOrganisations organisations;

    @Autowired
    private TestFleets fleets;

    @Autowired
    private GlassPatterns patterns;

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
    void anOutlineIsTracedByMouseAndByKeys(int width) {
        var own = organisations.fleet();
        fleets.depot(own, "Millbeck Yard");
        var like = TestOrganisations.as(own, Role.MANAGER, () -> patterns.all()).stream()
                .filter(each -> each.name().startsWith("Coach"))
                .findFirst()
                .orElseThrow();
        var page = signIn(own, width);
        visit(page, "/glass-patterns/" + like.id());
        visit(page, "/glass-patterns/" + like.id() + "/trace-new");
        page.setInputFiles("#photo", new FilePayload("glass.jpg", "image/jpeg", TestBusiness.pictureBytes()));
        page.click("text=Trace over it");
        check(page);
        // A picture of 320 by 240 points; the marks stand a tenth inside it.
        page.fill("#name", "Traced");
        page.fill("#acrossMm", "2048");
        page.fill("#upMm", "960");
        page.fill("#corners", "-1024 0\n1024 0\n1024 960\n-1024 960");
        page.locator("#corners").blur();
        var marks = page.locator("[data-mark]");
        assertThat(marks.count()).isEqualTo(8);

        drag(page, "2", 0, 0.05);
        assertThat(corner(page, 2)[1])
                .as("a twentieth of the picture is a sixteenth of the length")
                .isCloseTo(960 - 60, within(8.0));
        assertThat(corner(page, 2)[0]).isCloseTo(1024, within(8.0));
        assertThat(corner(page, 0)).as("the others stay").containsExactly(-1024, 0);

        var before = corner(page, 3)[1];
        page.locator("[data-mark='3']").focus();
        page.keyboard().press("ArrowDown");
        assertThat(corner(page, 3)[1]).isCloseTo(before - 1, within(0.11));
        page.keyboard().press("Shift+ArrowDown");
        assertThat(corner(page, 3)[1]).isCloseTo(before - 11, within(0.11));
        page.keyboard().press("Enter");
        assertThat(marks.count()).isEqualTo(9);
        page.keyboard().press("Delete");
        assertThat(marks.count()).isEqualTo(8);
        var named = page.locator("[data-mark='3']").getAttribute("aria-label");
        assertThat(named).startsWith("Corner 4, ").contains("mm up");

        page.locator("[data-mark='acrossTo']").focus();
        page.keyboard().press("Shift+ArrowLeft");
        assertThat(corner(page, 2)[0])
                .as("a shorter line of the same length makes the glass larger")
                .isGreaterThan(1024);
        check(page);

        page.click("text=Draw it anew");
        check(page);
        assertThat(page.inputValue("#corners").lines()).hasSize(4);
        var traced = corner(page, 2);
        page.click("text=Make the pattern");
        check(page);
        assertThat(page.textContent("main")).contains("traced, 4 corners");
        PatternView made = TestOrganisations.as(own, Role.MANAGER, () -> patterns.all()).stream()
                .filter(each -> each.name().equals("Traced"))
                .findFirst()
                .orElseThrow();
        var kept =
                Objects.requireNonNull(made.measurements().outline()).corners().get(2);
        assertThat(kept.xMm()).isCloseTo(traced[0], within(0.2));
        assertThat(kept.yMm()).isCloseTo(traced[1], within(0.2));
        visit(page, "/glass-patterns/" + made.id() + "/trace");
        assertThat(page.locator("[data-mark]").count()).isEqualTo(8);
        page.context().close();
    }

    @ParameterizedTest(name = "{0} px")
    @ValueSource(ints = {360, 1440})
    void theFormOfASheetShowsTheNumbersOfEachConstruction(int width) {
        var page = signIn(organisations.fleet(), width);
        visit(page, "/rule-sheets/bs-au-242b-2022/edit");
        assertThat(page.locator("#wayWidth-0").isVisible()).isTrue();
        assertThat(page.locator("#wayHeight-0").isVisible()).isFalse();
        var drawing = page.locator("#drawing svg").first().innerHTML();
        page.selectOption("#wayConstruction-1", "rectangle");
        assertThat(page.locator("#wayHeight-1").isVisible()).isTrue();
        assertThat(page.locator("#wayCentre-1").isVisible()).isFalse();
        page.fill("#wayHeight-1", "150");
        page.locator("#wayHeight-1").blur();
        page.waitForFunction("before => document.querySelector('#drawing svg')?.innerHTML !== before", drawing);
        page.click("text=Add a zone");
        check(page);
        assertThat(page.textContent("main")).contains("Zone 3: Zone 1");
        page.context().close();
    }

    /** From where a mark is, by shares of the picture. */
    private static void drag(Page page, String mark, double right, double down) {
        var picture = page.locator("[data-trace-picture]");
        picture.scrollIntoViewIfNeeded();
        page.locator("[data-mark='" + mark + "'] .dot").scrollIntoViewIfNeeded();
        var box = picture.boundingBox();
        var at = page.locator("[data-mark='" + mark + "'] .dot").boundingBox();
        var x = at.x + at.width / 2;
        var y = at.y + at.height / 2;
        page.mouse().move(x, y);
        page.mouse().down();
        page.mouse().move(x + right * box.width / 2, y + down * box.height / 2);
        page.mouse().move(x + right * box.width, y + down * box.height);
        page.mouse().up();
    }

    private static double[] corner(Page page, int number) {
        var words = page.inputValue("#corners").lines().toList().get(number).split(" ");
        return new double[] {Double.parseDouble(words[0]), Double.parseDouble(words[1])};
    }

    private Page signIn(TestOrganisation own, int width) {
        var email = jdbc.sql("select email from person where id = :id")
                .param("id", own.person(Role.MANAGER).person())
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
    private static void check(Page page) {
        page.waitForLoadState(LoadState.NETWORKIDLE);
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

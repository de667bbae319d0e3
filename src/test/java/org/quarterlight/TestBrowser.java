package org.quarterlight;

import static org.assertj.core.api.Assertions.assertThat;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import com.deque.html.axecore.playwright.AxeBuilder;
import com.microsoft.playwright.Browser;
import com.microsoft.playwright.BrowserType;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.Playwright;
import com.microsoft.playwright.options.LoadState;
import com.microsoft.playwright.options.WaitForSelectorState;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Objects;

/** A Chromium found on the machine, for the pages of one test class, and what each page has to pass. */
public final class TestBrowser implements AutoCloseable {
    private static final List<String> FLAGS =
            List.of("--disable-gpu", "--no-first-run", "--disable-background-networking");

    private final Playwright playwright;
    private final Browser browser;

    private TestBrowser(Playwright playwright, Browser browser) {
        this.playwright = playwright;
        this.browser = browser;
    }

    /** Skips the tests where there is no Chromium, but fails them where {@code CI} says that there must be one. */
    public static TestBrowser open() {
        var chromium = chromium();
        var playwright = Playwright.create(
                new Playwright.CreateOptions().setEnv(Map.of("PLAYWRIGHT_SKIP_BROWSER_DOWNLOAD", "1")));
        return new TestBrowser(
                playwright,
                playwright
                        .chromium()
                        .launch(new BrowserType.LaunchOptions()
                                .setHeadless(true)
                                .setChromiumSandbox(false)
                                .setExecutablePath(chromium)
                                .setArgs(FLAGS)));
    }

    private static Path chromium() {
        var chromium = Path.of(Objects.requireNonNullElse(System.getenv("CHROMIUM"), "/usr/bin/chromium"));
        var found = Files.isExecutable(chromium);
        if (System.getenv("CI") != null) {
            assertThat(found).as("a browser, which must not be missing here").isTrue();
        }
        assumeTrue(found, "no Chromium at " + chromium + ": name one in CHROMIUM");
        return chromium;
    }

    public Browser browser() {
        return browser;
    }

    /** A page with a session of its own, as on a phone where it is narrow. */
    public Page page(int width) {
        return browser.newContext(new Browser.NewContextOptions()
                        .setViewportSize(width, 900)
                        .setIsMobile(width < 500)
                        .setHasTouch(width < 500)
                        .setLocale("en-GB"))
                .newPage();
    }

    /** No page scrolls sideways, and an automatic accessibility check finds nothing. */
    public static void check(Page page) {
        page.waitForLoadState(LoadState.LOAD);
        page.waitForSelector(
                ".htmx-request", new Page.WaitForSelectorOptions().setState(WaitForSelectorState.DETACHED));
        assertThat(page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth"))
                .as(page.url() + " scrolls sideways")
                .isEqualTo(0);
        var findings = new AxeBuilder(page)
                .withTags(List.of("wcag2a", "wcag2aa", "wcag21aa", "wcag22aa"))
                // Pages have no frames, so nothing has to be gathered in a page of its own each time.
                .setLegacyMode(true)
                .analyze()
                .getViolations();
        assertThat(findings.stream()
                        .map(finding -> finding.getId() + ": "
                                + finding.getNodes().getFirst().getHtml())
                        .toList())
                .as(page.url())
                .isEmpty();
    }

    @Override
    public void close() {
        playwright.close();
    }
}

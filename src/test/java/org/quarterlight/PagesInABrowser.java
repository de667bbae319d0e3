package org.quarterlight;

import static org.assertj.core.api.Assertions.assertThat;

import com.microsoft.playwright.Page;
import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.quarterlight.tenancy.Role;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.web.server.LocalServerPort;

/** What tests of pages in a real browser have in common: one browser for a class, people who sign in, and what each page passes. */
abstract class PagesInABrowser {
    private static @Nullable TestBrowser browser;

    @LocalServerPort
    private int port;

    @Autowired
    TestOrganisations organisations;

    @BeforeAll
    static void openTheBrowser() {
        browser = TestBrowser.open();
    }

    @AfterAll
    static void closeTheBrowser() {
        if (browser != null) {
            browser.close();
        }
    }

    /** The page that somebody of this role sees after signing in, with a session of its own. */
    final Page signIn(TestOrganisation own, Role role, int width) {
        var page = Objects.requireNonNull(browser).page(width);
        visit(page, "/sign-in");
        page.fill("#email", organisations.email(own, role));
        page.fill("#password", TestOrganisations.PASSWORD);
        page.click("main button");
        return page;
    }

    final void visit(Page page, String path) {
        var answer = page.navigate(at(path));
        assertThat(answer.status()).as(path).isEqualTo(200);
        TestBrowser.check(page);
    }

    final String at(String path) {
        return "http://localhost:" + port + path;
    }
}

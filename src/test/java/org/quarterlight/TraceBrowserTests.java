package org.quarterlight;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.quarterlight.TestBrowser.check;

import com.microsoft.playwright.Page;
import com.microsoft.playwright.options.FilePayload;
import java.util.List;
import java.util.Objects;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.quarterlight.fleet.GlassPatterns;
import org.quarterlight.fleet.PatternView;
import org.quarterlight.fleet.TestFleets;
import org.quarterlight.tenancy.Role;
import org.springframework.beans.factory.annotation.Autowired;

/** In a real browser: an outline is traced over a picture, by mouse and by keys, on a phone and at a desk. */
@QuarterlightTest
class TraceBrowserTests extends PagesInABrowser {
    @Autowired
    private TestFleets fleets;

    @Autowired
    private GlassPatterns patterns;

    @ParameterizedTest(name = "{0} px")
    @ValueSource(ints = {360, 1440})
    void anOutlineIsTracedByMouseAndByKeys(int width) {
        var own = organisations.fleet();
        fleets.depot(own, "Millbeck Yard");
        var like = TestOrganisations.as(own, Role.MANAGER, () -> patterns.all()).stream()
                .filter(each -> each.name().startsWith("Coach"))
                .findFirst()
                .orElseThrow();
        var page = signIn(own, Role.MANAGER, width);
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
        for (var each : List.of("rake", "wheel", "eye", "edge-band", "wipers")) {
            page.check("input[name=assumed][value=" + each + "]");
        }
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
        var page = signIn(organisations.fleet(), Role.MANAGER, width);
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
}

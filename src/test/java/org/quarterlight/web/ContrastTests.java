package org.quarterlight.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Objects;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Contrast of the tokens, computed from the stylesheet. Formula: relative luminance and contrast ratio of WCAG 2.2,
 * https://www.w3.org/TR/WCAG22/#dfn-relative-luminance; text needs 4.5 (1.4.3), control borders and marks 3 (1.4.11).
 */
class ContrastTests {
    private static final String LIGHT = ":root, [data-look=\"light\"]";
    private static final String DARK = "[data-look=\"dark\"]";
    private static final String DARK_DEVICE = ":root:not([data-look])";
    private static final String OUTDOOR = "[data-look=\"outdoor\"]";
    private static final String PRINT = "[data-look=\"print\"]";
    private static final String PRINTED = ":root, :root[data-look], [data-look]";
    private static final double TEXT = 4.5;
    private static final double SHAPE = 3;

    private final String css = css();

    @ParameterizedTest
    @CsvSource({
        "ink, 14.7, 16.1, 13.4",
        "ink-2, 7.0, 7.7, 6.4",
        "edge, 3.8, 4.2, 3.5",
        "act, 7.1, 7.8, 6.5",
        "repair, 5.8, 6.3, 5.3",
        "watch, 5.6, 6.1, 5.1",
        "measure, 6.8, 7.4, 6.2",
        "replace, 5.9, 6.5, 5.4",
        "stand, 10.0, 11.0, 9.1",
        "glass-edge, 8.8, 9.6, 8.0",
        "hatch, 4.1, 4.5, 3.8",
    })
    void keepsThePromisedContrastInLight(String token, double onPage, double onSheet, double onGlass) {
        promised(tokens(LIGHT), token, onPage, onSheet, onGlass);
    }

    @ParameterizedTest
    @CsvSource({
        "ink, 15.4, 14.1, 12.1",
        "ink-2, 8.5, 7.7, 6.6",
        "edge, 4.5, 4.1, 3.5",
        "act, 9.2, 8.4, 7.2",
        "repair, 9.3, 8.5, 7.2",
        "watch, 9.3, 8.5, 7.3",
        "measure, 8.8, 8.0, 6.9",
        "replace, 7.8, 7.1, 6.1",
        "stand, 7.0, 6.4, 5.5",
        "glass-edge, 10.0, 9.2, 7.8",
        "hatch, 5.3, 4.8, 4.1",
    })
    void keepsThePromisedContrastInDark(String token, double onPage, double onSheet, double onGlass) {
        promised(tokens(DARK), token, onPage, onSheet, onGlass);
    }

    @ParameterizedTest
    @CsvSource({
        "ink, 21.0",
        "ink-2, 21.0",
        "line, 21.0",
        "edge, 21.0",
        "act, 21.0",
        "watch, 21.0",
        "repair, 11.1",
        "go, 11.1",
        "replace, 10.4",
        "stand, 14.5",
        "measure, 12.9",
    })
    void keepsThePromisedContrastInTheSun(String token, double onWhite) {
        var tokens = tokens(OUTDOOR);
        for (var ground : new String[] {"page", "sheet", "glass"}) {
            assertThat(contrast(tokens, token, ground)).isEqualTo(onWhite, within(0.1));
        }
    }

    @ParameterizedTest
    @CsvSource({"ink", "ink-2", "act", "repair", "watch", "measure", "replace", "stand"})
    void keepsTextReadableOnAChosenRow(String token) {
        assertThat(contrast(tokens(LIGHT), token, "wash")).isGreaterThanOrEqualTo(4.7);
        assertThat(contrast(tokens(DARK), token, "wash")).isGreaterThanOrEqualTo(4.7);
        assertThat(contrast(tokens(OUTDOOR), token, "wash")).isGreaterThanOrEqualTo(TEXT);
    }

    @Test
    void keepsBordersVisibleOnAChosenRow() {
        assertThat(contrast(tokens(LIGHT), "edge", "wash")).isGreaterThanOrEqualTo(SHAPE);
        assertThat(contrast(tokens(DARK), "edge", "wash")).isGreaterThanOrEqualTo(SHAPE);
    }

    @Test
    void keepsUnitsReadableInTheirBox() {
        assertThat(contrast(tokens(LIGHT), "ink-2", "sunk")).isGreaterThanOrEqualTo(TEXT);
        assertThat(contrast(tokens(DARK), "ink-2", "sunk")).isGreaterThanOrEqualTo(TEXT);
    }

    @Test
    void keepsFilledButtonsAndPlatesReadable() {
        assertThat(contrast(tokens(LIGHT), "on-act", "act")).isEqualTo(8.0, within(0.1));
        assertThat(contrast(tokens(DARK), "on-act", "act")).isEqualTo(9.5, within(0.1));
        assertThat(contrast(tokens(LIGHT), "on-act", "act-down")).isGreaterThanOrEqualTo(TEXT);
        assertThat(contrast(tokens(DARK), "on-act", "act-down")).isGreaterThanOrEqualTo(TEXT);
        assertThat(contrast(tokens(LIGHT), "on-stand", "stand-plate")).isEqualTo(11.3, within(0.1));
        assertThat(contrast(tokens(DARK), "on-stand", "stand-plate")).isEqualTo(11.3, within(0.1));
        assertThat(contrast(tokens(OUTDOOR), "on-stand", "stand-plate")).isGreaterThanOrEqualTo(TEXT);
        assertThat(contrast(tokens(OUTDOOR), "on-act", "act")).isEqualTo(21.0, within(0.1));
        assertThat(contrast(tokens(OUTDOOR), "on-go", "go")).isEqualTo(11.1, within(0.1));
        assertThat(contrast(tokens(OUTDOOR), "on-wait", "wait")).isEqualTo(15.2, within(0.1));
    }

    @Test
    void isTheSameForADeviceInTheDarkAndForAPageThatAsksForDark() {
        assertThat(tokens(DARK_DEVICE)).isEqualTo(tokens(DARK));
    }

    @Test
    void isTheSameOnPaperAndOnAPageThatAsksForPaper() {
        assertThat(tokens(PRINTED)).isEqualTo(tokens(PRINT));
    }

    @Test
    void givesEveryLookEveryColour() {
        var names = tokens(LIGHT).keySet();
        assertThat(tokens(DARK).keySet()).isEqualTo(names);
        assertThat(tokens(OUTDOOR).keySet()).containsAll(names);
        assertThat(tokens(PRINT).keySet()).isEqualTo(names);
    }

    @Test
    void computesTheExtremesOfTheFormula() {
        // WCAG 2.2: black on white is 21 to 1, a colour on itself 1 to 1
        assertThat(contrast(0x000000, 0xFFFFFF)).isEqualTo(21.0, within(1e-9));
        assertThat(contrast(0x777777, 0x777777)).isEqualTo(1.0, within(1e-9));
    }

    private static void promised(
            Map<String, Integer> tokens, String token, double onPage, double onSheet, double onGlass) {
        assertThat(contrast(tokens, token, "page")).isEqualTo(onPage, within(0.1));
        assertThat(contrast(tokens, token, "sheet")).isEqualTo(onSheet, within(0.1));
        assertThat(contrast(tokens, token, "glass")).isEqualTo(onGlass, within(0.1));
        var needed = token.equals("edge") || token.equals("hatch") ? SHAPE : TEXT;
        for (var ground : new String[] {"page", "sheet", "glass"}) {
            assertThat(contrast(tokens, token, ground)).isGreaterThanOrEqualTo(needed);
        }
    }

    /** The colours a selector sets, from all of its blocks. */
    private Map<String, Integer> tokens(String selector) {
        var blocks = Pattern.compile("(?m)^ *" + Pattern.quote(selector) + " \\{([^}]*)}")
                .matcher(css);
        var tokens = new LinkedHashMap<String, Integer>();
        while (blocks.find()) {
            var colours = Pattern.compile("--([a-z0-9-]+): #([0-9A-F]{6});").matcher(blocks.group(1));
            while (colours.find()) {
                tokens.put(colours.group(1), Integer.parseInt(colours.group(2), 16));
            }
        }
        assertThat(tokens).as("colours of %s", selector).isNotEmpty();
        return tokens;
    }

    private static double contrast(Map<String, Integer> tokens, String token, String ground) {
        return contrast(
                Objects.requireNonNull(tokens.get(token), token), Objects.requireNonNull(tokens.get(ground), ground));
    }

    private static double contrast(int one, int other) {
        var lighter = Math.max(luminance(one), luminance(other));
        var darker = Math.min(luminance(one), luminance(other));
        return (lighter + 0.05) / (darker + 0.05);
    }

    private static double luminance(int rgb) {
        return 0.2126 * linear(rgb >> 16 & 0xFF) + 0.7152 * linear(rgb >> 8 & 0xFF) + 0.0722 * linear(rgb & 0xFF);
    }

    private static double linear(int channel) {
        var share = channel / 255.0;
        return share <= 0.04045 ? share / 12.92 : Math.pow((share + 0.055) / 1.055, 2.4);
    }

    private static String css() {
        try (var file = ContrastTests.class.getResourceAsStream("/static/css/quarterlight.css")) {
            return new String(Objects.requireNonNull(file).readAllBytes(), StandardCharsets.UTF_8);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}

package org.quarterlight.proof;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.StandardCharsets;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** The library beside the examples that RFC 8785 publishes. */
class CanonicalJsonTests {
    /** RFC 8785, section 3.2.2 and its result in 3.2.3. */
    @Test
    void theExampleOfTheStandard() {
        assertThat(canonical("""
            {
              "numbers": [333333333.33333329, 1E30, 4.50, 2e-3, 0.000000000000000000000000001],
              "string": "\\u20ac$\\u000F\\u000aA'\\u0042\\u0022\\u005c\\\\\\"\\/",
              "literals": [null, true, false]
            }""")).isEqualTo("""
            {"literals":[null,true,false],\
            "numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],\
            "string":"€$\\u000f\\nA'B\\"\\\\\\\\\\"/"}""");
    }

    /** RFC 8785, section 3.2.3: members by UTF-16 code units, so the emoji comes before U+FB33. */
    @Test
    void membersAreSortedByCodeUnits() {
        assertThat(canonical("""
            {"\\u20ac": "Euro Sign", "\\r": "Carriage Return", "\\ufb33": "Hebrew Letter Dalet With Dagesh", "1": "One",
             "\\ud83d\\ude00": "Emoji: Grinning Face", "\\u0080": "Control", "\\u00f6": "Latin Small Letter O With Diaeresis"}"""))
                .containsSubsequence("Carriage", "One", "Control", "Latin", "Euro", "Emoji", "Hebrew");
    }

    /** RFC 8785, appendix B. */
    @ParameterizedTest
    @CsvSource({
        "-0, 0",
        "5e-324, 5e-324",
        "1.7976931348623157e308, 1.7976931348623157e+308",
        "9007199254740992, 9007199254740992",
        "295147905179352830000, 295147905179352830000",
        "9.999999999999997e22, 9.999999999999997e+22",
        "1e21, 1e+21",
        "0.000001, 0.000001",
        "333333333.33333334, 333333333.3333333",
        "-0.0000033333333333333333, -0.0000033333333333333333"
    })
    void numbersAreWrittenAsShortAsTheyCanBe(String number, String written) {
        assertThat(canonical("[" + number + "]")).isEqualTo("[" + written + "]");
    }

    private static String canonical(String json) {
        return new String(CanonicalJson.of(json), StandardCharsets.UTF_8);
    }
}

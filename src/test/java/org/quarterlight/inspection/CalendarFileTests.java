package org.quarterlight.inspection;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.time.LocalDate;
import java.util.Arrays;
import org.junit.jupiter.api.Test;

/** Against the rules of RFC 5545: content lines (section 3.1), TEXT (3.3.11), VALUE=DATE (3.3.4), components (3.6). */
class CalendarFileTests {
    private static final Instant MADE = Instant.parse("2026-11-25T19:10:05.250Z");

    /** Section 3.3.11: backslash, semicolon, comma and line break are escaped, the colon is not. */
    @Test
    void escapesTextAsSection3311Says() {
        assertThat(CalendarFile.escaped("a;b,c\\d\ne: f\r\ng")).isEqualTo("a\\;b\\,c\\\\d\\ne: f\\ng");
    }

    @Test
    void foldsLinesAt75OctetsAndNeverWithinACharacter() {
        var long1 = "é".repeat(100) + "🚌".repeat(40) + ", end";
        var file = new CalendarFile(long1, MADE);
        file.day("1@quarterlight", 3, LocalDate.parse("2026-12-31"), long1, long1, long1, "https://glass.example/x");
        var text = file.text();

        assertThat(text).endsWith("END:VCALENDAR\r\n").doesNotContain("\uFFFD");
        assertThat(text.replace("\r\n", "")).doesNotContain("\n", "\r");
        assertThat(Arrays.stream(text.split("\r\n")))
                .allMatch(line -> line.getBytes(StandardCharsets.UTF_8).length <= 75)
                .anyMatch(line -> line.getBytes(StandardCharsets.UTF_8).length > 70);
        // Section 3.1: unfolding takes out the line break and the one blank behind it.
        assertThat(text.replace("\r\n ", "")).contains("SUMMARY:" + "é".repeat(100) + "🚌".repeat(40) + "\\, end\r\n");
    }

    /** Sections 3.6.1, 3.8.2.2 and 3.8.7.2: UID and DTSTAMP are there once, DTEND of whole days is the day after. */
    @Test
    void anEventOfADayEndsWhereTheNextBegins() {
        var file = new CalendarFile("Yard", MADE);
        file.day(
                "1@quarterlight",
                3,
                LocalDate.parse("2026-12-31"),
                "Inspect",
                "North",
                "Due",
                "https://glass.example/x");

        assertThat(file.text().lines())
                .startsWith("BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//Quarterlight//Inspections//EN")
                .containsOnlyOnce("UID:1@quarterlight", "DTSTAMP:20261125T191005Z", "SEQUENCE:3")
                .containsSubsequence(
                        "BEGIN:VEVENT",
                        "DTSTART;VALUE=DATE:20261231",
                        "DTEND;VALUE=DATE:20270101",
                        "END:VEVENT",
                        "END:VCALENDAR");
    }
}

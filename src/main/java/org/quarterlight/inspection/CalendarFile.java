package org.quarterlight.inspection;

import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;

/** A calendar of whole days as RFC 5545 has it: lines end in CRLF and are folded at 75 octets, text is escaped. */
final class CalendarFile {
    private static final int OCTETS_IN_A_LINE = 75;
    private static final DateTimeFormatter DAY = DateTimeFormatter.BASIC_ISO_DATE;
    private static final DateTimeFormatter MOMENT =
            DateTimeFormatter.ofPattern("yyyyMMdd'T'HHmmss'Z'").withZone(ZoneOffset.UTC);

    private final StringBuilder text = new StringBuilder();
    private final Instant made;

    CalendarFile(String name, Instant made) {
        this.made = made;
        line("BEGIN", "VCALENDAR");
        line("VERSION", "2.0");
        line("PRODID", "-//Quarterlight//Inspections//EN");
        line("CALSCALE", "GREGORIAN");
        line("METHOD", "PUBLISH");
        line("X-WR-CALNAME", escaped(name));
    }

    /**
     * Something that takes a day.
     *
     * @param uid the same for the same thing, so that a calendar moves it instead of showing it twice
     */
    void day(String uid, int sequence, LocalDate on, String summary, String location, String description, String url) {
        line("BEGIN", "VEVENT");
        line("UID", uid);
        line("DTSTAMP", MOMENT.format(made));
        line("SEQUENCE", Integer.toString(sequence));
        line("DTSTART;VALUE=DATE", DAY.format(on));
        line("DTEND;VALUE=DATE", DAY.format(on.plusDays(1)));
        line("SUMMARY", escaped(summary));
        line("LOCATION", escaped(location));
        line("DESCRIPTION", escaped(description));
        line("URL", url);
        line("TRANSP", "TRANSPARENT");
        line("END", "VEVENT");
    }

    String text() {
        return text + "END:VCALENDAR\r\n";
    }

    /** RFC 5545, section 3.3.11. */
    static String escaped(String plain) {
        return plain.replace("\\", "\\\\")
                .replace(";", "\\;")
                .replace(",", "\\,")
                .replace("\r\n", "\\n")
                .replace('\r', '\n')
                .replace("\n", "\\n");
    }

    /** RFC 5545, section 3.1: never more than 75 octets without the line break, and never within a character. */
    private void line(String name, String value) {
        var octets = 0;
        var whole = name + ":" + value;
        for (int i = 0; i < whole.length(); ) {
            var character = whole.codePointAt(i);
            var size = Character.toString(character).getBytes(StandardCharsets.UTF_8).length;
            if (octets + size > OCTETS_IN_A_LINE) {
                text.append("\r\n ");
                octets = 1;
            }
            text.appendCodePoint(character);
            octets += size;
            i += Character.charCount(character);
        }
        text.append("\r\n");
    }
}

package org.quarterlight.fleet.list;

import java.time.DateTimeException;
import java.time.LocalDate;
import java.util.List;
import java.util.Set;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;

/** Dates as people write them: 2024-04-03, 3.4.2024, 03/04/2024, 3-Apr-24. */
final class DateText {
    private static final Pattern TIME_OF_DAY = Pattern.compile("[T ]+\\d{1,2}:\\d{2}.*$");
    private static final Pattern YEAR_FIRST = Pattern.compile("(\\d{4})[-/.](\\d{1,2})[-/.](\\d{1,2})");
    private static final Pattern YEAR_LAST = Pattern.compile("(\\d{1,2})([./-])\\s?(\\d{1,2})\\2\\s?(\\d{4}|\\d{2})");

    private static final Pattern DAY_NAMED_MONTH =
            Pattern.compile("(\\d{1,2})[.\\-/ ]+(?:de )?(\\p{L}{3,10})[.\\-/ ]+(?:de )?(\\d{4}|\\d{2})");
    private static final Pattern NAMED_MONTH_DAY = Pattern.compile("(\\p{L}{3,10})[. ]+(\\d{1,2}),? +(\\d{4})");
    private static final Pattern DAY_NUMBER = Pattern.compile("[2-7]\\d{4}(?:[.,]\\d+)?");

    /** Beginnings and short forms, of which none is another month's in English, German or Spanish. */
    private static final List<Set<String>> MONTHS = List.of(
            Set.of("jan", "ene"),
            Set.of("feb"),
            Set.of("mar", "mrz"),
            Set.of("apr", "abr"),
            Set.of("may", "mai"),
            Set.of("jun"),
            Set.of("jul"),
            Set.of("aug", "ago"),
            Set.of("sep", "set"),
            Set.of("oct", "okt"),
            Set.of("nov"),
            Set.of("dec", "dez", "dic"));

    private DateText() {}

    /** What the dates of a column say about their order. */
    static final class Evidence {
        private boolean dayFirst;
        private boolean monthFirst;
        private boolean ambiguous;

        void note(String text) {
            var date = YEAR_LAST.matcher(withoutTime(text));
            if (!date.matches() || ".".equals(date.group(2))) {
                return;
            }
            var first = Integer.parseInt(date.group(1));
            var second = Integer.parseInt(date.group(3));
            dayFirst |= first > 12 && second <= 12;
            monthFirst |= second > 12 && first <= 12;
            ambiguous |= first <= 12 && second <= 12 && first != second;
        }

        /** Whether the order matters to this column at all. */
        boolean ordered() {
            return dayFirst || monthFirst || ambiguous;
        }

        boolean contradicts() {
            return dayFirst && monthFirst;
        }

        @Nullable
        DateOrder decided() {
            if (dayFirst == monthFirst) {
                return null;
            }
            return dayFirst ? DateOrder.DAY_FIRST : DateOrder.MONTH_FIRST;
        }
    }

    /** Reads a date; without an order, one that may be read both ways is wrong. */
    static Parsed<LocalDate> parse(String text, @Nullable DateOrder order, LocalDate today) {
        var trimmed = withoutTime(text);
        var iso = YEAR_FIRST.matcher(trimmed);
        if (iso.matches()) {
            return date(text, number(iso.group(1)), number(iso.group(2)), number(iso.group(3)), today);
        }
        var local = YEAR_LAST.matcher(trimmed);
        if (!local.matches()) {
            var named = named(text, trimmed, today);
            if (named != null) {
                return named;
            }
            if (DAY_NUMBER.matcher(trimmed).matches()) {
                return new Parsed.Wrong<>("says " + Parsed.quoted(text)
                        + ", which is not a date but perhaps a spreadsheet's number of a day; format its cell"
                        + " as a date");
            }
            return new Parsed.Wrong<>("says " + Parsed.quoted(text)
                    + ", which is not a date such as 2024-04-30, 30.04.2024 or 30/04/2024");
        }
        var first = number(local.group(1));
        var second = number(local.group(3));
        var year = fullYear(local.group(4), today);
        if (".".equals(local.group(2)) || first > 12 || first == second) {
            return date(text, year, second, first, today);
        }
        if (second > 12) {
            return date(text, year, first, second, today);
        }
        if (order == null) {
            return new Parsed.Wrong<>("says " + Parsed.quoted(text)
                    + ", which may be read in two ways; other dates of the column have the day first, and some"
                    + " the month");
        }
        return order == DateOrder.DAY_FIRST
                ? date(text, year, second, first, today)
                : date(text, year, first, second, today);
    }

    private static @Nullable Parsed<LocalDate> named(String text, String trimmed, LocalDate today) {
        var dayFirst = DAY_NAMED_MONTH.matcher(trimmed);
        if (dayFirst.matches()) {
            var month = month(dayFirst.group(2));
            return month == 0
                    ? null
                    : date(text, fullYear(dayFirst.group(3), today), month, number(dayFirst.group(1)), today);
        }
        var monthFirst = NAMED_MONTH_DAY.matcher(trimmed);
        var month = monthFirst.matches() ? month(monthFirst.group(1)) : 0;
        return month == 0 ? null : date(text, number(monthFirst.group(3)), month, number(monthFirst.group(2)), today);
    }

    /** From 1; 0 where the word is no month. */
    private static int month(String word) {
        var squashed = Headings.squashed(word);
        var start = squashed.substring(0, Math.min(3, squashed.length()));
        for (var i = 0; i < MONTHS.size(); i++) {
            if (MONTHS.get(i).contains(start)) {
                return i + 1;
            }
        }
        return 0;
    }

    private static String withoutTime(String text) {
        return text.length() <= 10 ? text : TIME_OF_DAY.matcher(text).replaceFirst("");
    }

    private static Parsed<LocalDate> date(String text, int year, int month, int day, LocalDate today) {
        try {
            var date = LocalDate.of(year, month, day);
            if (date.isAfter(today)) {
                return new Parsed.Wrong<>("says " + Parsed.quoted(text) + ", which is still to come");
            }
            return year < 1900
                    ? new Parsed.Wrong<>("says " + Parsed.quoted(text) + ", which is before 1900")
                    : new Parsed.Value<>(date);
        } catch (DateTimeException noSuchDay) {
            return new Parsed.Wrong<>("says " + Parsed.quoted(text) + "; there is no such day");
        }
    }

    /** A year of two digits is the latest that is not still to come. */
    private static int fullYear(String digits, LocalDate today) {
        var year = number(digits);
        if (digits.length() == 4) {
            return year;
        }
        return 2000 + year <= today.getYear() ? 2000 + year : 1900 + year;
    }

    private static int number(String digits) {
        return Integer.parseInt(digits);
    }
}

package org.quarterlight.fleet.list;

import java.util.Locale;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import org.quarterlight.web.CsvFile;

/** What people and spreadsheets do to the text of a cell. */
final class Cells {
    private static final Set<String> NOTHING =
            Set.of("-", "--", "–", "—", "?", "/", "n/a", "n.a.", "k.a.", "k. a.", "s/d", "s.d.", "#n/a", "#nv", "#n/d");

    private Cells() {}

    /** Blanks of every kind, those without width too. */
    static boolean isBlank(int c) {
        return c <= ' ' || Character.isWhitespace(c) || Character.isSpaceChar(c) || c == '\u200b' || c == '\ufeff';
    }

    static String trimmed(String text) {
        var from = 0;
        var to = text.length();
        while (from < to && isBlank(text.charAt(from))) {
            from++;
        }
        while (from < to && isBlank(text.charAt(to - 1))) {
            to--;
        }
        return text.substring(from, to);
    }

    /** The text without the blanks around it; null where it says nothing. */
    static @Nullable String said(@Nullable String text) {
        if (text == null) {
            return null;
        }
        var trimmed = trimmed(text);
        var nothing =
                trimmed.isEmpty() || (trimmed.length() <= 5 && NOTHING.contains(trimmed.toLowerCase(Locale.ROOT)));
        return nothing ? null : trimmed;
    }

    /** Puts an apostrophe before what a spreadsheet would execute. */
    static String neutralised(String cell) {
        return CsvFile.neutralised(cell);
    }

    /**
     * Takes back what {@link #neutralised} did. A cell that had apostrophes of its own before a formula got one more,
     * so that one can always be taken away. {@code ="007"} keeps a spreadsheet from making a number of a text, and means
     * 007.
     */
    static String asTyped(String cell) {
        if (cell.length() > 3 && cell.startsWith("=\"") && cell.indexOf('"', 2) == cell.length() - 1) {
            return cell.substring(2, cell.length() - 1);
        }
        return cell.length() > 1 && cell.charAt(0) == '\'' && CsvFile.startsFormula(cell) ? cell.substring(1) : cell;
    }
}

package org.quarterlight.fleet.list;

import de.siegmar.fastcsv.reader.CsvParseException;
import de.siegmar.fastcsv.reader.CsvReader;
import de.siegmar.fastcsv.reader.CsvRecord;
import de.siegmar.fastcsv.reader.CsvRecordHandler;
import java.io.IOException;
import java.io.Reader;
import java.io.StringReader;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;

/**
 * How the characters of a list are cut into cells, and where its headings stand.
 *
 * @param skipChars a first line such as {@code sep=;} that spreadsheets do not show
 * @param headingRow counted as {@link Row} does
 */
record Layout(char separator, char quote, int skipChars, int headingRow, List<String> headings) {
    private static final char[] SEPARATORS = {',', ';', '\t', '|'};
    private static final int SAMPLE_CHARS = 1 << 18;
    private static final int NAMED_AT_MOST = 12;
    /** Headings stand within so many rows. */
    static final int ROWS_LOOKED_AT = 60;

    private static final Pattern SEPARATOR_LINE = Pattern.compile("\"?sep=(.)\"?(\\r\\n|\\n|\\r)");

    /** Opens the records after the separator line, blank ones included, since they count as rows. */
    CsvReader<CsvRecord> records(Reader reader) throws IOException {
        var left = (long) skipChars;
        while (left > 0) {
            left -= reader.skip(left);
        }
        return csv(separator, quote, reader);
    }

    static Layout of(Reader reader) throws IOException {
        var sample = sample(reader);
        var separatorLine = SEPARATOR_LINE.matcher(sample);
        var skipChars = separatorLine.lookingAt() ? separatorLine.end() : 0;
        var text = sample.substring(skipChars);
        if (text.chars().allMatch(Cells::isBlank)) {
            throw new ListRefused(ListRefused.Reason.EMPTY, "The file is empty.");
        }
        var candidates = skipChars > 0 ? new char[] {separatorLine.group(1).charAt(0)} : SEPARATORS;
        @Nullable Headed best = null;
        for (var separator : candidates) {
            var headed = headed(text, separator, sample.length() == SAMPLE_CHARS);
            if (headed.isPresent() && (best == null || headed.get().score() > best.score())) {
                best = headed.get();
            }
        }
        if (best == null) {
            throw new ListRefused(
                    ListRefused.Reason.NO_HEADINGS,
                    "No row with headings was found in the first " + ROWS_LOOKED_AT
                            + " rows. One column at least has to be headed Registration, Kennzeichen or Matrícula. The"
                            + " list begins with " + named(begins(text, candidates[0])) + ".");
        }
        if (!best.fields().contains(Field.REGISTRATION)) {
            throw new ListRefused(
                    ListRefused.Reason.NO_REGISTRATION,
                    "Row " + best.row() + " has headings, but none for the registration: " + named(best.headings())
                            + ". Name its column Registration, Kennzeichen or Matrícula.");
        }
        var quote = apostrophesQuote(best.headings()) ? '\'' : '"';
        var headings = quote == '"'
                ? best.headings()
                : rows(text, best.separator(), quote, false).get(best.row() - 1);
        return new Layout(
                best.separator(),
                quote,
                skipChars,
                best.row(),
                headings.stream().map(Cells::asTyped).map(Cells::trimmed).toList());
    }

    private static List<String> begins(String text, char separator) {
        return rows(text, separator, '"', false).stream()
                .filter(row -> row.stream().anyMatch(cell -> Cells.said(cell) != null))
                .findFirst()
                .orElse(List.of());
    }

    private static String named(List<String> cells) {
        var named = cells.stream()
                .map(Cells::said)
                .filter(Objects::nonNull)
                .map(Parsed::quoted)
                .toList();
        if (named.isEmpty()) {
            return "nothing";
        }
        var left = named.size() - NAMED_AT_MOST;
        return named.stream().limit(NAMED_AT_MOST).collect(Collectors.joining(", "))
                + (left > 0 ? " and " + left + " more" : "");
    }

    /** A row with headings under one way of cutting. */
    private record Headed(char separator, int row, List<String> headings, EnumSet<Field> fields, int rowsOfSameLength) {
        /** The registration counts most, then every other field, then how regular the rows below are. */
        int score() {
            return (fields.contains(Field.REGISTRATION) ? 1_000_000 : 0)
                    + fields.size() * 10_000
                    + (headings.size() > 1 ? 1_000 : 0)
                    + rowsOfSameLength;
        }
    }

    private static Optional<Headed> headed(String text, char separator, boolean cut) {
        var rows = rows(text, separator, '"', cut);
        @Nullable Headed best = null;
        for (var i = 0; i < rows.size(); i++) {
            var headings = rows.get(i);
            var fields = EnumSet.noneOf(Field.class);
            for (var heading : headings) {
                var meaning = Headings.meaning(Cells.asTyped(heading));
                if (meaning != null) {
                    fields.add(meaning.field());
                }
            }
            if (fields.isEmpty()) {
                continue;
            }
            var sameLength = (int) rows.subList(i + 1, rows.size()).stream()
                    .filter(row -> row.size() == headings.size())
                    .count();
            var headed = new Headed(separator, i + 1, headings, fields, sameLength);
            // The first of equals: a repeated heading row stands below.
            if (best == null || better(headed, best)) {
                best = headed;
            }
        }
        return Optional.ofNullable(best);
    }

    private static boolean better(Headed one, Headed other) {
        var registration = Boolean.compare(
                one.fields().contains(Field.REGISTRATION), other.fields().contains(Field.REGISTRATION));
        return registration > 0
                || (registration == 0 && one.fields().size() > other.fields().size());
    }

    private static List<List<String>> rows(String text, char separator, char quote, boolean cut) {
        var rows = new ArrayList<List<String>>();
        try (var records = csv(separator, quote, new StringReader(text))) {
            for (var found : records) {
                rows.add(found.getFields());
                if (rows.size() == ROWS_LOOKED_AT) {
                    return rows;
                }
            }
        } catch (CsvParseException tooLong) {
            return rows; // what was cut well so far tells enough
        } catch (IOException impossible) {
            throw new UncheckedIOException(impossible);
        }
        if (cut && rows.size() > 1) {
            rows.removeLast();
        }
        return rows;
    }

    private static boolean apostrophesQuote(List<String> headings) {
        var cells = headings.stream()
                .map(String::strip)
                .filter(cell -> !cell.isEmpty())
                .toList();
        var quoted = cells.stream()
                .filter(cell -> cell.length() > 1 && cell.startsWith("'") && cell.endsWith("'"))
                .count();
        return quoted * 2 > cells.size();
    }

    private static CsvReader<CsvRecord> csv(char separator, char quote, Reader reader) {
        return CsvReader.builder()
                .fieldSeparator(separator)
                .quoteCharacter(quote)
                .skipEmptyLines(false)
                .allowExtraFields(true)
                .allowMissingFields(true)
                .allowExtraCharsAfterClosingQuote(true)
                .build(
                        CsvRecordHandler.of(limits -> limits.maxFields(VehicleList.MAX_COLUMNS)
                                .maxFieldSize(VehicleList.MAX_CELL_CHARS)
                                .maxRecordSize(VehicleList.MAX_ROW_CHARS)),
                        reader);
    }

    private static String sample(Reader reader) throws IOException {
        var chars = new char[SAMPLE_CHARS];
        var length = 0;
        while (length < chars.length) {
            var read = reader.read(chars, length, chars.length - length);
            if (read < 0) {
                break;
            }
            length += read;
        }
        return new String(chars, 0, length);
    }
}

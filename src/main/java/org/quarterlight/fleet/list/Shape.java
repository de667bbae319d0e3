package org.quarterlight.fleet.list;

import java.nio.charset.Charset;
import java.util.List;

/**
 * How a list was found to be made; shown beside the preview, so that a wrong guess is seen.
 *
 * @param headingRow number of the row with the headings, counted as {@link Row} does
 * @param headings all cells of that row
 * @param columns the columns that are read
 * @param passedOver the columns that are not, with the reason; columns without a single cell are not mentioned
 * @param rows how many rows with anything in them stand below the headings
 * @param dates how columns with dates such as 03/04/2024 are read
 */
public record Shape(
        Charset encoding,
        char separator,
        char quote,
        int headingRow,
        List<String> headings,
        List<Column> columns,
        List<PassedOver> passedOver,
        int rows,
        List<Dates> dates) {

    private static final int LONGEST_REGISTRATION = 40;

    /** What a row has for a registration, however bad the rest of it is, so that people find the vehicle. */
    public String registrationIn(List<String> cells) {
        return columns.stream()
                .filter(column -> column.field() == Field.REGISTRATION && column.index() < cells.size())
                .map(column -> Cells.trimmed(cells.get(column.index())))
                .map(text ->
                        text.length() > LONGEST_REGISTRATION ? text.substring(0, LONGEST_REGISTRATION) + "…" : text)
                .findFirst()
                .orElse("");
    }

    /** A column that is read. The index counts from 0. */
    public record Column(int index, String heading, Field field) {}

    /** A column that is not read: its heading means nothing here, or another column says it better. */
    public record PassedOver(int index, String heading, String reason) {}

    /** How a column's ambiguous dates are read, and what decided it. */
    public record Dates(String heading, DateOrder order, DecidedBy decidedBy) {}

    /** What decided between day first and month first. */
    public enum DecidedBy {
        /** A value of the column that can only be read one way. */
        ITS_VALUES,
        /** Another date column of the list. */
        ANOTHER_COLUMN,
        /** The habit of the country, as nothing in the list decides. */
        HABIT,
        /** Nothing: some values can only be read one way, some only the other; those that fit both are bad. */
        CONTRADICTION
    }
}

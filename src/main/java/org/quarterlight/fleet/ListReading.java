package org.quarterlight.fleet;

import java.util.List;
import org.quarterlight.fleet.list.Field;
import org.quarterlight.fleet.list.Shape;
import org.quarterlight.web.Words;

/**
 * How a list was read, for whoever wants to see that it was understood.
 *
 * @param widest how many columns the widest row has
 */
public record ListReading(
        String encoding,
        char separator,
        int headingRow,
        List<String> headings,
        List<Column> columns,
        List<PassedOver> passedOver,
        List<Dates> dates,
        int widest) {
    /** A column and what it was taken for. */
    public record Column(String heading, Field field, String meaning) {}

    /** A column that is not read, and why. */
    public record PassedOver(String heading, String reason) {}

    /** Which way round a column's dates are read. */
    public record Dates(String heading, String order, String decidedBy) {}

    static ListReading of(Shape shape) {
        return new ListReading(
                shape.encoding().name(),
                shape.separator(),
                shape.headingRow(),
                shape.headings(),
                shape.columns().stream()
                        .map(column -> new Column(
                                column.heading(), column.field(), column.field().words()))
                        .toList(),
                shape.passedOver().stream()
                        .map(column -> new PassedOver(column.heading(), column.reason()))
                        .toList(),
                shape.dates().stream()
                        .map(dates -> new Dates(
                                dates.heading(), Words.spoken(dates.order()), Words.spoken(dates.decidedBy())))
                        .toList(),
                Math.max(
                        shape.headings().size(),
                        shape.passedOver().stream()
                                .mapToInt(column -> column.index() + 1)
                                .max()
                                .orElse(0)));
    }

    /** The separator in a word. */
    public String separatorWords() {
        return switch (separator) {
            case ',' -> "commas";
            case ';' -> "semicolons";
            case '\t' -> "tabs";
            case '|' -> "upright bars";
            default -> "“" + separator + "”";
        };
    }
}

package org.quarterlight.fleet.list;

import de.siegmar.fastcsv.writer.CsvWriter;
import java.io.Closeable;
import java.io.IOException;
import java.io.OutputStream;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import org.jspecify.annotations.Nullable;
import org.quarterlight.web.CsvFile;

/**
 * Writes vehicles as a list that {@link VehicleList} reads back as the same: UTF-8 with a mark, so that spreadsheets
 * know it, and with nothing in it that they would execute.
 */
public final class VehicleListWriter implements Closeable {
    private final CsvWriter csv;

    /** Closing the writer closes the stream. The separator is a comma or a semicolon, as the reader's country has it. */
    public VehicleListWriter(OutputStream out, char separator) throws IOException {
        csv = CsvFile.writer(out, separator);
        csv.writeRecord(Arrays.stream(Field.values()).map(Field::heading).toList());
    }

    public void write(VehicleLine line) {
        csv.writeRecord(Arrays.stream(Field.values())
                .map(field -> Cells.neutralised(text(line, field)))
                .toList());
    }

    @Override
    public void close() throws IOException {
        csv.close();
    }

    private static String text(VehicleLine line, Field field) {
        return switch (field) {
            case REGISTRATION -> line.registration().shown();
            case VIN -> shown(line.vin());
            case CATEGORY -> shown(line.category());
            case MAXIMUM_MASS -> shown(line.maximumMassKg());
            case STEERING_SIDE -> shown(line.steeringSide()).toLowerCase(Locale.ROOT);
            case DEPOT -> shown(line.depot());
            case MAKE -> shown(line.make());
            case MODEL -> shown(line.model());
            case FLEET_NUMBER -> shown(line.fleetNumber());
            case FIRST_REGISTERED -> shown(line.firstRegistered());
            case GLASS_FITTED -> shown(line.glassFitted());
            case NOTES -> shown(line.notes());
        };
    }

    private static String shown(@Nullable Object value) {
        return value == null ? "" : value.toString();
    }

    /**
     * Writes the rows that were kept out, as they came, with the reason in a last column: put right, the file can be
     * sent again as it is.
     */
    public static final class Rejected implements Closeable {
        private static final String HEADING = "Reason";

        private final CsvWriter csv;
        private final int columns;
        /** Where a list holds reasons from an earlier time, they are replaced. */
        private final int reasonAt;

        public Rejected(OutputStream out, char separator, Shape shape) throws IOException {
            csv = CsvFile.writer(out, separator);
            var headings = new ArrayList<>(shape.headings());
            var earlier = headings.indexOf(HEADING);
            // Cells beyond the last heading are kept too, so the reason stands behind them.
            columns = Math.max(headings.size(), widest(shape));
            reasonAt = earlier >= 0 ? earlier : columns;
            csv.writeRecord(withReason(headings, HEADING));
        }

        public void write(Row.Bad row) {
            csv.writeRecord(withReason(row.cells(), reason(row)));
        }

        @Override
        public void close() throws IOException {
            csv.close();
        }

        private List<String> withReason(List<String> cells, String reason) {
            var row = new ArrayList<String>(columns + 1);
            for (var i = 0; i < Math.max(columns, reasonAt + 1); i++) {
                row.add(i < cells.size() ? Cells.neutralised(cells.get(i)) : "");
            }
            row.set(reasonAt, Cells.neutralised(reason));
            return row;
        }

        private static String reason(Row.Bad row) {
            var reason = new StringBuilder("Row " + row.number());
            for (var problem : row.problems()) {
                reason.append(reason.indexOf(":") < 0 ? ": " : "; ").append(problem);
            }
            return reason.toString();
        }

        private static int widest(Shape shape) {
            return shape.passedOver().stream()
                    .mapToInt(column -> column.index() + 1)
                    .max()
                    .orElse(0);
        }
    }
}

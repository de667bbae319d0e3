package org.quarterlight.fleet.list;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.quarterlight.glass.SteeringSide;
import org.quarterlight.glass.VehicleCategory;

class VehicleListWriterTests {
    private static final Reading READING = new Reading(1 << 20, DateOrder.MONTH_FIRST, LocalDate.of(2026, 3, 2));
    private static final long SEED = 20260302;
    /** What breaks lists: formulas, quotes, separators, line breaks, apostrophes, letters of other scripts. */
    private static final String[] PIECES = {
        "=", "+", "-", "@", "'", "\"", ",", ";", "\t", "\n", "\r\n", "|", "a", "Z9", " ", "ü", "Ж", "＝", "😀", "x y"
    };

    @ParameterizedTest
    @ValueSource(chars = {',', ';'})
    void givesBackWhatTheReaderTakes(char separator) throws IOException {
        var lines = someLines(400);
        assertThat(reread(written(lines, separator))).containsExactlyElementsOf(lines);
    }

    @Test
    void startsNoCellWithWhatASpreadsheetExecutes() throws IOException {
        var text = new String(written(someLines(400), ';'), StandardCharsets.UTF_8);
        assertThat(text).startsWith("\ufeffRegistration;VIN;");
        // Read as a spreadsheet would, without taking apostrophes back.
        try (var records = de.siegmar.fastcsv.reader.CsvReader.builder()
                .fieldSeparator(';')
                .ofCsvRecord(text.substring(1))) {
            assertThat(records)
                    .flatExtracting(de.siegmar.fastcsv.reader.CsvRecord::getFields)
                    .hasSizeGreaterThan(400)
                    .noneMatch(cell -> !cell.isEmpty() && "=+-@\t\r\n＝".indexOf(cell.charAt(0)) >= 0);
        }
    }

    @Test
    void givesBackTheRejectedRowsWithTheReasonBehind() throws IOException {
        var text = "My list\nPlate;Depot;Phone;Notes\nQV 1;Nord;+49 1;\"two\nlines\"\nQV 1;Süd;=1+1;'=2;more\n;;x;\n";
        var list = VehicleList.open(ListSource.of(text.getBytes(StandardCharsets.UTF_8)), READING);

        var rejected = new String(rejected(list), StandardCharsets.UTF_8);

        assertThat(rejected).isEqualTo("""
            \ufeffPlate;Depot;Phone;Notes;;Reason
            QV 1;Süd;'=1+1;'=2;more;"Row 4: column E lies beyond the last heading; perhaps a separator \
            stands inside a cell without quotation marks; Plate QV 1 is in row 3 already"
            ;;x;;;Row 5: Plate is missing
            """.replace("\n", "\r\n"));
    }

    @Test
    void readsTheRejectedRowsAgainOnceTheyArePutRight() throws IOException {
        var text = "Plate;Depot;Notes\nQV 1;Nord;\nQV/2;Süd;=1\n";
        var list = VehicleList.open(ListSource.of(text.getBytes(StandardCharsets.UTF_8)), READING);
        var first = new String(rejected(list), StandardCharsets.UTF_8);
        assertThat(first).contains("Row 3: Plate has “/”, which no registration has");

        var again = VehicleList.open(ListSource.of(first.getBytes(StandardCharsets.UTF_8)), READING);
        var second = new String(rejected(again), StandardCharsets.UTF_8);
        assertThat(second).isEqualTo(first.replace("Row 3", "Row 2"));

        var corrected = reread(first.replace("QV/2", "QV 2").getBytes(StandardCharsets.UTF_8));
        assertThat(corrected).singleElement().satisfies(line -> {
            assertThat(line.registration().key()).isEqualTo("QV2");
            assertThat(line.notes()).isEqualTo("=1");
        });
    }

    private static byte[] written(List<VehicleLine> lines, char separator) throws IOException {
        var out = new ByteArrayOutputStream();
        try (var writer = new VehicleListWriter(out, separator)) {
            lines.forEach(writer::write);
        }
        return out.toByteArray();
    }

    private static byte[] rejected(VehicleList list) throws IOException {
        var out = new ByteArrayOutputStream();
        try (var writer = new VehicleListWriter.Rejected(out, ';', list.shape());
                var rows = list.rows()) {
            rows.forEach(row -> {
                if (row instanceof Row.Bad bad) {
                    writer.write(bad);
                }
            });
        }
        return out.toByteArray();
    }

    private static List<VehicleLine> reread(byte[] bytes) throws IOException {
        try (var rows = VehicleList.open(ListSource.of(bytes), READING).rows()) {
            return rows.map(row -> switch (row) {
                        case Row.Good good -> good.line();
                        case Row.Bad bad -> throw new AssertionError("row " + bad.number() + ": " + bad.problems());
                    })
                    .toList();
        }
    }

    private static List<VehicleLine> someLines(int count) {
        var random = new Random(SEED);
        var lines = new ArrayList<VehicleLine>();
        for (var i = 0; i < count; i++) {
            lines.add(new VehicleLine(
                    Registration.of("qv" + i + " " + (char) ('A' + i % 26)),
                    random.nextBoolean() ? new Vin(String.format(java.util.Locale.ROOT, "ZZZ%014d", i)) : null,
                    pick(random, VehicleCategory.values()),
                    random.nextBoolean() ? random.nextInt(200, 44_000) : null,
                    pick(random, SteeringSide.values()),
                    text(random),
                    text(random),
                    text(random),
                    text(random),
                    random.nextBoolean() ? LocalDate.of(2000, 1, 1).plusDays(random.nextInt(9_000)) : null,
                    random.nextBoolean() ? LocalDate.of(2020, 1, 1).plusDays(random.nextInt(2_000)) : null,
                    text(random)));
        }
        return lines;
    }

    private static <T> @Nullable T pick(Random random, T[] values) {
        var i = random.nextInt(values.length + 1);
        return i == values.length ? null : values[i];
    }

    private static String text(Random random) {
        var text = new StringBuilder();
        for (var i = random.nextInt(6); i > 0; i--) {
            text.append(PIECES[random.nextInt(PIECES.length)]);
        }
        return text.toString();
    }
}

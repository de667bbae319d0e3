package org.quarterlight.demo;

import de.siegmar.fastcsv.reader.CsvReader;
import de.siegmar.fastcsv.reader.NamedCsvRecord;
import java.io.IOException;
import java.io.InputStreamReader;
import java.io.UncheckedIOException;
import java.math.BigDecimal;
import java.nio.charset.StandardCharsets;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.springframework.core.io.ClassPathResource;

/** The scenario's files, row by row; a blank cell says nothing. */
final class Rows {
    private Rows() {}

    static List<NamedCsvRecord> of(String file) {
        try (var reader = new InputStreamReader(
                        new ClassPathResource("demo-data/" + file).getInputStream(), StandardCharsets.UTF_8);
                var rows = CsvReader.builder().ofNamedCsvRecord(reader)) {
            return rows.stream().toList();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    static @Nullable String text(NamedCsvRecord row, String column) {
        var text = row.getField(column).trim();
        return text.isEmpty() ? null : text;
    }

    static @Nullable BigDecimal number(NamedCsvRecord row, String column) {
        var text = text(row, column);
        return text == null ? null : new BigDecimal(text);
    }

    static @Nullable Integer day(NamedCsvRecord row, String column) {
        var text = text(row, column);
        return text == null ? null : Integer.valueOf(text);
    }
}

package org.quarterlight.web;

import de.siegmar.fastcsv.writer.CsvWriter;
import de.siegmar.fastcsv.writer.LineDelimiter;
import java.io.Closeable;
import java.io.IOException;
import java.io.OutputStream;
import java.io.OutputStreamWriter;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.util.List;

/** A list for spreadsheets: UTF-8 with a mark, so that they know it, and with nothing in it that they would execute. */
public final class CsvFile implements Closeable {
    /** What a spreadsheet takes for the start of a formula (OWASP, CSV injection), wide forms included. */
    private static final String STARTS_FORMULA = "=+-@\t\r\n＝＋－＠";

    private final CsvWriter csv;

    /** Closing the file closes the stream. The separator is a comma or a semicolon, as the reader's country has it. */
    public CsvFile(OutputStream out, char separator, List<String> headings) throws IOException {
        csv = writer(out, separator);
        csv.writeRecord(headings);
    }

    public void write(List<String> cells) {
        csv.writeRecord(cells.stream().map(CsvFile::neutralised).toList());
    }

    @Override
    public void close() throws IOException {
        csv.close();
    }

    /** Writes rows as they are given. */
    public static CsvWriter writer(OutputStream out, char separator) throws IOException {
        Writer writer = new OutputStreamWriter(out, StandardCharsets.UTF_8);
        writer.write('\ufeff');
        return CsvWriter.builder()
                .fieldSeparator(separator)
                .lineDelimiter(LineDelimiter.CRLF)
                .build(writer);
    }

    /** Puts an apostrophe before what a spreadsheet would execute. */
    public static String neutralised(String cell) {
        return startsFormula(cell) ? "'" + cell : cell;
    }

    /** Also behind apostrophes of its own. */
    public static boolean startsFormula(String cell) {
        var i = 0;
        while (i < cell.length() && cell.charAt(i) == '\'') {
            i++;
        }
        return i < cell.length() && STARTS_FORMULA.indexOf(cell.charAt(i)) >= 0;
    }
}

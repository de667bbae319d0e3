package org.quarterlight.fleet.list;

import com.ibm.icu.text.CharsetDetector;
import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.io.Reader;
import java.nio.ByteBuffer;
import java.nio.CharBuffer;
import java.nio.charset.Charset;
import java.nio.charset.CharsetDecoder;
import java.nio.charset.CodingErrorAction;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.Set;
import org.jspecify.annotations.Nullable;

/** How the bytes of a list stand for characters: a mark at the start, else rules, else statistics. */
record Encoding(Charset charset, int markBytes) {
    private static final Charset WINDOWS_1252 = Charset.forName("windows-1252");
    private static final int CHUNK_BYTES = 1 << 16;
    /** Out of 100, as ICU counts; digits and separators keep it low. */
    private static final int ENOUGH_CONFIDENCE = 20;

    private static final Set<String> LEGACY = Set.of(
            "windows-1250",
            "windows-1251",
            "windows-1253",
            "windows-1254",
            "windows-1255",
            "windows-1256",
            "ISO-8859-2",
            "ISO-8859-5",
            "ISO-8859-7",
            "ISO-8859-9",
            "KOI8-R",
            "GB18030",
            "Big5",
            "Shift_JIS",
            "EUC-JP",
            "EUC-KR");

    /** What English, German, Spanish and their neighbours write above ASCII, in Windows-1252. */
    private static final String WESTERN =
            "€‚„…†‘’“”•–—™ ¡£§©ª«°·º»¿´±²³½¼¾®×ÄÖÜäöüßÁÉÍÓÚÑáéíóúñÀÈÌÒÙàèìòùÂÊÎÔÛâêîôûÇçËÏëïŒœÆæØøÅåÃãÕõ";

    private static final boolean[] IS_WESTERN = western();

    Reader reader(ListSource source) throws IOException {
        var in = source.open();
        try {
            in.skipNBytes(markBytes);
            // What does not decode becomes U+FFFD, and the rows that hold one are bad.
            return new BufferedReader(new InputStreamReader(in, charset), CHUNK_BYTES);
        } catch (IOException | RuntimeException failure) {
            in.close();
            throw failure;
        }
    }

    /**
     * Goes through the bytes once, since the first umlaut may stand in the last row; but not further than the most rows
     * that are read, as a longer list is refused anyway.
     */
    static Encoding of(ListSource source, long maxBytes) throws IOException {
        var utf8 = new Utf8Check();
        var rows = new RowCount();
        var frequency = new long[256];
        byte[] start = {};
        byte[] telling = {};
        long total = 0;
        try (var in = source.open()) {
            for (var chunk = in.readNBytes(CHUNK_BYTES);
                    chunk.length > 0 && !rows.moreThanAreRead();
                    chunk = in.readNBytes(CHUNK_BYTES)) {
                if (total == 0) {
                    refuseBinary(chunk);
                    start = chunk;
                }
                total += chunk.length;
                if (total > maxBytes) {
                    throw new ListRefused(
                            ListRefused.Reason.TOO_LARGE,
                            "The file is larger than " + sizeInWords(maxBytes)
                                    + ". Split it and send the parts one by one.");
                }
                var high = false;
                for (var b : chunk) {
                    frequency[b & 0xff]++;
                    high |= b < 0;
                }
                if (high && telling.length == 0) {
                    telling = chunk;
                }
                utf8.next(chunk);
                rows.next(chunk);
            }
        }
        if (total == 0) {
            throw new ListRefused(ListRefused.Reason.EMPTY, "The file is empty.");
        }
        var marked = marked(start);
        if (marked != null) {
            return marked;
        }
        var wide = withoutMark(start);
        if (wide != null) {
            return new Encoding(wide, 0);
        }
        if (frequency[0] > 0) {
            throw notText("");
        }
        return new Encoding(utf8.passed() ? StandardCharsets.UTF_8 : legacy(frequency, telling), 0);
    }

    private static void refuseBinary(byte[] start) {
        if (startsWith(start, 'P', 'K', 3, 4) || startsWith(start, 0xd0, 0xcf, 0x11, 0xe0)) {
            throw notText(" It looks like a spreadsheet or an archive.");
        }
        if (startsWith(start, '%', 'P', 'D', 'F') || startsWith(start, 0x1f, 0x8b)) {
            throw notText("");
        }
    }

    private static ListRefused notText(String looksLike) {
        return new ListRefused(
                ListRefused.Reason.NOT_TEXT,
                "The file is not a CSV file." + looksLike
                        + " Open it in the spreadsheet program and save it as CSV first.");
    }

    private static @Nullable Encoding marked(byte[] start) {
        if (startsWith(start, 0xef, 0xbb, 0xbf)) {
            return new Encoding(StandardCharsets.UTF_8, 3);
        }
        if (startsWith(start, 0xff, 0xfe, 0, 0)) {
            return new Encoding(Charset.forName("UTF-32LE"), 4);
        }
        if (startsWith(start, 0xff, 0xfe)) {
            return new Encoding(StandardCharsets.UTF_16LE, 2);
        }
        return startsWith(start, 0xfe, 0xff) ? new Encoding(StandardCharsets.UTF_16BE, 2) : null;
    }

    /** Separators, digits and Latin letters have a zero as their other byte in UTF-16, always on the same side. */
    private static @Nullable Charset withoutMark(byte[] start) {
        var zerosFirst = 0;
        var zerosSecond = 0;
        for (var i = 0; i + 1 < start.length; i += 2) {
            zerosFirst += start[i] == 0 ? 1 : 0;
            zerosSecond += start[i + 1] == 0 ? 1 : 0;
        }
        var pairs = start.length / 2;
        if (zerosSecond * 10 >= pairs && zerosFirst * 100 <= pairs && zerosSecond > 0) {
            return StandardCharsets.UTF_16LE;
        }
        return zerosFirst * 10 >= pairs && zerosSecond * 100 <= pairs && zerosFirst > 0
                ? StandardCharsets.UTF_16BE
                : null;
    }

    /** A handful of umlauts is too little for statistics, so Western letters are recognised by rule. */
    private static Charset legacy(long[] frequency, byte[] telling) {
        var western = true;
        for (var b = 0x80; b < 0x100; b++) {
            western &= frequency[b] == 0 || IS_WESTERN[b];
        }
        if (western) {
            return WINDOWS_1252;
        }
        var detector = new CharsetDetector();
        detector.setText(telling);
        return Arrays.stream(detector.detectAll())
                .filter(match -> match.getConfidence() >= ENOUGH_CONFIDENCE)
                .map(match -> match.getName())
                .filter(name -> LEGACY.contains(name) || name.equals("ISO-8859-1") || name.equals("windows-1252"))
                .filter(Charset::isSupported)
                .findFirst()
                .map(name -> name.equals("ISO-8859-1") ? WINDOWS_1252 : Charset.forName(name))
                .orElse(WINDOWS_1252);
    }

    private static boolean[] western() {
        var western = new boolean[256];
        for (var b : WESTERN.getBytes(WINDOWS_1252)) {
            western[b & 0xff] = true;
        }
        western[0xa0] = true; // the blank that does not break
        return western;
    }

    private static boolean startsWith(byte[] start, int... expected) {
        if (start.length < expected.length) {
            return false;
        }
        for (var i = 0; i < expected.length; i++) {
            if ((start[i] & 0xff) != expected[i]) {
                return false;
            }
        }
        return true;
    }

    private static String sizeInWords(long bytes) {
        return bytes >= 1 << 20 ? bytes / (1 << 20) + " MiB" : bytes + " bytes";
    }

    /**
     * Lines with something in them that end outside quotation marks: near enough to the number of rows to know when to
     * stop. Where it counts too many, letters far down may be unreadable, and their rows are bad.
     */
    private static final class RowCount {
        private int rows;
        private boolean quoted;
        private boolean filled;

        void next(byte[] chunk) {
            for (var b : chunk) {
                if (b == '"') {
                    quoted = !quoted;
                } else if (b == '\n' || b == '\r') {
                    rows += filled && !quoted ? 1 : 0;
                    filled &= quoted;
                } else {
                    filled |= b > ' ' && b != ',' && b != ';' && b != '|' || b < 0;
                }
            }
        }

        boolean moreThanAreRead() {
            return rows > VehicleList.MAX_ROWS + Layout.ROWS_LOOKED_AT;
        }
    }

    /** Whether the bytes are UTF-8 to the letter. The last character may be cut off by the end of the file. */
    private static final class Utf8Check {
        private final CharsetDecoder decoder = StandardCharsets.UTF_8
                .newDecoder()
                .onMalformedInput(CodingErrorAction.REPORT)
                .onUnmappableCharacter(CodingErrorAction.REPORT);
        private final CharBuffer ignored = CharBuffer.allocate(CHUNK_BYTES);
        private final ByteBuffer bytes = ByteBuffer.allocate(CHUNK_BYTES + 4);
        private boolean passed = true;

        void next(byte[] chunk) {
            if (!passed) {
                return;
            }
            bytes.put(chunk).flip();
            passed = !decoder.decode(bytes, ignored.clear(), false).isError();
            bytes.compact();
        }

        boolean passed() {
            return passed;
        }
    }
}

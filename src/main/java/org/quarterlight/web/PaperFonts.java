package org.quarterlight.web;

import com.ibm.icu.lang.UCharacter;
import com.ibm.icu.lang.UProperty;
import com.openhtmltopdf.extend.FSSupplier;
import com.openhtmltopdf.outputdevice.helper.BaseRendererBuilder.FontStyle;
import com.openhtmltopdf.pdfboxout.PdfRendererBuilder;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.util.BitSet;
import org.apache.fontbox.ttf.TTFParser;
import org.apache.pdfbox.io.RandomAccessReadBuffer;
import org.springframework.core.io.ClassPathResource;

/**
 * The fonts of paper: that of the pages, and behind it one for Greek, Cyrillic, Hebrew, Arabic, signs and plain emoji. What
 * neither has stands as its number, [U+4F60], for a box or a # would hide that something was written.
 */
final class PaperFonts {
    private static final String PAGES = "Hyperlegible Next";
    private static final String OTHERS = "DejaVu Sans";
    private static final BitSet DRAWN = drawn();

    private PaperFonts() {}

    static void addTo(PdfRendererBuilder builder) {
        builder.useFont(file("AtkinsonHyperlegibleNext-Regular"), PAGES, 400, FontStyle.NORMAL, true)
                .useFont(file("AtkinsonHyperlegibleNext-SemiBold"), PAGES, 600, FontStyle.NORMAL, true)
                .useFont(file("AtkinsonHyperlegibleNext-Bold"), PAGES, 700, FontStyle.NORMAL, true)
                .useFont(file("DejaVuSans"), OTHERS, 400, FontStyle.NORMAL, true)
                .useFont(file("DejaVuSans-Bold"), OTHERS, 600, FontStyle.NORMAL, true);
    }

    /** The text with what no font has as its number, and without what only tells how its neighbours are drawn. */
    static String drawable(String text) {
        return text.codePoints().allMatch(PaperFonts::known)
                ? text
                : text.codePoints()
                        .collect(StringBuilder::new, PaperFonts::append, StringBuilder::append)
                        .toString();
    }

    private static void append(StringBuilder text, int point) {
        if (known(point)) {
            text.appendCodePoint(point);
        } else if (!UCharacter.hasBinaryProperty(point, UProperty.DEFAULT_IGNORABLE_CODE_POINT)) {
            text.append("[U+%04X]".formatted(point));
        }
    }

    private static boolean known(int point) {
        return point < ' ' || DRAWN.get(point);
    }

    /** Both weights have to have it, for a heading may say it too. */
    private static BitSet drawn() {
        var pages = points("AtkinsonHyperlegibleNext-Regular");
        var others = points("DejaVuSans");
        others.and(points("DejaVuSans-Bold"));
        pages.or(others);
        return pages;
    }

    private static BitSet points(String file) {
        try (var in = file(file).supply();
                var font = new TTFParser().parse(new RandomAccessReadBuffer(in))) {
            var glyphs = font.getUnicodeCmapLookup();
            var points = new BitSet(Character.MAX_CODE_POINT);
            for (int point = ' '; point <= Character.MAX_CODE_POINT; point++) {
                points.set(
                        point,
                        glyphs.getGlyphId(point) != 0
                                && !UCharacter.hasBinaryProperty(point, UProperty.DEFAULT_IGNORABLE_CODE_POINT));
            }
            return points;
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private static FSSupplier<InputStream> file(String name) {
        return () -> {
            try {
                return new ClassPathResource("fonts/" + name + ".ttf").getInputStream();
            } catch (IOException e) {
                throw new UncheckedIOException(e);
            }
        };
    }
}

package org.quarterlight.fleet.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.google.zxing.BinaryBitmap;
import com.google.zxing.MultiFormatReader;
import com.google.zxing.client.j2se.BufferedImageLuminanceSource;
import com.google.zxing.common.HybridBinarizer;
import java.io.IOException;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.rendering.PDFRenderer;
import org.apache.pdfbox.text.PDFTextStripper;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.quarterlight.QuarterlightTest;
import org.springframework.beans.factory.annotation.Autowired;

@QuarterlightTest
class CabCardTests {
    private static final double POINTS_PER_MM = 72 / 25.4;

    @Autowired
    private CabCard cards;

    @ParameterizedTest
    @CsvSource({"A6, 105, 148", "A4, 210, 297"})
    void fillsOneSheetWithACodeThatAPhoneReads(CabCard.Paper paper, double widthMm, double heightMm) throws Exception {
        var address = "http://localhost/r/abcdefgh-0123456789";
        var pdf = cards.pdf("QV & 1<2>", "Ines' \"Coaches\" & Söhne", address, paper);
        try (var document = Loader.loadPDF(pdf)) {
            assertThat(document.getNumberOfPages()).isOne();
            var box = document.getPage(0).getMediaBox();
            assertThat(box.getWidth() / POINTS_PER_MM).isCloseTo(widthMm, within(0.5));
            assertThat(box.getHeight() / POINTS_PER_MM).isCloseTo(heightMm, within(0.5));
            assertThat(words(document)).contains("QV & 1<2>", "Ines' \"Coaches\" & Söhne.", "cover the chip");
            var drawn = new BufferedImageLuminanceSource(new PDFRenderer(document).renderImageWithDPI(0, 200));
            assertThat(new MultiFormatReader()
                            .decode(new BinaryBitmap(new HybridBinarizer(drawn)))
                            .getText())
                    .isEqualTo(address);
        }
    }

    private static String words(org.apache.pdfbox.pdmodel.PDDocument document) throws IOException {
        return new PDFTextStripper().getText(document).replaceAll("\\s+", " ");
    }
}

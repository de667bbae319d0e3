package org.quarterlight.fleet.web;

import com.openhtmltopdf.outputdevice.helper.BaseRendererBuilder.FontStyle;
import com.openhtmltopdf.pdfboxout.PdfRendererBuilder;
import com.openhtmltopdf.svgsupport.BatikSVGDrawer;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.util.Locale;
import java.util.Objects;

/** The card that hangs in a cab: how to report damage, the plate, and the code to open with a phone's own camera. */
final class CabCard {
    private static final String STYLE = """
        @page { size: %s; margin: 9mm; }
        body { font-family: 'Hyperlegible Next'; font-size: %spt; line-height: 1.35; color: #000; margin: 0; }
        h1 { font-size: 1.5em; margin: 0 0 2mm; }
        .plate { display: inline-block; border: 0.5mm solid #000; border-radius: 1mm; padding: 0.5mm 2.5mm;
            font-size: 1.5em; font-weight: bold; letter-spacing: 0.04em; }
        .code { text-align: center; margin: 3mm 0; }
        .code svg { width: %smm; height: %smm; }
        ol { margin: 0 0 2mm; padding-left: 5mm; }
        li { margin: 0 0 1mm; }
        .note { font-size: 0.8em; margin: 0; }
        .rule { border-top: 0.3mm solid #000; margin: 2mm 0; }
        """;

    /** How large the card is. */
    enum Paper {
        A6("105mm 148mm", "9.5", "58"),
        A4("210mm 297mm", "18", "120");

        private final String size;
        private final String textPt;
        private final String codeMm;

        Paper(String size, String textPt, String codeMm) {
            this.size = size;
            this.textPt = textPt;
            this.codeMm = codeMm;
        }
    }

    private CabCard() {}

    static byte[] pdf(String registration, String organisation, String address, Paper paper) {
        var out = new ByteArrayOutputStream();
        try (var svg = new BatikSVGDrawer()) {
            new PdfRendererBuilder()
                    .useFastMode()
                    .useSVGDrawer(svg)
                    .useFont(() -> font("Regular"), "Hyperlegible Next", 400, FontStyle.NORMAL, true)
                    .useFont(() -> font("Bold"), "Hyperlegible Next", 700, FontStyle.NORMAL, true)
                    .withHtmlContent(html(registration, organisation, address, paper), null)
                    .withProducer("Quarterlight")
                    .toStream(out)
                    .run();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return out.toByteArray();
    }

    private static String html(String registration, String organisation, String address, Paper paper) {
        return """
            <html lang="en"><head><title>Cab card %s</title><style>%s</style></head><body>
            <h1>A stone hit the windscreen?</h1>
            <p><span class="plate">%s</span></p>
            <div class="code">%s</div>
            <ol><li>Stop where it is safe. Point your phone's camera at the code and open the link.</li>
            <li>Tap the place on the glass and say what it looks like.</li>
            <li>You are told at once whether you may drive on.</li></ol>
            <p>Until it is repaired, cover the chip with clear tape. No hot air or cold water on it, no car wash.</p>
            <div class="rule"></div>
            <p class="note">%s. The code opens the report page of this vehicle only.</p>
            </body></html>
            """.formatted(
                        QrPicture.escaped(registration),
                        STYLE.formatted(paper.size, paper.textPt, paper.codeMm, paper.codeMm),
                        QrPicture.escaped(registration),
                        QrPicture.svg(address, "Code for " + registration.toUpperCase(Locale.ROOT)),
                        QrPicture.escaped(organisation));
    }

    private static InputStream font(String weight) {
        return Objects.requireNonNull(
                CabCard.class.getResourceAsStream("/fonts/AtkinsonHyperlegibleNext-" + weight + ".ttf"));
    }
}

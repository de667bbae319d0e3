package org.quarterlight.web;

import com.openhtmltopdf.bidi.support.ICUBidiReorderer;
import com.openhtmltopdf.bidi.support.ICUBidiSplitter.ICUBidiSplitterFactory;
import com.openhtmltopdf.outputdevice.helper.BaseRendererBuilder.TextDirection;
import com.openhtmltopdf.pdfboxout.PdfRendererBuilder;
import com.openhtmltopdf.pdfboxout.PdfRendererBuilder.PdfAConformance;
import com.openhtmltopdf.svgsupport.BatikSVGDrawer;
import java.awt.color.ColorSpace;
import java.awt.color.ICC_Profile;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.Locale;
import java.util.Map;
import org.apache.pdfbox.Loader;
import org.springframework.stereotype.Component;
import org.springframework.web.util.HtmlUtils;
import org.thymeleaf.ITemplateEngine;
import org.thymeleaf.context.Context;

/** Draws a template on paper, with the fonts of the pages. The template is well-formed XML and finds {@code show} in it. */
@Component
public class PdfPages {
    private final ITemplateEngine templates;
    private final Show show;

    PdfPages(ITemplateEngine templates, Show show) {
        this.templates = templates;
        this.show = show;
    }

    /** The bytes of a PDF. */
    public byte[] draw(String template, Map<String, Object> variables) {
        return drawn(template, variables, new PdfRendererBuilder());
    }

    /**
     * The bytes of a PDF that an archive can keep and a screen reader can read: PDF/A-2a (ISO 19005-2) and PDF/UA-1 (ISO
     * 14289-1). Every font and colour is in it, and the template says what its pictures show.
     */
    public byte[] archivable(String template, Map<String, Object> variables) {
        return drawn(
                template,
                variables,
                new PdfRendererBuilder()
                        .usePdfUaAccessibility(true)
                        .usePdfAConformance(PdfAConformance.PDFA_2_A)
                        .useColorProfile(
                                ICC_Profile.getInstance(ColorSpace.CS_sRGB).getData()));
    }

    /** A drawing with the words that stand for it. */
    public static String described(String svg, String words) {
        return svg.replaceFirst("<svg ", "<svg alt=\"" + HtmlUtils.htmlEscape(words) + "\" ");
    }

    /** How many pages a PDF has. */
    public static int count(byte[] pdf) {
        try (var document = Loader.loadPDF(pdf)) {
            return document.getNumberOfPages();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private byte[] drawn(String template, Map<String, Object> variables, PdfRendererBuilder builder) {
        var page = new Context(Locale.ENGLISH, variables);
        page.setVariable("show", show);
        // What was kept in former times may hold characters that no document can.
        var html = PaperFonts.drawable(PlainText.of(templates.process(template, page)));
        try (var out = new ByteArrayOutputStream();
                var svg = new BatikSVGDrawer()) {
            PaperFonts.addTo(builder);
            builder.useFastMode()
                    .useSVGDrawer(svg)
                    .useUnicodeBidiSplitter(new ICUBidiSplitterFactory())
                    .useUnicodeBidiReorderer(new ICUBidiReorderer())
                    .defaultTextDirection(TextDirection.LTR)
                    .withHtmlContent(html, null)
                    .withProducer("Quarterlight")
                    .toStream(out)
                    .run();
            return out.toByteArray();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}

package org.quarterlight.web;

import com.openhtmltopdf.extend.FSSupplier;
import com.openhtmltopdf.outputdevice.helper.BaseRendererBuilder.FontStyle;
import com.openhtmltopdf.pdfboxout.PdfRendererBuilder;
import com.openhtmltopdf.svgsupport.BatikSVGDrawer;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.util.Locale;
import java.util.Map;
import org.springframework.core.io.ClassPathResource;
import org.springframework.stereotype.Component;
import org.thymeleaf.ITemplateEngine;
import org.thymeleaf.context.Context;

/** Draws a template on paper, with the fonts of the pages. The template is well-formed XML and finds {@code show} in it. */
@Component
public class PdfPages {
    private static final String FAMILY = "Hyperlegible Next";

    private final ITemplateEngine templates;
    private final Show show;

    PdfPages(ITemplateEngine templates, Show show) {
        this.templates = templates;
        this.show = show;
    }

    /** The bytes of a PDF. */
    public byte[] draw(String template, Map<String, Object> variables) {
        var page = new Context(Locale.ENGLISH, variables);
        page.setVariable("show", show);
        // What was kept in former times may hold characters that no document can.
        var html = PlainText.of(templates.process(template, page));
        try (var out = new ByteArrayOutputStream();
                var svg = new BatikSVGDrawer()) {
            new PdfRendererBuilder()
                    .useFastMode()
                    .useSVGDrawer(svg)
                    .useFont(font("Regular"), FAMILY, 400, FontStyle.NORMAL, true)
                    .useFont(font("SemiBold"), FAMILY, 600, FontStyle.NORMAL, true)
                    .useFont(font("Bold"), FAMILY, 700, FontStyle.NORMAL, true)
                    .withHtmlContent(html, null)
                    .withProducer("Quarterlight")
                    .toStream(out)
                    .run();
            return out.toByteArray();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private static FSSupplier<InputStream> font(String weight) {
        return () -> {
            try {
                return new ClassPathResource("fonts/AtkinsonHyperlegibleNext-" + weight + ".ttf").getInputStream();
            } catch (IOException e) {
                throw new UncheckedIOException(e);
            }
        };
    }
}

package org.quarterlight.repair;

import com.openhtmltopdf.outputdevice.helper.BaseRendererBuilder.FontStyle;
import com.openhtmltopdf.pdfboxout.PdfRendererBuilder;
import com.openhtmltopdf.svgsupport.BatikSVGDrawer;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.util.Base64;
import java.util.List;
import java.util.Locale;
import org.quarterlight.photo.PhotoSize;
import org.quarterlight.web.PlainText;
import org.quarterlight.web.Show;
import org.springframework.core.io.ClassPathResource;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Service;
import org.thymeleaf.ITemplateEngine;
import org.thymeleaf.context.Context;

/** The record of a closed job on paper: one template, drawn as PDF with the fonts of the pages. */
@Service
public class RecordPdf {
    private static final String FAMILY = "Hyperlegible Next";

    private final ITemplateEngine templates;
    private final RepairJobs jobs;
    private final Show show;

    RecordPdf(ITemplateEngine templates, RepairJobs jobs, Show show) {
        this.templates = templates;
        this.jobs = jobs;
        this.show = show;
    }

    /** A photo as the page holds it. */
    public record Picture(String data, String words) {}

    /** Of a closed job; another has no record to show yet. */
    @PreAuthorize("hasAnyRole('MANAGER', 'DISPATCHER', 'TECHNICIAN')")
    public byte[] of(JobView job) {
        if (job.state() != JobState.CLOSED) {
            throw new JobRefused("no-record", "Job " + job.number() + " is not closed, so it has no record yet");
        }
        var page = new Context(Locale.ENGLISH);
        page.setVariable("job", job);
        page.setVariable("show", show);
        page.setVariable("drawing", JobDrawing.forPrint(job.brief()));
        page.setVariable("photos", pictures(job));
        // What was kept in former times may hold characters that no document can.
        var html = PlainText.of(templates.process("repair/record-pdf", page));
        try (var out = new ByteArrayOutputStream()) {
            new PdfRendererBuilder()
                    .useFastMode()
                    .useSVGDrawer(new BatikSVGDrawer())
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

    private List<Picture> pictures(JobView job) {
        return job.photos().stream()
                .filter(photo -> photo.shows() != PhotoShows.OTHER)
                .limit(4)
                .map(photo -> picture(job, photo))
                .toList();
    }

    private Picture picture(JobView job, JobPhoto photo) {
        try (var in = jobs.photo(job.id(), photo.id(), PhotoSize.SMALL).getInputStream()) {
            return new Picture(
                    "data:image/jpeg;base64," + Base64.getEncoder().encodeToString(in.readAllBytes()),
                    photo.shows().name().toLowerCase(Locale.ROOT) + ", " + show.moment(photo.addedAt(), job.zone()));
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private static com.openhtmltopdf.extend.FSSupplier<InputStream> font(String weight) {
        return () -> {
            try {
                return new ClassPathResource("fonts/AtkinsonHyperlegibleNext-" + weight + ".ttf").getInputStream();
            } catch (IOException e) {
                throw new UncheckedIOException(e);
            }
        };
    }
}

package org.quarterlight.repair;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.Base64;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.quarterlight.photo.PhotoSize;
import org.quarterlight.web.PdfPages;
import org.quarterlight.web.Show;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Service;

/** The record of a closed job on paper: one template, drawn as PDF. */
@Service
public class RecordPdf {
    private final PdfPages pages;
    private final RepairJobs jobs;
    private final Show show;

    RecordPdf(PdfPages pages, RepairJobs jobs, Show show) {
        this.pages = pages;
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
        return pages.draw(
                "repair/record-pdf",
                Map.of("job", job, "drawing", JobDrawing.forPrint(job.brief()), "photos", pictures(job)));
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
}

package org.quarterlight.repair;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.Base64;
import java.util.List;
import java.util.Map;
import org.quarterlight.photo.PhotoSize;
import org.quarterlight.photo.Photos;
import org.quarterlight.tenancy.TenantId;
import org.quarterlight.web.PdfPages;
import org.quarterlight.web.QrPicture;
import org.quarterlight.web.Show;
import org.springframework.stereotype.Component;

/** A certificate on paper, drawn from the signed content alone: one template, on one page as long as it can be read. */
@Component
class CertificatePaper {
    /** Ever closer, and never smaller than 7 points: the last may take more pages than one. */
    private static final List<String> SPACINGS = List.of("roomy", "close", "closest");

    private static final int MOST_PHOTOS = 4;

    private final PdfPages pages;
    private final Photos photos;
    private final Show show;

    CertificatePaper(PdfPages pages, Photos photos, Show show) {
        this.pages = pages;
        this.photos = photos;
        this.show = show;
    }

    /** A photo as the page holds it. */
    record Picture(String data, String words) {}

    /** @param address where anybody may check the certificate */
    byte[] of(IssuedCertificate issued, String address) {
        var job = issued.content().job();
        var title = "The windscreen of " + job.registration() + ", seen from outside";
        var pictures = pictures(job);
        var paper = new byte[0];
        for (var spacing : SPACINGS) {
            paper = pages.archivable(
                    "repair/certificate-pdf",
                    Map.ofEntries(
                            Map.entry("certificate", issued.content()),
                            Map.entry("job", job),
                            Map.entry("signed", issued.signed()),
                            Map.entry("drawing", PdfPages.described(JobDrawing.forPrint(job.brief()), title)),
                            Map.entry(
                                    "code",
                                    PdfPages.described(
                                            QrPicture.svg(
                                                    address + "?hash="
                                                            + issued.signed().sha256(),
                                                    "Code"),
                                            "Code that leads to " + address)),
                            Map.entry("address", address),
                            Map.entry("photos", pictures),
                            Map.entry("photosLeftOut", job.photos().size() - pictures.size()),
                            Map.entry(
                                    "phaseLines",
                                    job.phases().stream().map(PhaseLine::of).toList()),
                            Map.entry("spacing", spacing)));
            if (PdfPages.count(paper) == 1) {
                break;
            }
        }
        return paper;
    }

    private List<Picture> pictures(CertifiedJob job) {
        return job.photos().stream()
                .filter(photo -> photo.shows() != PhotoShows.OTHER)
                .limit(MOST_PHOTOS)
                .map(photo -> picture(job, photo))
                .toList();
    }

    private Picture picture(CertifiedJob job, JobPhoto photo) {
        try (var in = photos.shown(new TenantId(job.fleet()), photo.sha256(), PhotoSize.SMALL)
                .getInputStream()) {
            return new Picture(
                    "data:image/jpeg;base64," + Base64.getEncoder().encodeToString(in.readAllBytes()),
                    show.word(photo.shows()) + ", " + show.dated(photo.addedAt(), job.zone()));
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}

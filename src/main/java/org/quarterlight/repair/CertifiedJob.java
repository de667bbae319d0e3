package org.quarterlight.repair;

import java.time.Instant;
import java.time.ZoneId;
import java.util.List;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/**
 * Of a closed job what is certified: what was done to which glass, by whom, how and when. Not what it cost, who pays, or
 * whom to call, for a certificate is shown to others.
 *
 * @param startToldLate that it was told long after that it began, in words; null where it was told in time
 * @param inspectionOffsetSeconds how far the device's clock was ahead that measured when it was looked over
 * @param inspectionToldLate as {@code startToldLate}
 * @param measuredOnSite the numbers of the damages that were measured again at the vehicle; null in certificates from before
 */
public record CertifiedJob(
        UUID id,
        int number,
        Work work,
        UUID fleet,
        UUID performer,
        String performerName,
        UUID vehicle,
        String registration,
        ZoneId zone,
        JobBrief brief,
        @Nullable UUID follows,
        boolean warranty,
        @Nullable String technicianName,
        @Nullable Result result,
        @Nullable String closingNotes,
        @Nullable String glassMarking,
        @Nullable JobMethod method,
        @Nullable Calibration calibration,
        Instant requestedAt,
        @Nullable Instant approvedAt,
        @Nullable Instant startedAt,
        @Nullable Instant inspectedAt,
        @Nullable Instant endedAt,
        @Nullable String endedBy,
        List<JobPhase> phases,
        List<JobNote> notes,
        List<JobPhoto> photos,
        List<JobReading> readings,
        List<JobOverride> overrides,
        @Nullable JobAcceptance acceptance,
        @Nullable String startToldLate,
        @Nullable Integer inspectionOffsetSeconds,
        @Nullable String inspectionToldLate,
        @Nullable List<Integer> measuredOnSite) {
    public CertifiedJob {
        phases = List.copyOf(phases);
        notes = List.copyOf(notes);
        photos = List.copyOf(photos);
        readings = List.copyOf(readings);
        overrides = List.copyOf(overrides);
        measuredOnSite = measuredOnSite == null ? null : List.copyOf(measuredOnSite);
    }

    static CertifiedJob of(JobView job) {
        return new CertifiedJob(
                job.id(),
                job.number(),
                job.work(),
                job.fleet(),
                job.performer(),
                job.performerName(),
                job.vehicle(),
                job.registration(),
                job.zone(),
                withoutContact(job.brief()),
                job.follows(),
                job.warranty(),
                job.technicianName(),
                job.result(),
                job.closingNotes(),
                job.glassMarking(),
                job.method(),
                job.calibration(),
                job.requestedAt(),
                job.approvedAt(),
                job.startedAt(),
                job.inspectedAt(),
                job.endedAt(),
                job.endedBy(),
                job.phases(),
                job.notes(),
                job.photos(),
                job.readings(),
                job.overrides(),
                job.acceptance(),
                job.startToldLate(),
                job.inspectionOffsetSeconds(),
                job.inspectionToldLate(),
                measuredOnSite(job));
    }

    private static List<Integer> measuredOnSite(JobView job) {
        var measured = job.notes().stream().map(JobNote::measuredDamage).toList();
        return job.brief().damages().stream()
                .filter(damage -> measured.contains(damage.id()))
                .map(JobBrief.BriefDamage::number)
                .toList();
    }

    private static JobBrief withoutContact(JobBrief brief) {
        var depot = brief.depot();
        return new JobBrief(
                brief.fleet(),
                brief.registration(),
                brief.vin(),
                brief.vehicle(),
                brief.category(),
                brief.glass(),
                brief.genericGlass(),
                brief.driversZoneMm(),
                brief.damages(),
                brief.sheets(),
                new JobBrief.Place(
                        depot.id(),
                        depot.name(),
                        depot.address(),
                        depot.latitude(),
                        depot.longitude(),
                        depot.zone(),
                        depot.country(),
                        depot.openingHours(),
                        depot.coveredBays(),
                        ""),
                brief.accepting());
    }
}

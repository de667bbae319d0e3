package org.quarterlight.repair;

import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.List;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/**
 * A job with its brief and its record so far, as both parties see it.
 *
 * @param calibration the last one that passed
 * @param calibrations all of them, failed ones too
 * @param startArrivedAt when the service heard that it began, as the others of their time; null where that was not kept yet
 * @param startToldLate that it was told long after that it began, in words; null where it was told in time
 * @param inspectionOffsetSeconds how far the device's clock was ahead that measured when it was looked over
 * @param inspectionToldLate as {@code startToldLate}
 * @param acceptance what the last look over found of the repairs, and what the sheets of the brief said of it
 * @param asked what the look over has to say of each damage while the work is under way
 * @param warrantyEnded the last day of the warranty that this job asked for too late, so that it is charged as agreed
 * @param cameBackAt the repair was asked for again
 * @param contested the performer says why it has not failed
 */
public record JobView(
        UUID id,
        int number,
        Work work,
        JobState state,
        UUID fleet,
        UUID performer,
        String performerName,
        UUID vehicle,
        String registration,
        String depotName,
        ZoneId zone,
        LocalDate actBy,
        JobBrief brief,
        @Nullable UUID follows,
        boolean warranty,
        @Nullable UUID technician,
        @Nullable String technicianName,
        @Nullable LocalDate plannedOn,
        @Nullable String reason,
        @Nullable Result result,
        @Nullable String closingNotes,
        @Nullable String lotNumber,
        @Nullable String glassMarking,
        @Nullable JobMethod method,
        @Nullable Calibration calibration,
        @Nullable JobAcceptance acceptance,
        List<AskedOfFinished> asked,
        List<Calibration> calibrations,
        Payer payer,
        @Nullable String claimReference,
        @Nullable ChargeView charge,
        @Nullable LocalDate warrantyEnded,
        @Nullable Instant cameBackAt,
        @Nullable Contest contested,
        Instant requestedAt,
        String requestedBy,
        @Nullable Instant approvedAt,
        @Nullable Instant startedAt,
        @Nullable Instant inspectedAt,
        @Nullable Instant endedAt,
        @Nullable String endedBy,
        @Nullable Instant startArrivedAt,
        @Nullable Instant inspectionArrivedAt,
        @Nullable Instant endArrivedAt,
        @Nullable String startToldLate,
        @Nullable Integer inspectionOffsetSeconds,
        @Nullable String inspectionToldLate,
        List<JobPhase> phases,
        List<JobNote> notes,
        List<JobPhoto> photos,
        List<JobReading> readings,
        List<JobOverride> overrides,
        List<JobDeviceTime> deviceTimes,
        int version) {
    public JobView {
        calibrations = List.copyOf(calibrations);
        phases = List.copyOf(phases);
        notes = List.copyOf(notes);
        photos = List.copyOf(photos);
        readings = List.copyOf(readings);
        overrides = List.copyOf(overrides);
        asked = List.copyOf(asked);
        deviceTimes = List.copyOf(deviceTimes);
    }

    /** That it was told long after that it ended, in words; else null. */
    public @Nullable String endToldLate() {
        return endedAt == null ? null : Lateness.told(endedAt, endArrivedAt, false);
    }
}

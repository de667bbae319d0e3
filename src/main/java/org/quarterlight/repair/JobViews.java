package org.quarterlight.repair;

import java.time.ZoneId;
import java.util.List;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.tenancy.Role;
import org.springframework.stereotype.Component;

/** Gathers what both parties see of a job. */
@Component
class JobViews {
    private final JobAccess access;
    private final JobRecords records;
    private final Charges charges;
    private final FinishedWork finished;

    JobViews(JobAccess access, JobRecords records, Charges charges, FinishedWork finished) {
        this.finished = finished;
        this.access = access;
        this.records = records;
        this.charges = charges;
    }

    JobView of(Job job) {
        // What it costs is between those who agreed on it; whoever stands at the glass is told by none of the lists
        // either.
        var seesMoney = Acting.current()
                .map(acting -> acting.isAny(Role.ADMINISTRATOR, Role.MANAGER, Role.DISPATCHER))
                .orElse(true);
        var brief = access.brief(job);
        var calibrations = records.calibrations(job);
        return new JobView(
                job.id(),
                job.number(),
                job.work(),
                job.state(),
                job.fleet(),
                job.performer(),
                job.performerName(),
                job.vehicle(),
                job.registration(),
                job.depotName(),
                ZoneId.of(job.zone()),
                job.actBy(),
                brief,
                job.follows(),
                job.warranty(),
                job.technician(),
                job.technicianName(),
                job.plannedOn(),
                job.reason(),
                job.result(),
                job.closingNotes(),
                job.lotNumber(),
                job.glassMarking(),
                access.method(job),
                calibrations.stream()
                        .filter(each -> !Boolean.FALSE.equals(each.passed()))
                        .reduce((first, second) -> second)
                        .orElse(null),
                finished.of(job),
                job.state() == JobState.UNDER_WAY ? finished.asked(brief) : List.of(),
                calibrations,
                job.payer(),
                seesMoney ? job.claimReference() : null,
                seesMoney ? charges.of(job) : null,
                seesMoney ? charges.endedWarranty(job) : null,
                job.cameBackAt(),
                job.contested(),
                job.requestedAt(),
                job.requestedBy(),
                job.approvedAt(),
                job.startedAt(),
                job.inspectedAt(),
                job.endedAt(),
                job.endedBy(),
                job.startRecordedAt(),
                job.inspectionRecordedAt(),
                job.endRecordedAt(),
                job.startToldLate(),
                job.inspectionOffsetSeconds(),
                job.inspectionToldLate(),
                records.phases(job),
                records.notes(job),
                records.photos(job),
                records.readings(job),
                records.overrides(job),
                records.deviceTimes(job),
                job.version());
    }
}

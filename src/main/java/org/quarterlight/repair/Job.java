package org.quarterlight.repair;

import jakarta.persistence.Column;
import jakarta.persistence.Entity;
import jakarta.persistence.EnumType;
import jakarta.persistence.Enumerated;
import jakarta.persistence.Id;
import jakarta.persistence.Version;
import java.time.Instant;
import java.time.LocalDate;
import java.util.Set;
import java.util.UUID;
import org.hibernate.annotations.ColumnTransformer;
import org.jspecify.annotations.Nullable;

/** The work order for damages of one windscreen in one visit. States change by verbs, each allowed in some states only. */
@Entity
class Job {
    @Id
    private UUID id;

    private @Column(updatable = false) UUID tenantId;
    private UUID performerId;
    private @Column(updatable = false) int number;
    private @Column(updatable = false) @Enumerated(EnumType.STRING) Work work;
    private @Enumerated(EnumType.STRING) JobState state = JobState.REQUESTED;
    private @Column(updatable = false) UUID vehicleId;
    private @Column(updatable = false) UUID windscreenId;
    private @Column(updatable = false) String registration;
    private @Column(updatable = false) String registrationKey;
    private @Column(updatable = false) String depotName;
    private @Column(updatable = false) String zone;
    private @Column(updatable = false) LocalDate actBy;

    @Column(updatable = false)
    @ColumnTransformer(write = "cast(? as jsonb)")
    private String brief;

    private @Column(updatable = false) @Nullable UUID followsId;
    private @Column(updatable = false) boolean warranty;
    private String performerName;
    private @Nullable UUID technicianId;
    private @Nullable String technicianName;
    private @Nullable LocalDate plannedOn;
    private @Nullable String reason;
    private @Enumerated(EnumType.STRING) @Nullable Result result;
    private @Nullable String closingNotes;
    private @Nullable String lotNumber;
    private @Nullable UUID fittedId;
    private @Nullable String glassMarking;

    @ColumnTransformer(write = "cast(? as jsonb)")
    private @Nullable String method;

    @ColumnTransformer(write = "cast(? as jsonb)")
    private @Nullable String acceptance;

    private @Enumerated(EnumType.STRING) Payer payer = Payer.FLEET;
    private @Nullable String claimReference;
    private @Nullable Instant cameBackAt;
    private @Nullable Instant contestedAt;
    private @Nullable String contestedBy;
    private @Nullable String contestReason;
    private @Nullable Instant calibratedAt;
    private @Nullable String calibratedBy;
    private @Nullable String calibration;
    private @Column(updatable = false) Instant requestedAt;
    private @Column(updatable = false) String requestedBy;
    private @Nullable Instant approvedAt;
    private @Nullable Instant startedAt;
    private @Nullable Instant startRecordedAt;
    private @Nullable Instant inspectedAt;
    private @Nullable Instant inspectionRecordedAt;
    private @Nullable Integer inspectionOffsetSeconds;
    private @Nullable Boolean inspectionQueued;
    private @Nullable Boolean startQueued;
    private @Nullable UUID inspectionPersonId;
    private @Nullable Instant endRecordedAt;
    private @Nullable Instant endedAt;
    private @Nullable String endedBy;
    private @Version @Nullable Integer version;

    protected Job() {}

    /** What a job is made of; it is performed by the fleet itself until it is shared. */
    record Order(
            UUID id,
            UUID fleet,
            String fleetName,
            int number,
            Work work,
            UUID vehicle,
            UUID windscreen,
            String registration,
            String registrationKey,
            String depotName,
            String zone,
            LocalDate actBy,
            String brief,
            @Nullable UUID follows,
            boolean warranty,
            Instant at,
            String by) {}

    Job(Order order) {
        this.id = order.id();
        this.tenantId = order.fleet();
        this.performerId = order.fleet();
        this.performerName = order.fleetName();
        this.number = order.number();
        this.work = order.work();
        this.vehicleId = order.vehicle();
        this.windscreenId = order.windscreen();
        this.registration = order.registration();
        this.registrationKey = order.registrationKey();
        this.depotName = order.depotName();
        this.zone = order.zone();
        this.actBy = order.actBy();
        this.brief = order.brief();
        this.followsId = order.follows();
        this.warranty = order.warranty();
        this.requestedAt = order.at();
        this.requestedBy = order.by();
    }

    void approve(Instant at) {
        allowIn("approved", JobState.REQUESTED);
        state = JobState.APPROVED;
        approvedAt = at;
    }

    void decline(String why, Instant at, String by) {
        allowIn("declined", JobState.REQUESTED);
        end(JobState.DECLINED, why, at, by);
    }

    void withdraw(String why, Instant at, String by) {
        allowIn("withdrawn", JobState.REQUESTED, JobState.APPROVED, JobState.PLANNED);
        plannedOn = null;
        end(JobState.DECLINED, why, at, by);
    }

    void share(UUID partner, String partnerName) {
        allowIn("shared", JobState.APPROVED);
        performerId = partner;
        performerName = partnerName;
        technicianId = null;
        technicianName = null;
    }

    void assign(@Nullable UUID technician, @Nullable String name) {
        allowIn("assigned", JobState.APPROVED, JobState.PLANNED);
        technicianId = technician;
        technicianName = name;
    }

    void leave(String why) {
        allowIn("handed back", JobState.APPROVED, JobState.PLANNED);
        state = JobState.APPROVED;
        plannedOn = null;
        technicianId = null;
        technicianName = null;
        reason = why;
    }

    void plan(LocalDate on, @Nullable UUID technician, @Nullable String name) {
        allowIn("planned", JobState.APPROVED, JobState.PLANNED);
        state = JobState.PLANNED;
        plannedOn = on;
        if (technician != null) {
            technicianId = technician;
            technicianName = name;
        }
    }

    /** Saying so twice changes nothing. */
    void takeOff() {
        if (state == JobState.PLANNED) {
            state = JobState.APPROVED;
            plannedOn = null;
        }
    }

    void start(UUID technician, String name, @Nullable String byMethod, Told told) {
        allowIn("started", JobState.APPROVED, JobState.PLANNED);
        // Whoever starts it does it, whomever it was given to.
        technicianId = technician;
        technicianName = name;
        method = byMethod;
        state = JobState.UNDER_WAY;
        startedAt = told.at();
        startRecordedAt = told.arrivedAt();
        startQueued = told.queued();
    }

    void record(String what) {
        allowIn(what, JobState.UNDER_WAY, JobState.INSPECTED);
    }

    void recordPhase() {
        allowIn("worked on", JobState.UNDER_WAY);
    }

    /** @param found what was found of the repairs and what the sheets say of it, JSON; null where nobody was asked */
    void inspected(boolean passed, @Nullable String why, @Nullable String found, Told told, @Nullable UUID person) {
        if (passed) {
            allowIn("inspected", JobState.UNDER_WAY);
            state = JobState.INSPECTED;
            inspectedAt = told.at();
            inspectionRecordedAt = told.arrivedAt();
            inspectionOffsetSeconds = told.offsetSeconds();
            inspectionQueued = told.queued();
            inspectionPersonId = person;
        } else {
            // Also where it had passed: what blocks the closing may be work that is still to be done.
            allowIn("inspected", JobState.UNDER_WAY, JobState.INSPECTED);
            state = JobState.UNDER_WAY;
            inspectedAt = null;
            inspectionRecordedAt = null;
            inspectionOffsetSeconds = null;
            inspectionQueued = null;
        }
        reason = why;
        acceptance = found;
    }

    void close(
            Result how,
            String notes,
            @Nullable String lot,
            @Nullable UUID fitted,
            @Nullable String marking,
            Told told,
            String by) {
        allowIn("closed", JobState.INSPECTED);
        result = how;
        closingNotes = notes;
        lotNumber = lot;
        fittedId = fitted;
        glassMarking = marking;
        end(JobState.CLOSED, reason, told.at(), by);
        endRecordedAt = told.arrivedAt();
    }

    void abandon(String why, Told told, String by) {
        allowIn("abandoned", JobState.UNDER_WAY);
        end(JobState.ABANDONED, why, told.at(), by);
        endRecordedAt = told.arrivedAt();
    }

    /** The repair has failed afterwards, or somebody was wrong to say so. */
    void cameBack(@Nullable Instant at) {
        cameBackAt = at;
        if (at == null) {
            contestedAt = null;
            contestedBy = null;
            contestReason = null;
        }
    }

    /** Whoever did it says once why it has not failed. */
    void contest(String reason, Instant at, String by) {
        if (cameBackAt == null) {
            throw new JobRefused("not-claimed", "Nobody has said that this repair failed.");
        }
        if (contestedAt != null) {
            throw new JobRefused("contested", "This was contested already, by " + contestedBy + ".");
        }
        contestReason = reason;
        contestedAt = at;
        contestedBy = by;
    }

    void paidBy(Payer who, @Nullable String claim) {
        if (state == JobState.DECLINED) {
            throw JobRefused.inState("paid for", state);
        }
        payer = who;
        claimReference = claim;
    }

    private void end(JobState how, @Nullable String why, Instant at, String by) {
        state = how;
        reason = why;
        endedAt = at;
        endedBy = by;
    }

    private void allowIn(String verb, JobState... states) {
        if (!Set.of(states).contains(state)) {
            throw JobRefused.inState(verb, state);
        }
    }

    UUID id() {
        return id;
    }

    UUID fleet() {
        return tenantId;
    }

    UUID performer() {
        return performerId;
    }

    String performerName() {
        return performerName;
    }

    int number() {
        return number;
    }

    Work work() {
        return work;
    }

    JobState state() {
        return state;
    }

    UUID windscreen() {
        return windscreenId;
    }

    UUID vehicle() {
        return vehicleId;
    }

    String registration() {
        return registration;
    }

    String depotName() {
        return depotName;
    }

    String zone() {
        return zone;
    }

    LocalDate actBy() {
        return actBy;
    }

    String brief() {
        return brief;
    }

    @Nullable
    UUID follows() {
        return followsId;
    }

    boolean warranty() {
        return warranty;
    }

    @Nullable
    UUID technician() {
        return technicianId;
    }

    @Nullable
    String technicianName() {
        return technicianName;
    }

    @Nullable
    LocalDate plannedOn() {
        return plannedOn;
    }

    @Nullable
    String reason() {
        return reason;
    }

    @Nullable
    Result result() {
        return result;
    }

    @Nullable
    String closingNotes() {
        return closingNotes;
    }

    @Nullable
    String lotNumber() {
        return lotNumber;
    }

    @Nullable
    String glassMarking() {
        return glassMarking;
    }

    /** As JSON; null before it began, and of new glass. */
    @Nullable
    String method() {
        return method;
    }

    /** As JSON; null where nobody has looked over it since the work went on. */
    @Nullable
    String acceptance() {
        return acceptance;
    }

    /** As it was written in words alone. */
    @Nullable
    Calibration calibration() {
        return calibration == null || calibratedAt == null || calibratedBy == null
                ? null
                : new Calibration(calibration, calibratedAt, calibratedBy, null, null, null, null);
    }

    @Nullable
    Instant cameBackAt() {
        return cameBackAt;
    }

    @Nullable
    Contest contested() {
        return contestedAt == null || contestedBy == null || contestReason == null
                ? null
                : new Contest(contestedAt, contestedBy, contestReason);
    }

    Payer payer() {
        return payer;
    }

    @Nullable
    String claimReference() {
        return claimReference;
    }

    Instant requestedAt() {
        return requestedAt;
    }

    String requestedBy() {
        return requestedBy;
    }

    @Nullable
    Instant approvedAt() {
        return approvedAt;
    }

    @Nullable
    Instant startedAt() {
        return startedAt;
    }

    @Nullable
    Instant inspectedAt() {
        return inspectedAt;
    }

    /** When the service heard that it began; null where that was not kept yet. */
    @Nullable
    Instant startRecordedAt() {
        return startRecordedAt;
    }

    @Nullable
    Instant inspectionRecordedAt() {
        return inspectionRecordedAt;
    }

    @Nullable
    Integer inspectionOffsetSeconds() {
        return inspectionOffsetSeconds;
    }

    /** That it was told late that it began, in words; else null. Jobs that began before that was asked are let be. */
    @Nullable
    String startToldLate() {
        return startedAt == null || startQueued == null ? null : Lateness.told(startedAt, startRecordedAt, startQueued);
    }

    /** The same of the look over that it passed. */
    @Nullable
    String inspectionToldLate() {
        return inspectedAt == null
                ? null
                : Lateness.told(
                        inspectedAt, inspectionRecordedAt, Lateness.queued(inspectionQueued, inspectionOffsetSeconds));
    }

    /** Who looked it over last. */
    @Nullable
    UUID inspectionPerson() {
        return inspectionPersonId;
    }

    @Nullable
    Instant endRecordedAt() {
        return endRecordedAt;
    }

    @Nullable
    Instant endedAt() {
        return endedAt;
    }

    @Nullable
    String endedBy() {
        return endedBy;
    }

    int version() {
        return version == null ? 0 : version;
    }
}

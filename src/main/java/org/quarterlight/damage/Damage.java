package org.quarterlight.damage;

import jakarta.persistence.Column;
import jakarta.persistence.Entity;
import jakarta.persistence.EnumType;
import jakarta.persistence.Enumerated;
import jakarta.persistence.Id;
import jakarta.persistence.Version;
import java.math.BigDecimal;
import java.time.Instant;
import java.time.LocalDate;
import java.util.UUID;
import org.hibernate.annotations.DynamicUpdate;
import org.jspecify.annotations.Nullable;
import org.quarterlight.eligibility.Outcome;
import org.quarterlight.eligibility.Verdict;
import org.quarterlight.glass.DamageKind;

/** One impact on one windscreen. Judged after every observation, and open until repaired, replaced or withdrawn. */
@Entity
@DynamicUpdate // who notes the planned day by itself, without a version, is not overwritten by what was read before
class Damage {
    @Id
    private UUID id;
    /** Written by the table's default; mapped so that queries can name their side. */
    @Column(insertable = false, updatable = false)
    private @Nullable UUID tenantId;

    private UUID vehicleId;
    private UUID windscreenId;
    private int number;
    private @Enumerated(EnumType.STRING) DamageKind kind;
    private @Enumerated(EnumType.STRING) DamageState state = DamageState.OPEN;
    private @Enumerated(EnumType.STRING) @Nullable ClosedAs closedAs;
    private @Nullable Instant closedAt;
    private @Nullable String closedBecause;
    private @Nullable UUID jobId;
    private @Nullable Integer abandonedJob;
    private @Nullable String abandonedBy;
    private @Nullable String abandonedBecause;
    private @Nullable Instant abandonedAt;
    private Instant occurredAt;
    private Instant arrivedAt;
    private String reportedBy;
    private @Nullable UUID personId;
    private @Nullable UUID cabCodeId;
    private @Enumerated(EnumType.STRING) Outcome outcome = Outcome.MEASURE_AGAIN;

    @Column(name = "rank")
    private short rank;

    private LocalDate actBy;
    private BigDecimal diameterMm;
    private @Nullable Instant failedAt;
    private @Nullable String failedBecause;
    private @Nullable UUID samePlaceId;
    private boolean untilMeasured;
    private @Nullable LocalDate passesOn;
    private @Nullable LocalDate plannedOn;
    private @Enumerated(EnumType.STRING) @Nullable PlannedBy plannedBy;
    private @Version @Nullable Integer version; // Integer, not int: null tells Spring Data that the damage is new

    protected Damage() {}

    Damage(
            UUID id,
            UUID vehicleId,
            UUID windscreenId,
            int number,
            DamageKind kind,
            Instant occurredAt,
            Instant arrivedAt,
            Reporter reporter,
            BigDecimal diameterMm,
            LocalDate actBy) {
        this.id = id;
        this.vehicleId = vehicleId;
        this.windscreenId = windscreenId;
        this.number = number;
        this.kind = kind;
        this.occurredAt = occurredAt;
        this.arrivedAt = arrivedAt;
        this.reportedBy = reporter.name();
        this.personId = reporter.person();
        this.cabCodeId = reporter.cabCode();
        this.diameterMm = diameterMm;
        this.actBy = actBy;
        this.rank = (short) outcome.ordinal();
    }

    /** Who reports: a person, or whoever holds a vehicle's cab code. */
    record Reporter(
            String name, @Nullable UUID person, @Nullable UUID cabCode) {}

    void observed(DamageKind betterKind, BigDecimal newDiameterMm) {
        checkNotClosed();
        kind = betterKind;
        diameterMm = newDiameterMm;
    }

    void judged(Verdict verdict, boolean notDrivenUntilMeasured) {
        untilMeasured = notDrivenUntilMeasured;
        outcome = verdict.outcome();
        rank = (short) outcome.ordinal();
        actBy = verdict.by();
    }

    /** When it is expected to be judged worse, if it grows, and the day on which somebody sees to it. */
    void grows(@Nullable LocalDate passes, GrowthWatch.@Nullable Planned planned) {
        passesOn = passes;
        plannedOn = planned == null ? null : planned.on();
        plannedBy = planned == null ? null : planned.by();
    }

    void takeInHand(UUID job) {
        checkNotClosed();
        if (jobId != null && !jobId.equals(job)) {
            throw new DamageInHand(number);
        }
        jobId = job;
        state = DamageState.IN_HAND;
    }

    /** The job came to nothing; the damage is open again. Saying so twice changes nothing. */
    void letGo() {
        if (state == DamageState.IN_HAND) {
            jobId = null;
            state = DamageState.OPEN;
        }
    }

    void liesOn(@Nullable UUID repaired) {
        samePlaceId = repaired;
    }

    /** The job that has it in hand may have been asked for because of where it lies. */
    void isAnother() {
        if (state == DamageState.IN_HAND) {
            throw new DamageInHand(number);
        }
        samePlaceId = null;
    }

    /** Somebody tried to repair it and could not. */
    void abandoned(AbandonedRepair repair) {
        if (state != DamageState.CLOSED) {
            abandonedJob = repair.job();
            abandonedBy = repair.by();
            abandonedBecause = repair.because();
            abandonedAt = repair.at();
        }
    }

    /** Said by the job that has it in hand; said late, after another has taken it over, it changes nothing. */
    void repaired(UUID job, Instant at) {
        if (state != DamageState.CLOSED && job.equals(jobId)) {
            close(ClosedAs.REPAIRED, at, "");
        }
    }

    /** Its repair failed, so it is open again: what counts from now on is the next look and the next job. */
    void repairFailed() {
        if (closedAs == ClosedAs.REPAIRED) {
            state = DamageState.OPEN;
            closedAs = null;
            closedAt = null;
            closedBecause = null;
            jobId = null;
            failedAt = null;
            failedBecause = null;
        }
    }

    /** Somebody found its repair failed. It stays closed until the job that makes it good is asked for. */
    void foundFailed(Instant at, String reason) {
        if (closedAs != ClosedAs.REPAIRED) {
            throw new DamageNotRepaired(number);
        }
        if (failedAt == null) {
            failedAt = at;
            failedBecause = reason;
        }
    }

    /** New glass ends the damage of the old; saying so twice changes nothing. */
    void replaced(Instant at) {
        failedAt = null; // whatever failed went with its glass
        failedBecause = null;
        if (state != DamageState.CLOSED) {
            close(ClosedAs.REPLACED, at, "");
        }
    }

    void withdraw(Instant at, String reason) {
        gone(ClosedAs.WITHDRAWN, at, reason);
    }

    /** Somebody looked and it is not there any more; while a job is about it, the job says so. */
    void gone(ClosedAs how, Instant at, String reason) {
        checkNotClosed();
        if (state == DamageState.IN_HAND) {
            throw new DamageInHand(number);
        }
        close(how, at, reason);
    }

    private void close(ClosedAs how, Instant at, String reason) {
        state = DamageState.CLOSED;
        closedAs = how;
        closedAt = at;
        closedBecause = reason;
    }

    void checkNotClosed() {
        if (state == DamageState.CLOSED) {
            throw new DamageClosed(number);
        }
    }

    UUID id() {
        return id;
    }

    UUID vehicle() {
        return vehicleId;
    }

    UUID windscreen() {
        return windscreenId;
    }

    int number() {
        return number;
    }

    DamageKind kind() {
        return kind;
    }

    DamageState state() {
        return state;
    }

    @Nullable
    ClosedAs closedAs() {
        return closedAs;
    }

    @Nullable
    Instant closedAt() {
        return closedAt;
    }

    @Nullable
    String closedBecause() {
        return closedBecause;
    }

    @Nullable
    UUID job() {
        return jobId;
    }

    @Nullable
    UUID samePlace() {
        return samePlaceId;
    }

    @Nullable
    Instant failedAt() {
        return failedAt;
    }

    @Nullable
    String failedBecause() {
        return failedBecause;
    }

    @Nullable
    AbandonedRepair abandoned() {
        return abandonedJob == null || abandonedBy == null || abandonedBecause == null || abandonedAt == null
                ? null
                : new AbandonedRepair(abandonedJob, abandonedBy, abandonedBecause, abandonedAt);
    }

    Instant occurredAt() {
        return occurredAt;
    }

    String reportedBy() {
        return reportedBy;
    }

    @Nullable
    UUID person() {
        return personId;
    }

    @Nullable
    UUID cabCode() {
        return cabCodeId;
    }

    /** Nobody may drive with it until somebody has measured it. */
    boolean untilMeasured() {
        return untilMeasured;
    }

    Outcome outcome() {
        return outcome;
    }

    LocalDate actBy() {
        return actBy;
    }

    int version() {
        return version == null ? 0 : version;
    }
}

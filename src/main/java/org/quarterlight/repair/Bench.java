package org.quarterlight.repair;

import jakarta.validation.Valid;
import java.time.Clock;
import java.time.Duration;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Objects;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.bench.Pane;
import org.quarterlight.bench.PhaseKind;
import org.quarterlight.bench.Readiness;
import org.quarterlight.bench.Sun;
import org.quarterlight.bench.SunWindow;
import org.quarterlight.bench.Workplace;
import org.quarterlight.glass.Equipment;
import org.quarterlight.kernel.Ids;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.kernel.Reason;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.web.Words;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;
import org.springframework.validation.annotation.Validated;

/** What surrounds the work on a vehicle: conditions, who answers for what blocks it, materials, and what closing misses. */
@Service
@Validated
public class Bench {
    private static final String PARTIES = "hasAnyRole('MANAGER', 'DISPATCHER', 'TECHNICIAN')";
    private static final int MOST_READINGS = 100;

    private final JobAccess access;
    private final JobRecords records;
    private final ClosingRules closing;
    private final Materials materials;
    private final Stock stock;
    private final Clock clock;

    Bench(JobAccess access, JobRecords records, ClosingRules closing, Materials materials, Stock stock, Clock clock) {
        this.access = access;
        this.records = records;
        this.closing = closing;
        this.materials = materials;
        this.stock = stock;
        this.clock = clock;
    }

    /** How long a reading of air and glass speaks for what is begun after it. */
    public static Duration readingHolds() {
        return ClosingRules.READING_HOLDS;
    }

    /** Whether a phase waits where the last reading speaks against it. */
    public static boolean needsConditions(PhaseKind kind) {
        return ClosingRules.NEED_CONDITIONS.contains(kind);
    }

    /** Air, glass and sky are read; the answer says whether to go, wait or stop. */
    @Transactional
    @PreAuthorize("hasRole('TECHNICIAN')")
    public JobReading read(UUID id, @Valid ReadConditions command) {
        var job = access.performed(id);
        job.recordPhase();
        if (records.readings(job).size() >= MOST_READINGS) {
            throw new Invalid("airCelsius", "A job has up to " + MOST_READINGS + " readings");
        }
        var now = clock.instant();
        var told = access.told(job, command.occurredAt(), command.deviceClock(), now);
        var at = told.at();
        var conditions = command.conditions();
        var readiness = Readiness.of(conditions, access.methodOrGeneric(job).limits(), workplace(job), at);
        var reading = new JobReading(
                Ids.next(now),
                conditions,
                conditions.dewPointCelsius(),
                JobReading.Outcome.of(readiness),
                readiness.objections(),
                readiness.cautions(),
                at,
                Acting.require().name(),
                told.arrivedAt(),
                told.offsetSeconds(),
                told.queued());
        records.addReading(job, reading, Acting.require().person());
        access.touched(job);
        return reading;
    }

    /** When direct sun falls on this vehicle's glass on a day, if its front points there; today where no day is named. */
    @Transactional(readOnly = true)
    @PreAuthorize(PARTIES)
    public List<SunWindow> sun(UUID id, double bearingDegrees, @Nullable LocalDate on) {
        var job = access.find(id);
        if (!(bearingDegrees >= 0 && bearingDegrees <= 360)) {
            throw new Invalid("bearingDegrees", "Between 0 and 360");
        }
        var place = workplace(job);
        var day = Objects.requireNonNullElseGet(on, () -> LocalDate.now(clock.withZone(place.zone())));
        if (day.getYear() < 1950 || day.getYear() > 2200) {
            throw new Invalid("date", "Between 1950 and 2200");
        }
        return Sun.windows(
                day, place.zone(), place.latitude(), place.longitude(), new Pane(bearingDegrees, place.rakeDegrees()));
    }

    /** Somebody of the performer's who may answers for a gap, now, with a reason that stays in the record. */
    @Transactional
    @PreAuthorize("hasAnyRole('DISPATCHER', 'MANAGER')")
    public JobOverride override(UUID id, Gap gap, String reason) {
        var why = Reason.given(reason);
        var job = access.performed(id);
        job.record("answered for");
        if (!gap.overridable()) {
            throw new JobRefused("not-overridable", "Nobody can answer for this one: it has to be mended.");
        }
        if (gap == Gap.LATE && records.isToldBy(job, Acting.require().person())) {
            throw new JobRefused(
                    "own-word",
                    "You told some of this record yourself. Somebody who told none of it answers for when it was told.");
        }
        var now = clock.instant();
        var override =
                new JobOverride(Ids.next(now), gap, why, now, Acting.require().name());
        records.addOverride(job, override);
        access.tell("answered for " + gap.name().toLowerCase(java.util.Locale.ROOT), access.touched(job), why);
        return override;
    }

    /** The camera behind new glass is set again, or that failed; both stay in the record. */
    @Transactional
    @PreAuthorize("hasRole('TECHNICIAN')")
    public void calibrate(UUID id, @Valid CalibrateCamera command) {
        var job = access.performed(id);
        if (job.work() != Work.REPLACEMENT) {
            throw new JobRefused("no-new-glass", "Only new glass asks for a calibration.");
        }
        job.record("calibrated");
        var words = Objects.requireNonNullElse(command.words(), "").trim();
        if (!command.passed() && words.isEmpty()) {
            throw new Invalid("words", "Say why it failed");
        }
        var fitted = records.phases(job).stream()
                .map(phase -> Objects.requireNonNullElse(phase.endedAt(), phase.startedAt()))
                .max(Comparator.naturalOrder())
                .orElse(null);
        var told = access.told(job, command.occurredAt(), command.deviceClock(), clock.instant())
                .notBefore(fitted, "occurredAt", "The glass was not in then: a camera is calibrated behind it");
        records.addCalibration(
                job,
                Ids.next(clock.instant()),
                new Calibration(
                        words,
                        told.at(),
                        Acting.require().name(),
                        command.passed(),
                        command.manner(),
                        command.tool().trim(),
                        told.arrivedAt()),
                told.arrivedAt());
        access.tell(
                command.passed() ? "calibrated the camera of" : "could not calibrate the camera of",
                access.touched(job),
                command.tool().trim());
    }

    /** A lot goes into the job; one that has expired or was recalled does not. */
    @Transactional
    @PreAuthorize("hasRole('TECHNICIAN')")
    public void use(UUID id, @Valid UseLot command) {
        var job = access.performed(id);
        job.record("worked on");
        var told = access.told(job, command.occurredAt(), command.deviceClock(), clock.instant());
        var lot = materials.named("lot", command.lot());
        if (command.quantity() != null && command.place() == null) {
            throw new Invalid("place", "Say where it was taken from");
        }
        if (command.place() != null && command.quantity() == null) {
            throw new Invalid(
                    "quantity", "Say how much, in " + Words.spoken(lot.kind().unit()));
        }
        if (!lot.kind().goesInto(job.work())) {
            throw new Invalid("lot", lot.kind().refusal(job.work()));
        }
        // What went in before a recall is in the glass; the closing asks who answers for it.
        var zone = ZoneId.of(job.zone());
        var blocked = command.occurredAt() == null
                ? lot.blocked(told.at().atZone(zone).toLocalDate())
                : lot.blockedAt(told.at(), zone);
        blocked.ifPresent(why -> {
            throw new Invalid("lot", why);
        });
        materials.use(
                lot.id(),
                job.id(),
                Objects.requireNonNullElse(command.amount(), "").trim(),
                told);
        if (command.place() != null && command.quantity() != null) {
            stock.used(lot, job.id(), command.place(), command.quantity(), told.at());
        }
        access.touched(job);
    }

    /** What would keep the job from being closed now, beside how it came out and the notes. */
    @Transactional(readOnly = true)
    @PreAuthorize(PARTIES)
    public List<ClosingGap> missing(UUID id) {
        var job = access.find(id);
        return switch (job.state()) {
            case UNDER_WAY, INSPECTED ->
                closing.gaps(job, null, new Told(clock.instant(), clock.instant(), null, false));
            default -> List.of();
        };
    }

    /** What to take care of at this vehicle, each a sentence; by what its glass carries. */
    public static List<String> cautions(JobView job) {
        var glass = job.brief().glass();
        var cautions = new ArrayList<String>();
        if (glass.cameraArea() != null || glass.equipment().contains(Equipment.CAMERA)) {
            cautions.add(
                    job.work() == Work.REPAIR
                            ? "A camera looks through this glass. Leave its area and its bracket alone; a repair in"
                                    + " front of it can disturb it."
                            : "A camera looks through this glass. It is calibrated before the vehicle is released.");
        }
        if (glass.equipment().contains(Equipment.HEATING)) {
            cautions.add("The glass is heated: heating off, and neither drill nor blade on its wires.");
        }
        if (glass.equipment().contains(Equipment.RAIN_SENSOR)) {
            cautions.add("A rain sensor sits on the glass: wipers off before anything is wet.");
        }
        if (glass.equipment().contains(Equipment.AIRBAG_SENSOR)) {
            cautions.add("Sensors of the airbags are near: ignition off, nothing knocked against their mounts.");
        }
        return cautions;
    }

    private Workplace workplace(Job job) {
        var brief = access.brief(job);
        return new Workplace(
                brief.depot().latitude().doubleValue(),
                brief.depot().longitude().doubleValue(),
                brief.depot().zone(),
                brief.glass().rakeDegrees());
    }
}

package org.quarterlight.repair;

import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumSet;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.quarterlight.bench.Departure;
import org.quarterlight.bench.MethodCheck;
import org.quarterlight.bench.PhaseKind;
import org.quarterlight.glass.Equipment;
import org.quarterlight.web.Words;
import org.springframework.stereotype.Component;

/** What a record needs before its job may be closed. Nothing else decides it: pages and paths ask the same. */
@Component
class ClosingRules {
    /** From the resin to the lamp: what the weather can spoil. */
    static final Set<PhaseKind> NEED_CONDITIONS = EnumSet.of(PhaseKind.INJECT, PhaseKind.PIT_FILL, PhaseKind.CURE);

    /** Ours: air and glass change within the hour. */
    static final Duration READING_HOLDS = Duration.ofMinutes(60);

    private final JobRecords records;
    private final JobAccess access;
    private final Materials materials;

    ClosingRules(JobRecords records, JobAccess access, Materials materials) {
        this.records = records;
        this.access = access;
        this.materials = materials;
    }

    /** Of a job that would be closed like this at that time; without a command, what does not depend on it. */
    List<ClosingGap> gaps(Job job, @Nullable CloseJob command, Instant at) {
        var gaps = new ArrayList<ClosingGap>();
        photos(job, gaps);
        var phases = records.phases(job);
        var day = at.atZone(ZoneId.of(job.zone())).toLocalDate();
        if (job.work() == Work.REPLACEMENT) {
            if (phases.stream().anyMatch(phase -> phase.endedAt() == null)) {
                add(gaps, job, Gap.CLOCK, "The clock of a phase is still running.");
            }
            if (command != null && command.result() != Result.REPLACED) {
                add(gaps, job, Gap.RESULT, "A replacement ends as replaced.");
            }
            if (hasCamera(job) && job.calibration() == null) {
                add(
                        gaps,
                        job,
                        Gap.CALIBRATION,
                        "The camera behind the new glass is not calibrated: the vehicle is not released before.");
            }
        } else {
            repair(job, phases, gaps);
            if (command != null && command.result() == Result.REPLACED) {
                add(
                        gaps,
                        job,
                        Gap.RESULT,
                        "A repair does not end as replaced. Abandon it, and the fleet gets a request for new glass.");
            }
        }
        var recalled = lots(job, command == null ? null : command.resinLot(), gaps, day);
        var done = done(phases);
        var answeredFor = records.overrides(job).stream()
                .filter(override -> override.gap() != Gap.CONDITIONS) // asked where the readings are
                .filter(override -> answers(override, done, recalled))
                .map(JobOverride::gap)
                .collect(Collectors.toSet());
        gaps.removeIf(gap -> gap.overridable() && answeredFor.contains(gap.gap()));
        return List.copyOf(gaps);
    }

    /** What of the method is not done yet: before that nobody can have looked over the work. */
    List<String> unfinished(Job job) {
        var phases = records.phases(job);
        if (job.work() == Work.REPLACEMENT) {
            return phases.stream().anyMatch(phase -> phase.endedAt() == null)
                    ? List.of("The clock of a phase is still running.")
                    : List.of();
        }
        var done = done(phases);
        var answered = records.overrides(job).stream()
                .anyMatch(override ->
                        override.gap() == Gap.PHASES && !override.madeAt().isBefore(done));
        return MethodCheck.departures(
                        access.methodOrGeneric(job),
                        phases.stream().map(JobPhase::done).toList())
                .stream()
                .filter(departure -> departure.what() == Departure.What.RUNNING
                        || departure.what() == Departure.What.MISSING && !answered)
                .map(Departure::sentence)
                .toList();
    }

    /** When the last of it arrived. */
    private static Instant done(List<JobPhase> phases) {
        return phases.stream()
                .flatMap(phase -> Stream.of(
                        phase.arrivedAt(), Objects.requireNonNullElse(phase.endArrivedAt(), phase.arrivedAt())))
                .max(Comparator.naturalOrder())
                .orElse(Instant.MIN);
    }

    /** Nobody answers for what is still to come, a phase or a recall. */
    private static boolean answers(JobOverride override, Instant done, Instant recalled) {
        return !override.madeAt().isBefore(override.gap() == Gap.LOT_RECALLED ? recalled : done);
    }

    /** Whether what was read last allows resin and lamp, or somebody answered for it since. */
    boolean allowed(Job job, JobReading reading) {
        return records.overrides(job).stream()
                        .anyMatch(override -> override.gap() == Gap.CONDITIONS && allowed(reading, override.madeAt()))
                || allowed(reading, Instant.MIN);
    }

    private static boolean allowed(JobReading reading, Instant answers) {
        return reading.outcome() == JobReading.Outcome.GO || !answers.isBefore(reading.arrivedAt());
    }

    boolean hasCamera(Job job) {
        var glass = access.brief(job).glass();
        return glass.cameraArea() != null || glass.equipment().contains(Equipment.CAMERA);
    }

    private void photos(Job job, List<ClosingGap> gaps) {
        var shown = records.photos(job).stream().map(JobPhoto::shows).toList();
        if (!shown.contains(PhotoShows.BEFORE)) {
            add(gaps, job, Gap.PHOTO_BEFORE, "A photo from before is missing.");
        }
        if (!shown.contains(PhotoShows.AFTER)) {
            add(gaps, job, Gap.PHOTO_AFTER, "A photo from after is missing.");
        }
    }

    private void repair(Job job, List<JobPhase> phases, List<ClosingGap> gaps) {
        var method = access.methodOrGeneric(job);
        for (var departure : MethodCheck.departures(
                method, phases.stream().map(JobPhase::done).toList())) {
            var gap = switch (departure.what()) {
                case RUNNING -> Gap.CLOCK;
                case MISSING, ORDER -> Gap.PHASES;
                case TIME -> Gap.TIMES;
                case CURE -> Gap.CURE;
            };
            add(gaps, job, gap, departure.sentence());
        }
        conditions(job, phases, gaps);
        var cures =
                phases.stream().filter(phase -> phase.kind() == PhaseKind.CURE).toList();
        if (cures.stream().anyMatch(cure -> !cure.goggles())) {
            add(gaps, job, Gap.GOGGLES, "Nobody confirmed goggles for the lamp.");
        }
        if (method.cureDoseJPerCm2() != null && cures.stream().anyMatch(cure -> cure.requiredSeconds() == null)) {
            add(
                    gaps,
                    job,
                    Gap.LAMP,
                    "The method asks for a dose, and the cure names no lamp that was measured in time.");
        }
    }

    /**
     * Of each phase that the weather can spoil: what was read last before it has to be fresh and allow it, and nothing that was
     * read while it went on may say stop. In whatever order all that arrived.
     */
    private void conditions(Job job, List<JobPhase> phases, List<ClosingGap> gaps) {
        var readings = records.readings(job);
        var answers = records.overrides(job).stream()
                .filter(override -> override.gap() == Gap.CONDITIONS)
                .map(JobOverride::madeAt)
                .max(Comparator.naturalOrder())
                .orElse(Instant.MIN);
        var weathered = phases.stream()
                .filter(phase -> NEED_CONDITIONS.contains(phase.kind()))
                .toList();
        if (weathered.isEmpty()) {
            readings.stream()
                    .reduce((first, second) -> second)
                    .filter(reading -> !allowed(reading, answers))
                    .ifPresent(reading -> add(
                            gaps,
                            job,
                            Gap.CONDITIONS,
                            "The conditions speak against the work: "
                                    + reading.objections().getFirst().reason()));
            return; // that these phases are missing is said already
        }
        weathered.stream()
                .flatMap(phase -> objection(phase, readings, answers).stream())
                .distinct()
                .forEach(sentence -> add(gaps, job, Gap.CONDITIONS, sentence));
    }

    /** Nobody answers beforehand: neither for a reading that had not arrived, nor for a phase without one. */
    private static Optional<String> objection(JobPhase phase, List<JobReading> readings, Instant answers) {
        var answered = !answers.isBefore(phase.arrivedAt());
        var last = readings.stream()
                .filter(reading -> !reading.readAt().isAfter(phase.startedAt()))
                .reduce((first, second) -> second);
        if (last.isEmpty()) {
            return answered
                    ? Optional.empty()
                    : Optional.of("Air and glass were not read before " + Words.spoken(phase.kind()) + " began.");
        }
        var age = Duration.between(last.get().readAt(), phase.startedAt());
        if (age.compareTo(READING_HOLDS) > 0 && !answered) {
            return Optional.of("Air and glass were last read " + age.toMinutes() + " min before "
                    + Words.spoken(phase.kind()) + " began; a reading holds for " + READING_HOLDS.toMinutes()
                    + " min.");
        }
        return Stream.concat(last.stream(), readings.stream().filter(reading -> stopped(reading, phase)))
                .filter(reading -> !allowed(reading, answers))
                .findFirst()
                .map(reading -> "The conditions spoke against the work, and nobody answered for it: "
                        + reading.objections().getFirst().reason());
    }

    private static boolean stopped(JobReading reading, JobPhase phase) {
        return reading.outcome() == JobReading.Outcome.STOP
                && reading.readAt().isAfter(phase.startedAt())
                && (phase.endedAt() == null || !reading.readAt().isAfter(phase.endedAt()));
    }

    /**
     * A lot has to have been usable when it was used; one that is only named now is used now. Returns when the last of those
     * that went in before was recalled.
     */
    private Instant lots(Job job, @Nullable UUID named, List<ClosingGap> gaps, LocalDate day) {
        var uses = materials.usedIn(job.id());
        var resin = uses.stream().anyMatch(use -> use.kind() == LotKind.RESIN);
        var recalled = Instant.MIN;
        for (var use : uses) {
            var lot = materials.named("resinLot", use.lot());
            var back = lot.recalledAt();
            if (back != null && use.usedAt().isBefore(back)) {
                recalled = recalled.isBefore(back) ? back : recalled;
                add(
                        gaps,
                        job,
                        Gap.LOT_RECALLED,
                        "Lot " + lot.number() + " was recalled after it went in: " + lot.recallReason() + ".");
            }
            lot.blockedAt(use.usedAt(), ZoneId.of(job.zone())).ifPresent(why -> add(gaps, job, Gap.LOT, why));
        }
        if (named != null && uses.stream().noneMatch(use -> use.lot().equals(named))) {
            var lot = materials.named("resinLot", named);
            resin |= lot.kind() == LotKind.RESIN;
            lot.blocked(day).ifPresent(why -> add(gaps, job, Gap.LOT, why));
        }
        if (job.work() == Work.REPAIR && !resin) {
            add(gaps, job, Gap.LOT, "The resin's lot is missing.");
        }
        return recalled;
    }

    private static void add(List<ClosingGap> gaps, Job job, Gap gap, String sentence) {
        gaps.add(ClosingGap.of(job.id(), gap, sentence));
    }
}

package org.quarterlight.repair;

import java.time.Duration;
import java.time.Instant;
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

    private record Found(Gap gap, String sentence) {}

    /** Of a job that would be closed like this at that time; without a command, what does not depend on it. */
    List<ClosingGap> gaps(Job job, @Nullable CloseJob command, Told told) {
        var gaps = new ArrayList<Found>();
        var phases = records.phases(job);
        if (job.state() == JobState.UNDER_WAY) {
            add(gaps, Gap.INSPECTION, "Nobody has looked over the work and passed it.");
        }
        if (command != null && command.result() == null) {
            add(gaps, Gap.RESULT, "Say how it came out.");
        }
        if (command != null && (command.notes() == null || command.notes().isBlank())) {
            add(gaps, Gap.NOTES, "Notes are missing: what was done, in a sentence or two.");
        }
        photos(job, phases, gaps);
        if (job.work() == Work.REPLACEMENT) {
            if (phases.stream().anyMatch(phase -> phase.endedAt() == null)) {
                add(gaps, Gap.CLOCK, "The clock of a phase is still running.");
            }
            if (command != null && command.result() != null && command.result() != Result.REPLACED) {
                add(gaps, Gap.RESULT, "A replacement ends as replaced.");
            }
            if (hasCamera(job) && !isCalibrated(job)) {
                add(
                        gaps,
                        Gap.CALIBRATION,
                        "The camera behind the new glass is not calibrated: the vehicle is not released before.");
            }
        } else {
            repair(job, phases, gaps);
            if (command != null && command.result() == Result.REPLACED) {
                add(
                        gaps,
                        Gap.RESULT,
                        "A repair does not end as replaced. Abandon it, and the fleet gets a request for new glass.");
            }
        }
        var uses = materials.usedIn(job.id());
        var recalled = lots(job, uses, phases, command == null ? null : command.resinLot(), told, gaps);
        var done = done(phases);
        var late = late(job, phases, uses, gaps);
        var answeredFor = records.overrides(job).stream()
                .filter(override -> override.gap() != Gap.CONDITIONS) // asked where the readings are
                .filter(override -> answers(override, done, recalled, late))
                .map(JobOverride::gap)
                .collect(Collectors.toSet());
        gaps.removeIf(gap -> gap.gap().overridable() && answeredFor.contains(gap.gap()));
        var running = phases.stream().anyMatch(phase -> phase.endedAt() == null);
        return gaps.stream()
                .map(found -> ClosingGap.of(job, running, found.gap(), found.sentence()))
                .toList();
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

    /** Nobody answers for what is still to come: a phase, a recall, or what was told since. */
    private static boolean answers(JobOverride override, Instant done, Instant recalled, Instant late) {
        return !override.madeAt()
                .isBefore(
                        switch (override.gap()) {
                            case LOT_RECALLED -> recalled;
                            case LATE, RESIN -> late.isAfter(done) ? late : done;
                            default -> done;
                        });
    }

    /** What was told long after it was done, in one sentence; answers when the last of it arrived. */
    private Instant late(Job job, List<JobPhase> phases, List<LotUse> uses, List<Found> gaps) {
        var said = new ArrayList<String>();
        var last = Instant.MIN;
        for (var phase : phases) {
            if (phase.isLate()) {
                said.add(Words.spoken(phase.kind()) + " " + phase.toldLate());
                last = later(last, Objects.requireNonNullElse(phase.endArrivedAt(), phase.arrivedAt()));
            }
        }
        for (var reading : records.readings(job)) {
            if (reading.toldLate() != null) {
                said.add("air and glass " + reading.toldLate());
                last = later(last, reading.arrivedAt());
            }
        }
        for (var use : uses) {
            var arrived = use.arrivedAt();
            if (arrived == null) {
                continue;
            }
            var zone = ZoneId.of(job.zone());
            var lot = materials.named("lot", use.lot());
            var since = lot.blockedAt(use.usedAt(), zone).isEmpty()
                    && lot.blockedAt(arrived, zone).isPresent();
            if (use.toldLate() != null || since) {
                said.add("lot " + use.lotNumber() + " "
                        + (since ? "told when it was not to be used any more" : use.toldLate()));
            }
            last = later(last, arrived);
        }
        for (var photo : records.photos(job)) {
            if (photo.shows() != PhotoShows.OTHER && photo.toldLate() != null) {
                said.add("the photo from " + Words.spoken(photo.shows()) + " " + photo.toldLate());
                last = later(last, Objects.requireNonNullElse(photo.arrivedAt(), last));
            }
        }
        if (job.startToldLate() != null) {
            said.addFirst("the start " + job.startToldLate());
            last = later(last, Objects.requireNonNullElse(job.startRecordedAt(), last));
        }
        if (job.inspectionToldLate() != null) {
            said.add("the look over " + job.inspectionToldLate());
            last = later(last, Objects.requireNonNullElse(job.inspectionRecordedAt(), last));
        }
        if (!said.isEmpty()) {
            add(gaps, Gap.LATE, "Told long after it was done: " + String.join(", ", said) + ".");
        }
        return last;
    }

    private static Instant later(Instant one, Instant other) {
        return one.isBefore(other) ? other : one;
    }

    /** The last try counts. */
    private boolean isCalibrated(Job job) {
        return records.calibrations(job).stream()
                .reduce((first, second) -> second)
                .filter(last -> Boolean.TRUE.equals(last.passed()))
                .isPresent();
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

    /** The glass before the resin went in, and the work when it was done. */
    private void photos(Job job, List<JobPhase> phases, List<Found> gaps) {
        var photos = records.photos(job);
        var filled = phases.stream()
                .filter(phase -> phase.kind() == PhaseKind.INJECT && job.work() == Work.REPAIR)
                .map(JobPhase::startedAt)
                .min(Comparator.naturalOrder())
                .orElse(Instant.MAX);
        var before = photos.stream()
                .filter(photo -> photo.shows() == PhotoShows.BEFORE)
                .map(JobPhoto::addedAt)
                .min(Comparator.naturalOrder());
        if (before.isEmpty()) {
            add(gaps, Gap.PHOTO_BEFORE, "A photo from before is missing.");
        } else if (before.get().isAfter(filled)) {
            add(gaps, Gap.PHOTO_ORDER, "The photo from before was taken after the resin went in.");
        }
        var cured = phases.stream()
                .filter(phase -> phase.kind() == PhaseKind.CURE)
                .map(phase -> Objects.requireNonNullElse(phase.endedAt(), phase.startedAt()))
                .max(Comparator.naturalOrder())
                .orElse(Instant.MIN);
        var after = photos.stream()
                .filter(photo -> photo.shows() == PhotoShows.AFTER)
                .map(JobPhoto::addedAt)
                .max(Comparator.naturalOrder());
        if (after.isEmpty()) {
            add(gaps, Gap.PHOTO_AFTER, "A photo from after is missing.");
        } else if (after.get().isBefore(cured)) {
            add(gaps, Gap.PHOTO_AFTER, "The photo from after was taken before the lamp went off. Take another one.");
        }
    }

    private void repair(Job job, List<JobPhase> phases, List<Found> gaps) {
        var method = access.methodOrGeneric(job);
        for (var departure : MethodCheck.departures(
                method, phases.stream().map(JobPhase::done).toList())) {
            var gap = switch (departure.what()) {
                case RUNNING -> Gap.CLOCK;
                case MISSING, ORDER -> Gap.PHASES;
                case TIME -> Gap.TIMES;
                case CURE -> Gap.CURE;
            };
            add(gaps, gap, departure.sentence());
        }
        conditions(job, phases, gaps);
        var cures =
                phases.stream().filter(phase -> phase.kind() == PhaseKind.CURE).toList();
        if (cures.stream().anyMatch(cure -> !cure.goggles())) {
            add(gaps, Gap.GOGGLES, "Nobody confirmed goggles for the lamp.");
        }
        if (method.cureDoseJPerCm2() != null && cures.stream().anyMatch(cure -> cure.requiredSeconds() == null)) {
            add(gaps, Gap.LAMP, "The method asks for a dose, and the cure names no lamp that was measured in time.");
        }
    }

    /**
     * Of each phase that the weather can spoil: what was read last before it has to be fresh and allow it, and nothing that was
     * read while it went on may say stop. In whatever order all that arrived.
     */
    private void conditions(Job job, List<JobPhase> phases, List<Found> gaps) {
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
                            Gap.CONDITIONS,
                            "The conditions speak against the work: "
                                    + reading.objections().getFirst().reason()));
            return; // that these phases are missing is said already
        }
        weathered.stream()
                .flatMap(phase -> objection(phase, readings, answers).stream())
                .distinct()
                .forEach(sentence -> add(gaps, Gap.CONDITIONS, sentence));
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
    private Instant lots(
            Job job, List<LotUse> uses, List<JobPhase> phases, @Nullable UUID named, Told told, List<Found> gaps) {
        var zone = ZoneId.of(job.zone());
        var lots = new ArrayList<LotView>();
        var recalled = Instant.MIN;
        for (var use : uses) {
            var lot = materials.named("resinLot", use.lot());
            lots.add(lot);
            var back = lot.recalledAt();
            if (back != null && use.usedAt().isBefore(back)) {
                recalled = later(recalled, back);
                add(
                        gaps,
                        Gap.LOT_RECALLED,
                        "Lot " + lot.number() + " was recalled after it went in: " + lot.recallReason() + ".");
            }
            lot.blockedAt(use.usedAt(), zone).ifPresent(why -> add(gaps, Gap.LOT, why));
        }
        if (named != null && uses.stream().noneMatch(use -> use.lot().equals(named))) {
            var lot = materials.named("resinLot", named);
            lots.add(lot);
            lot.blocked(told.at().atZone(zone).toLocalDate())
                    .or(() -> lot.blockedAt(told.at(), zone))
                    .or(() -> lot.blockedAt(told.arrivedAt(), zone))
                    .ifPresent(why -> add(gaps, Gap.LOT, why));
        }
        if (job.work() == Work.REPAIR) {
            fillers(job, lots, phases, gaps);
        }
        return recalled;
    }

    private void fillers(Job job, List<LotView> lots, List<JobPhase> phases, List<Found> gaps) {
        var resins = lots.stream().filter(lot -> lot.kind() == LotKind.RESIN).toList();
        if (resins.isEmpty()) {
            add(gaps, Gap.LOT, "The resin's lot is missing.");
        }
        if (phases.stream().anyMatch(phase -> phase.kind() == PhaseKind.PIT_FILL)
                && lots.stream().noneMatch(lot -> lot.kind() == LotKind.PIT_FILLER)) {
            add(gaps, Gap.LOT, "The pit was filled, and the lot of its filler is missing.");
        }
        var method = access.methodOrGeneric(job);
        for (var lot : resins) {
            // The method that ships is for any resin.
            if (!method.commonPractice() && !isSame(method.resin(), lot.resin())) {
                add(
                        gaps,
                        Gap.RESIN,
                        "Lot " + lot.number() + " is " + lot.resin() + "; the method is written for " + method.resin()
                                + ".");
            }
        }
    }

    private static boolean isSame(String one, String other) {
        return one.strip()
                .replaceAll("\\s+", " ")
                .equalsIgnoreCase(other.strip().replaceAll("\\s+", " "));
    }

    private static void add(List<Found> gaps, Gap gap, String sentence) {
        gaps.add(new Found(gap, sentence));
    }
}

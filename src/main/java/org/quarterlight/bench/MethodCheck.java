package org.quarterlight.bench;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumSet;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import org.jspecify.annotations.Nullable;

/** Compares a record with the method it was done by. */
public final class MethodCheck {
    private static final Set<PhaseKind> FILLS = EnumSet.of(PhaseKind.INJECT, PhaseKind.PIT_FILL);

    private final Method method;
    private final List<DonePhase> done;
    private final List<Departure> found = new ArrayList<>();

    private MethodCheck(Method method, List<DonePhase> done) {
        this.method = method;
        this.done =
                done.stream().sorted(Comparator.comparing(DonePhase::startedAt)).toList();
    }

    /** Everything in which the record departs; empty where it follows. */
    public static List<Departure> departures(Method method, List<DonePhase> done) {
        var check = new MethodCheck(method, done);
        check.running();
        check.presenceAndOrder();
        check.times();
        check.cycles();
        check.cure();
        check.lookedOverLast();
        return List.copyOf(check.found);
    }

    /** What comes next by the method; empty where everything was done. What was done last may have to be done again. */
    public static Optional<PhaseKind> next(Method method, List<DonePhase> done) {
        if (method.steps().isEmpty()) {
            return Optional.empty();
        }
        if (done.isEmpty()) {
            return Optional.of(method.steps().getFirst().kind());
        }
        var check = new MethodCheck(method, done);
        var last = check.done.getLast().kind();
        check.cure();
        if (last == PhaseKind.VACUUM && check.countCycles() < method.leastCycles()) {
            return Optional.of(PhaseKind.PRESSURE);
        }
        if (last == PhaseKind.CURE && check.found.stream().anyMatch(each -> each.what() == Departure.What.CURE)) {
            return Optional.of(PhaseKind.CURE);
        }
        var following = method.place(last) + 1;
        return following < method.steps().size()
                ? Optional.of(method.steps().get(following).kind())
                : Optional.empty();
    }

    private int countCycles() {
        var cycles = 0;
        var pressed = false;
        for (var phase : done) {
            if (phase.kind() == PhaseKind.VACUUM && pressed) {
                cycles++;
            }
            pressed = phase.kind() == PhaseKind.PRESSURE || pressed && phase.kind() != PhaseKind.VACUUM;
        }
        return cycles;
    }

    private void running() {
        done.stream()
                .filter(phase -> phase.endedAt() == null)
                .forEach(phase -> depart(
                        Departure.What.RUNNING, phase.kind(), "The clock of " + word(phase.kind()) + " still runs."));
    }

    /** Each required step is there, and none began for the first time before those that come before it had. */
    private void presenceAndOrder() {
        @Nullable DonePhase latest = null;
        for (var step : method.steps()) {
            var first = done.stream()
                    .filter(phase -> phase.kind() == step.kind())
                    .findFirst()
                    .orElse(null);
            if (first == null) {
                if (step.required()) {
                    depart(Departure.What.MISSING, step.kind(), "There is no " + word(step.kind()) + " in the record.");
                }
            } else if (!step.required()) {
                continue; // done where a break asks for it, perhaps only the second one
            } else if (latest != null && first.startedAt().isBefore(latest.startedAt())) {
                depart(
                        Departure.What.ORDER,
                        step.kind(),
                        capital(step.kind()) + " was done before " + word(latest.kind())
                                + "; the method has it after.");
            } else {
                latest = first;
            }
        }
        for (int i = 1; i < done.size(); i++) {
            var before = done.get(i - 1).endedAt();
            if (before != null && done.get(i).startedAt().isBefore(before)) {
                depart(
                        Departure.What.ORDER,
                        done.get(i).kind(),
                        capital(done.get(i).kind()) + " began before "
                                + word(done.get(i - 1).kind()) + " had ended.");
            }
        }
    }

    private void times() {
        for (var step : method.steps()) {
            if (step.kind() == PhaseKind.CURE && step.mostSeconds() == null) {
                continue;
            }
            for (var phase : done) {
                if (phase.kind() != step.kind() || phase.endedAt() == null) {
                    continue;
                }
                var seconds = phase.length().toSeconds();
                if (step.kind() != PhaseKind.CURE && seconds < step.leastSeconds()) {
                    depart(
                            Departure.What.TIME,
                            step.kind(),
                            capital(step.kind()) + " took " + minutes(phase.length())
                                    + "; the method asks for at least "
                                    + minutes(Duration.ofSeconds(step.leastSeconds())) + ".");
                } else if (step.mostSeconds() != null && seconds > step.mostSeconds()) {
                    depart(
                            Departure.What.TIME,
                            step.kind(),
                            capital(step.kind()) + " took " + minutes(phase.length()) + "; the method allows "
                                    + minutes(Duration.ofSeconds(step.mostSeconds())) + ".");
                }
            }
        }
    }

    private void cycles() {
        @Nullable Instant pressedUntil = null;
        for (var phase : done) {
            if (phase.kind() == PhaseKind.PRESSURE) {
                pressedUntil = phase.endedAt();
            } else if (phase.kind() == PhaseKind.VACUUM && pressedUntil != null) {
                var rested = Duration.between(pressedUntil, phase.startedAt());
                if (rested.toSeconds() < method.restSeconds()) {
                    depart(
                            Departure.What.TIME,
                            PhaseKind.VACUUM,
                            "It rested " + minutes(rested) + " between pressure and vacuum; the method asks for "
                                    + minutes(Duration.ofSeconds(method.restSeconds())) + ".");
                }
                pressedUntil = null;
            }
        }
        var cycles = countCycles();
        // Where there was none at all that is said already.
        if (cycles < method.leastCycles() && done.stream().anyMatch(phase -> phase.kind() == PhaseKind.VACUUM)) {
            depart(
                    Departure.What.TIME,
                    PhaseKind.VACUUM,
                    "Pressure and vacuum alternated " + times(cycles) + "; the method asks for "
                            + times(method.leastCycles()) + ".");
        }
    }

    /** What came in last has to lie under the lamp; several times under it add up, but no minute twice. */
    private void cure() {
        if (method.step(PhaseKind.CURE) == null) {
            return;
        }
        var lastFill = done.stream()
                .filter(phase -> FILLS.contains(phase.kind()))
                .map(DonePhase::startedAt)
                .max(Comparator.naturalOrder())
                .orElse(Instant.MIN);
        var cures = done.stream()
                .filter(phase ->
                        phase.kind() == PhaseKind.CURE && !phase.startedAt().isBefore(lastFill))
                .toList();
        var cured = under(cures);
        var required = cures.stream()
                .map(DonePhase::requiredSeconds)
                .filter(seconds -> seconds != null)
                .map(Duration::ofSeconds)
                .max(Comparator.naturalOrder())
                .filter(time -> time.compareTo(method.leastCure()) > 0)
                .orElse(method.leastCure());
        if (cured.compareTo(required) < 0) {
            depart(
                    Departure.What.CURE,
                    PhaseKind.CURE,
                    "It was cured for " + minutes(cured) + "; the method asks for at least " + minutes(required)
                            + (method.commonPractice() ? " (common practice)." : "."));
        }
    }

    /** How long it lay under a lamp: what two phases tell of the same minutes counts once. In the order in which they began. */
    private static Duration under(List<DonePhase> cures) {
        var lit = Duration.ZERO;
        var until = Instant.MIN;
        for (var cure : cures) {
            var ended = cure.endedAt();
            if (ended == null || !ended.isAfter(until)) {
                continue;
            }
            lit = lit.plus(Duration.between(cure.startedAt().isAfter(until) ? cure.startedAt() : until, ended));
            until = ended;
        }
        return lit;
    }

    private void lookedOverLast() {
        if (!done.isEmpty()
                && done.stream().anyMatch(phase -> phase.kind() == PhaseKind.LOOK_OVER)
                && done.getLast().kind() != PhaseKind.LOOK_OVER) {
            depart(
                    Departure.What.ORDER,
                    PhaseKind.LOOK_OVER,
                    capital(done.getLast().kind()) + " came after the look over. Look over the work once more.");
        }
    }

    private void depart(Departure.What what, PhaseKind phase, String sentence) {
        found.add(new Departure(what, phase, sentence));
    }

    private static String word(PhaseKind kind) {
        return kind.name().toLowerCase(Locale.ROOT).replace('_', ' ');
    }

    private static String capital(PhaseKind kind) {
        var word = word(kind);
        return word.substring(0, 1).toUpperCase(Locale.ROOT) + word.substring(1);
    }

    private static String times(int count) {
        return count == 1 ? "once" : count + " times";
    }

    private static String minutes(Duration duration) {
        return duration.toMinutes() + " min"
                + (duration.toSecondsPart() == 0 ? "" : " " + duration.toSecondsPart() + " s");
    }
}

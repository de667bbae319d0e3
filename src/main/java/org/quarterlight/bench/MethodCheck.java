package org.quarterlight.bench;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumSet;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.stream.IntStream;
import org.jspecify.annotations.Nullable;

/**
 * Compares a record with the method it was done by. A method may name a kind of phase more than once, so each phase of the
 * record is first put at its place in the order.
 */
public final class MethodCheck {
    private static final Set<PhaseKind> FILLS = EnumSet.of(PhaseKind.INJECT, PhaseKind.PIT_FILL);

    private final Method method;
    private final List<Placed> done;
    private final List<Departure> found = new ArrayList<>();

    /** A phase at its place in the method's order; −1 where the method has none of its kind. */
    private record Placed(DonePhase phase, int place) {
        PhaseKind kind() {
            return phase.kind();
        }
    }

    /**
     * What the last phase lacks of its least time.
     *
     * @param addsUp going on is enough, as under the lamp; else it is done again, whole
     */
    public record Shortfall(PhaseKind kind, Duration done, Duration required, boolean addsUp) {
        public Duration missing() {
            return required.minus(done);
        }
    }

    private MethodCheck(Method method, List<DonePhase> done) {
        this.method = method;
        this.done = placed(
                method,
                done.stream().sorted(Comparator.comparing(DonePhase::startedAt)).toList());
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

    /**
     * The place in the order of what comes next by the method; empty where everything was done. What was done last may have
     * to be done again.
     */
    public static Optional<Integer> nextPlace(Method method, List<DonePhase> done) {
        if (method.steps().isEmpty()) {
            return Optional.empty();
        }
        if (done.isEmpty()) {
            return Optional.of(0);
        }
        var check = new MethodCheck(method, done);
        var last = check.done.getLast();
        if (check.shortfall().isPresent()) {
            return Optional.of(last.place());
        }
        if (last.kind() == PhaseKind.VACUUM
                && (check.countCycles() < method.leastCycles()
                        || Boolean.FALSE.equals(last.phase().clear()))) {
            var press = method.placeAfter(last.place(), PhaseKind.PRESSURE, Set.of());
            if (press >= 0) {
                return Optional.of(press);
            }
        }
        var following = check.at() + 1;
        return following < method.steps().size() ? Optional.of(following) : Optional.empty();
    }

    /** The kind of what comes next. */
    public static Optional<PhaseKind> next(Method method, List<DonePhase> done) {
        return nextPlace(method, done).map(place -> method.steps().get(place).kind());
    }

    /** What the phase that ended last lacks; empty where it lacks nothing, or still runs. */
    public static Optional<Shortfall> shortfall(Method method, List<DonePhase> done) {
        return done.isEmpty() ? Optional.empty() : new MethodCheck(method, done).shortfall();
    }

    /** Where a phase that begins now would stand, after what was done before it; −1 where the method has none of its kind. */
    public static int place(Method method, List<DonePhase> before, PhaseKind kind) {
        var check = new MethodCheck(method, before);
        return method.placeAfter(check.at(), kind, places(check.done));
    }

    /** At which place of the method each phase stands, in the order in which they began. */
    public static List<Integer> places(Method method, List<DonePhase> done) {
        return new MethodCheck(method, done).done.stream().map(Placed::place).toList();
    }

    /**
     * Whether a phase goes back behind what was done: anything earlier in the order, other than from vacuum to pressure
     * once more.
     */
    public static boolean goesBack(Method method, List<DonePhase> before, PhaseKind next) {
        if (before.isEmpty()) {
            return false;
        }
        var last = new MethodCheck(method, before).done.getLast();
        return place(method, before, next) < last.place()
                && !(last.kind() == PhaseKind.VACUUM && next == PhaseKind.PRESSURE);
    }

    /** How short a phase is of what its method asks for at its place; zero where that is known of no phase by itself. */
    public static Duration missing(Method method, int place, DonePhase phase) {
        var least = place < 0 || phase.kind() == PhaseKind.CURE || phase.endedAt() == null
                ? Duration.ZERO
                : Duration.ofSeconds(method.steps().get(place).leastSeconds());
        var missing = least.minus(phase.length());
        return missing.isNegative() ? Duration.ZERO : missing;
    }

    private static List<Placed> placed(Method method, List<DonePhase> inOrder) {
        var placed = new ArrayList<Placed>();
        var at = -1;
        for (var phase : inOrder) {
            var place = method.placeAfter(at, phase.kind(), places(placed));
            placed.add(new Placed(phase, place));
            at = place < 0 ? at : place;
        }
        return List.copyOf(placed);
    }

    private static Set<Integer> places(List<Placed> done) {
        var places = new HashSet<Integer>();
        done.forEach(each -> places.add(each.place()));
        return places;
    }

    /** How far the work has come in the order, whatever was done that the method has not. */
    private int at() {
        return done.stream()
                .map(Placed::place)
                .filter(place -> place >= 0)
                .reduce((first, second) -> second)
                .orElse(-1);
    }

    private Optional<Shortfall> shortfall() {
        var last = done.getLast();
        if (last.phase().endedAt() == null || last.place() < 0) {
            return Optional.empty();
        }
        if (last.kind() == PhaseKind.CURE) {
            return cureAt(last.place());
        }
        return missing(method, last.place(), last.phase()).isZero()
                ? Optional.empty()
                : Optional.of(new Shortfall(
                        last.kind(),
                        last.phase().length(),
                        Duration.ofSeconds(method.steps().get(last.place()).leastSeconds()),
                        false));
    }

    private boolean longEnough(Placed each) {
        return missing(method, each.place(), each.phase()).isZero();
    }

    /** Pressure, the rest after it and the vacuum, each as long as the method asks for. */
    private int countCycles() {
        var cycles = 0;
        @Nullable Placed pressed = null;
        for (var each : done) {
            if (each.kind() == PhaseKind.VACUUM) {
                if (pressed != null && longEnough(each) && rested(pressed, each)) {
                    cycles++;
                }
                pressed = longEnough(each) ? null : pressed;
            } else if (each.kind() == PhaseKind.PRESSURE && longEnough(each)) {
                pressed = each;
            }
        }
        return cycles;
    }

    private boolean rested(Placed before, Placed after) {
        var ended = before.phase().endedAt();
        return ended == null
                || Duration.between(ended, after.phase().startedAt()).toSeconds() >= method.restSeconds();
    }

    private void running() {
        done.stream()
                .filter(each -> each.phase().endedAt() == null)
                .forEach(each -> depart(
                        Departure.What.RUNNING, each.kind(), "The clock of " + word(each.kind()) + " still runs."));
    }

    /** Each required step is there, and none began for the first time before those that come before it had. */
    private void presenceAndOrder() {
        @Nullable DonePhase latest = null;
        for (int i = 0; i < method.steps().size(); i++) {
            var step = method.steps().get(i);
            var first = firstAt(i);
            if (first == null) {
                if (step.required()) {
                    depart(
                            Departure.What.MISSING,
                            step.kind(),
                            "There is no " + word(step.kind()) + which(i) + " in the record.");
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
            var before = done.get(i - 1).phase().endedAt();
            if (before != null && done.get(i).phase().startedAt().isBefore(before)) {
                depart(
                        Departure.What.ORDER,
                        done.get(i).kind(),
                        capital(done.get(i).kind()) + " began before "
                                + word(done.get(i - 1).kind()) + " had ended.");
            }
        }
    }

    private @Nullable DonePhase firstAt(int place) {
        return done.stream()
                .filter(each -> each.place() == place)
                .map(Placed::phase)
                .findFirst()
                .orElse(null);
    }

    /** Says which one is meant where a kind stands more than once. */
    private String which(int place) {
        var steps = method.steps();
        if (method.places(steps.get(place).kind()).size() < 2) {
            return "";
        }
        return place + 1 < steps.size()
                ? " before " + word(steps.get(place + 1).kind())
                : " after " + word(steps.get(place - 1).kind());
    }

    /** What was too short is mended by doing it once more, long enough. */
    private void times() {
        for (int i = 0; i < method.steps().size(); i++) {
            var step = method.steps().get(i);
            var here = i;
            var ended = done.stream()
                    .filter(each -> each.place() == here && each.phase().endedAt() != null)
                    .map(Placed::phase)
                    .toList();
            for (int each = 0; each < ended.size(); each++) {
                var phase = ended.get(each);
                var mended = ended.subList(each + 1, ended.size()).stream()
                        .anyMatch(later -> missing(method, here, later).isZero());
                if (!missing(method, i, phase).isZero() && !mended) {
                    depart(
                            Departure.What.TIME,
                            step.kind(),
                            capital(step.kind()) + " took " + minutes(phase.length())
                                    + "; the method asks for at least "
                                    + minutes(Duration.ofSeconds(step.leastSeconds())) + ".");
                } else if (step.mostSeconds() != null && phase.length().toSeconds() > step.mostSeconds()) {
                    depart(
                            Departure.What.TIME,
                            step.kind(),
                            capital(step.kind()) + " took " + minutes(phase.length()) + "; the method allows "
                                    + minutes(Duration.ofSeconds(step.mostSeconds())) + ".");
                }
            }
        }
    }

    /** The last turn from one to the other counts; so does each that the method's number of cycles needs. */
    private void cycles() {
        var tooFew = countCycles() < method.leastCycles();
        @Nullable Placed before = null;
        @Nullable Placed unrestedFrom = null;
        @Nullable Placed unrestedTo = null;
        var turns = 0;
        for (var each : done) {
            if (each.kind() != PhaseKind.PRESSURE && each.kind() != PhaseKind.VACUUM) {
                before = null;
                continue;
            }
            if (before != null && before.kind() != each.kind()) {
                turns += each.kind() == PhaseKind.VACUUM ? 1 : 0;
                if (!rested(before, each)) {
                    unrestedFrom = before;
                    unrestedTo = each;
                } else if (unrestedTo != null && unrestedTo.kind() == each.kind() && !tooFew) {
                    unrestedFrom = null;
                    unrestedTo = null;
                }
            }
            before = each;
        }
        if (unrestedFrom != null && unrestedTo != null) {
            var rested = Duration.between(
                    Objects.requireNonNull(unrestedFrom.phase().endedAt()),
                    unrestedTo.phase().startedAt());
            depart(
                    Departure.What.TIME,
                    unrestedTo.kind(),
                    "It rested " + minutes(rested.isNegative() ? Duration.ZERO : rested) + " between "
                            + word(unrestedFrom.kind()) + " and " + word(unrestedTo.kind()) + "; the method asks for "
                            + minutes(Duration.ofSeconds(method.restSeconds())) + ".");
        }
        // Where there was none at all that is said already; so is what was too short to count.
        if (turns < method.leastCycles() && done.stream().anyMatch(each -> each.kind() == PhaseKind.VACUUM)) {
            depart(
                    Departure.What.TIME,
                    PhaseKind.VACUUM,
                    "Pressure and vacuum alternated " + times(turns) + "; the method asks for "
                            + times(method.leastCycles()) + ".");
        }
        done.stream()
                .filter(each -> each.kind() == PhaseKind.VACUUM && each.phase().clear() != null)
                .reduce((first, second) -> second)
                .filter(each -> Boolean.FALSE.equals(each.phase().clear()))
                .ifPresent(each -> depart(
                        Departure.What.TIME,
                        PhaseKind.VACUUM,
                        "The last vacuum left air in the break. Press and draw once more."));
    }

    /** What came in last has to lie under the lamp; several times under it add up, but no minute twice. */
    private void cure() {
        for (int place : method.places(PhaseKind.CURE)) {
            // Of a cure between, that it is missing is said already.
            if (place == method.lastPlace(PhaseKind.CURE) || firstAt(place) != null) {
                cureAt(place)
                        .ifPresent(shortfall -> depart(
                                Departure.What.CURE,
                                PhaseKind.CURE,
                                "It was cured for " + minutes(shortfall.done()) + which(place)
                                        + "; the method asks for at least " + minutes(shortfall.required())
                                        + (method.commonPractice() ? " (common practice)." : ".")));
            }
        }
    }

    /** The last cure of the order counts for whatever was filled in before it, each other one for what comes before it there. */
    private Optional<Shortfall> cureAt(int place) {
        var isLast = place == method.lastPlace(PhaseKind.CURE);
        var lastFill = done.stream()
                .filter(each -> FILLS.contains(each.kind()) && (isLast || each.place() < place))
                .map(each -> each.phase().startedAt())
                .max(Comparator.naturalOrder())
                .orElse(Instant.MIN);
        var cures = done.stream()
                .filter(each -> each.kind() == PhaseKind.CURE
                        && (isLast || each.place() == place)
                        && !each.phase().startedAt().isBefore(lastFill))
                .map(Placed::phase)
                .toList();
        var cured = under(cures);
        var required = Duration.ofSeconds(IntStream.concat(
                        IntStream.of(method.steps().get(place).leastSeconds()),
                        cures.stream()
                                .map(DonePhase::requiredSeconds)
                                .filter(Objects::nonNull)
                                .mapToInt(Integer::intValue))
                .max()
                .orElse(0));
        return cured.compareTo(required) < 0
                ? Optional.of(new Shortfall(PhaseKind.CURE, cured, required, true))
                : Optional.empty();
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
                && done.stream().anyMatch(each -> each.kind() == PhaseKind.LOOK_OVER)
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

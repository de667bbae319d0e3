package org.quarterlight.bench;

import java.time.Duration;
import java.util.Comparator;
import java.util.List;
import java.util.Set;
import java.util.stream.IntStream;
import org.jspecify.annotations.Nullable;

/**
 * How a resin system is worked with: its phases in their order, where a kind may stand more than once, their times, and what
 * it asks of air and glass.
 *
 * @param source the data sheet it was taken from, or that there is none
 * @param commonPractice nobody published it; workshops do it so
 * @param cureDoseJPerCm2 of ultraviolet light that the data sheet asks for; null where it only gives a time
 * @param leastCycles of pressure and vacuum
 * @param restSeconds that lie between pressure and vacuum at least, and between vacuum and pressure
 * @param overlaps another job may be begun while this one lies under the lamp
 */
public record Method(
        String name,
        String resin,
        String source,
        boolean commonPractice,
        Limits limits,
        @Nullable Double cureDoseJPerCm2,
        int leastCycles,
        int restSeconds,
        boolean overlaps,
        List<Step> steps) {
    public Method {
        steps = List.copyOf(steps);
    }

    /** What the method asks of air and glass; null where it asks for nothing. */
    public record Limits(
            @Nullable Double leastGlassCelsius,
            @Nullable Double mostGlassCelsius,
            @Nullable Double mostHumidityPercent) {}

    /**
     * One phase.
     *
     * @param required not only where the break asks for it
     * @param leastSeconds zero where it takes as long as it takes
     * @param mostSeconds null where it may take longer
     */
    public record Step(
            PhaseKind kind,
            boolean required,
            int leastSeconds,
            @Nullable Integer mostSeconds) {
        static Step needed(PhaseKind kind, int leastMinutes) {
            return new Step(kind, true, leastMinutes * 60, null);
        }
    }

    /**
     * What the trade does, in our words. Common practice, no source; the span of temperatures stands on one workshop's page
     * (secondary), the humidity in the practice of ISO 12944-7 (secondary). That pressure and vacuum need a rest between
     * them, a minute or two, is common practice without source; we ask for the shorter.
     */
    public static final Method GENERIC = new Method(
            "Generic resin repair",
            "any acrylic bridging resin",
            "common practice, no source",
            true,
            new Limits(20.0, 30.0, 85.0),
            null,
            1,
            60,
            true,
            List.of(
                    Step.needed(PhaseKind.PREPARE, 0),
                    new Step(PhaseKind.OPEN, false, 0, null),
                    Step.needed(PhaseKind.CLEAN, 0),
                    Step.needed(PhaseKind.MOUNT, 0),
                    Step.needed(PhaseKind.INJECT, 0),
                    Step.needed(PhaseKind.PRESSURE, 2),
                    Step.needed(PhaseKind.VACUUM, 2),
                    Step.needed(PhaseKind.PIT_FILL, 0),
                    Step.needed(PhaseKind.CURE, 10),
                    Step.needed(PhaseKind.FINISH, 0),
                    Step.needed(PhaseKind.LOOK_OVER, 0)));

    /** Everywhere in the order where a phase of this kind stands. */
    List<Integer> places(PhaseKind kind) {
        return IntStream.range(0, steps.size())
                .filter(place -> steps.get(place).kind() == kind)
                .boxed()
                .toList();
    }

    /** The last of them, or −1 where the method has none of its kind. */
    int lastPlace(PhaseKind kind) {
        var places = places(kind);
        return places.isEmpty() ? -1 : places.getLast();
    }

    /**
     * Where a phase stands that follows on another: at the same place, or ahead as far as nothing required is passed over
     * that was not done yet, or else behind it, as work that goes back does; −1 where the method has none of its kind.
     */
    int placeAfter(int at, PhaseKind kind, Set<Integer> done) {
        var places = places(kind);
        if (places.isEmpty() || places.contains(at)) {
            return places.isEmpty() ? -1 : at;
        }
        var ahead = places.stream().filter(place -> place > at).findFirst();
        var behind = places.stream().filter(place -> place < at).reduce((first, second) -> second);
        if (ahead.isEmpty() || behind.isEmpty()) {
            return ahead.orElseGet(places::getLast);
        }
        var passesOver = IntStream.range(at + 1, ahead.get())
                .anyMatch(place -> steps.get(place).required() && !done.contains(place));
        return passesOver ? behind.get() : ahead.get();
    }

    /** The least time under the lamp, whatever the dose; the longest where it lies there more than once. */
    public Duration leastCure() {
        return places(PhaseKind.CURE).stream()
                .map(this::leastAt)
                .max(Comparator.naturalOrder())
                .orElse(Duration.ZERO);
    }

    /** The least time of the phase at a place; none where there is no such place. */
    public Duration leastAt(int place) {
        return place < 0 ? Duration.ZERO : Duration.ofSeconds(steps.get(place).leastSeconds());
    }
}

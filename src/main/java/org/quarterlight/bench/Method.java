package org.quarterlight.bench;

import java.time.Duration;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * How a resin system is worked with: its phases in their order, their times, and what it asks of air and glass.
 *
 * @param source the data sheet it was taken from, or that there is none
 * @param commonPractice nobody published it; workshops do it so
 * @param cureDoseJPerCm2 of ultraviolet light that the data sheet asks for; null where it only gives a time
 * @param leastCycles of pressure and vacuum
 * @param restSeconds that lie between pressure and vacuum at least
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
     * (secondary), the humidity in the practice of ISO 12944-7 (secondary).
     */
    public static final Method GENERIC = new Method(
            "Generic resin repair",
            "any acrylic bridging resin",
            "common practice, no source",
            true,
            new Limits(20.0, 30.0, 85.0),
            null,
            1,
            0,
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

    /** Where the phase stands in the order, or −1 where the method has none of its kind. */
    public int place(PhaseKind kind) {
        for (int i = 0; i < steps.size(); i++) {
            if (steps.get(i).kind() == kind) {
                return i;
            }
        }
        return -1;
    }

    public @Nullable Step step(PhaseKind kind) {
        var place = place(kind);
        return place < 0 ? null : steps.get(place);
    }

    /** The least time under the lamp, whatever the dose. */
    public Duration leastCure() {
        var cure = step(PhaseKind.CURE);
        return cure == null ? Duration.ZERO : Duration.ofSeconds(cure.leastSeconds());
    }

    /**
     * Whether a phase goes back behind what was done: anything earlier in the order, other than from vacuum to pressure
     * once more.
     */
    public boolean goesBack(@Nullable PhaseKind last, PhaseKind next) {
        return last != null && place(next) < place(last) && !(last == PhaseKind.VACUUM && next == PhaseKind.PRESSURE);
    }
}

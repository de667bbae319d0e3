package org.quarterlight.fleet;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.quarterlight.eligibility.Outcome;

/**
 * The whole fleet at a glance.
 *
 * @param vehicles those that have not left
 * @param worst how many have this as their worst open verdict; stand down counts all that must not be driven
 */
public record FleetCondition(long vehicles, Map<Outcome, Long> worst) {
    private static final double NARROWEST = 3;

    public FleetCondition {
        worst = Map.copyOf(worst);
    }

    public long of(Outcome outcome) {
        return worst.getOrDefault(outcome, 0L);
    }

    /** A piece of a bar. */
    public record Part(Outcome outcome, double from, double width) {}

    /** The fleet as a bar of this width, its worst at the right end; what has one vehicle can still be seen. */
    public List<Part> parts(double width) {
        var parts = new ArrayList<Part>();
        var end = width;
        for (var outcome : Outcome.values()) {
            if (of(outcome) > 0) {
                var wide = Math.max(NARROWEST, width * of(outcome) / vehicles);
                parts.add(new Part(outcome, Math.max(0, end - wide), wide));
                end -= wide;
            }
        }
        return parts;
    }

    public long clear() {
        return vehicles - worst.values().stream().mapToLong(Long::longValue).sum();
    }
}

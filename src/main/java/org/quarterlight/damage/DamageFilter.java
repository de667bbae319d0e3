package org.quarterlight.damage;

import java.time.Instant;
import java.time.LocalDate;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.eligibility.Outcome;
import org.quarterlight.glass.DamageKind;

/**
 * Which damages, in which order. What is null does not narrow the list.
 *
 * @param dueBy to be repaired, replaced, measured or looked at again on this day at the latest
 */
public record DamageFilter(
        @Nullable DamageState state,
        @Nullable Outcome outcome,
        @Nullable Needs needs,
        @Nullable UUID depot,
        @Nullable UUID vehicle,
        @Nullable DamageKind kind,
        @Nullable Instant reportedFrom,
        @Nullable Instant reportedTo,
        @Nullable LocalDate dueBy,
        @Nullable Boolean mine,
        @Nullable Sort sort) {
    /** What a damage waits for. */
    public enum Needs {
        /** A manager's decision: open, no job yet, and not only to be watched. */
        DECISION,
        /** By its rate it passes a limit no later than the day on which somebody sees to it. */
        GROWTH,
        /** An inspection found its finished repair failed, and nobody has asked for that to be made good. */
        WARRANTY
    }

    /** The order of the list. */
    public enum Sort {
        NEWEST,
        WORST_FIRST,
        /** By the day on which its rate takes it past a limit; what does not grow is left out. */
        FIRST_TO_PASS
    }

    public static DamageFilter none() {
        return new DamageFilter(null, null, null, null, null, null, null, null, null, null, null);
    }

    public static DamageFilter ofVehicle(UUID vehicle) {
        return new DamageFilter(null, null, null, null, vehicle, null, null, null, null, null, null);
    }

    public static DamageFilter toDecide() {
        return new DamageFilter(null, null, Needs.DECISION, null, null, null, null, null, null, null, Sort.WORST_FIRST);
    }

    public static DamageFilter growing() {
        return new DamageFilter(null, null, Needs.GROWTH, null, null, null, null, null, null, null, Sort.FIRST_TO_PASS);
    }

    public static DamageFilter failedRepairs() {
        return new DamageFilter(null, null, Needs.WARRANTY, null, null, null, null, null, null, null, Sort.NEWEST);
    }

    /** Only to be watched, and to be looked at again until then. */
    public static DamageFilter lookAgain(LocalDate until) {
        return new DamageFilter(null, Outcome.WATCH, null, null, null, null, null, null, until, null, Sort.WORST_FIRST);
    }
}

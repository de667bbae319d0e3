package org.quarterlight.damage;

import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.eligibility.Outcome;
import org.quarterlight.eligibility.Quantity;

/**
 * How a damage grew, and when its verdict turns worse if it goes on so.
 *
 * @param quantity what was followed: a crack's length, else the overall diameter
 * @param readings oldest first
 * @param rate null where there are not two readings at two times
 * @param plannedFor the earliest day from today on, of its job's, the vehicle's next inspection's and the one by which the
 *     verdict wants it seen to; null where all of them were missed
 * @param plannedBy which of them it is
 * @param expected when the line reaches what is judged worse; null where it does not within a year
 * @param possible when the upper end of the interval does; null where it has today already, which the verdict speaks of
 * @param warning in words, where one of them comes no later than the planned day
 */
public record GrowthView(
        Quantity quantity,
        List<Reading> readings,
        @Nullable Rate rate,
        String method,
        @Nullable LocalDate plannedFor,
        @Nullable PlannedBy plannedBy,
        @Nullable Turn expected,
        @Nullable Turn possible,
        @Nullable String warning) {
    static final String METHOD =
            "straight line by least squares, each reading once; 95 % interval by Student's t with n - 2"
                    + " degrees of freedom, of two readings by their own uncertainty; it grows in the shape it has";

    public GrowthView {
        readings = List.copyOf(readings);
    }

    /** One look at the damage. */
    public record Reading(UUID observation, Instant seenAt, double mm, double standardUncertaintyMm) {}

    /** Between the lowest and the highest with 95 % confidence. */
    public record Rate(double mmPerWeek, double lowestMmPerWeek, double highestMmPerWeek) {}

    /** A worse verdict to come; {@code beforePlanned} where it is no later than the planned day. */
    public record Turn(LocalDate on, double mm, Outcome outcome, String sentence, boolean beforePlanned) {}
}

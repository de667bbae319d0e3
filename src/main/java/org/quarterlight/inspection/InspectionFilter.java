package org.quarterlight.inspection;

import java.time.LocalDate;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/**
 * Which inspections a list shows; what is null does not narrow it. Without a state: all that wait.
 *
 * @param dueBy due on this day or before
 */
public record InspectionFilter(
        @Nullable InspectionState state,
        @Nullable UUID depot,
        @Nullable UUID vehicle,
        @Nullable LocalDate dueBy) {
    /** Those past their day. */
    public static InspectionFilter overdue() {
        return new InspectionFilter(InspectionState.OVERDUE, null, null, null);
    }

    /** Those of one depot that are to be done by this day, the overdue among them. */
    public static InspectionFilter waitingAt(UUID depot, LocalDate dueBy) {
        return new InspectionFilter(null, depot, null, dueBy);
    }
}

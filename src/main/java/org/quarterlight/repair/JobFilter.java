package org.quarterlight.repair;

import java.time.LocalDate;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/**
 * Which jobs, in which order. What is null does not narrow the list.
 *
 * @param open only those that have not ended
 * @param date planned on this day
 * @param dueBy to be done on this day at the latest
 * @param search the beginning of a registration
 */
public record JobFilter(
        @Nullable JobState state,
        boolean open,
        @Nullable UUID performer,
        @Nullable UUID technician,
        @Nullable LocalDate date,
        @Nullable LocalDate dueBy,
        @Nullable String search,
        @Nullable UUID vehicle,
        Sort sort) {
    /** The order of the list. */
    public enum Sort {
        NEWEST,
        FIRST_DUE
    }

    public static JobFilter inState(JobState state) {
        return new JobFilter(state, false, null, null, null, null, null, null, Sort.FIRST_DUE);
    }

    /** Approved and on no day yet, of those that this organisation performs. */
    public static JobFilter notPlaced(UUID performer) {
        return new JobFilter(JobState.APPROVED, false, performer, null, null, null, null, null, Sort.FIRST_DUE);
    }

    public static JobFilter allOpen() {
        return new JobFilter(null, true, null, null, null, null, null, null, Sort.FIRST_DUE);
    }

    /** What has not ended and is to be done on this day at the latest. */
    public static JobFilter openDueBy(LocalDate day) {
        return new JobFilter(null, true, null, null, null, day, null, null, Sort.FIRST_DUE);
    }

    public static JobFilter ofTechnician(UUID technician, boolean open) {
        return new JobFilter(
                open ? null : JobState.CLOSED,
                open,
                null,
                technician,
                null,
                null,
                null,
                null,
                open ? Sort.FIRST_DUE : Sort.NEWEST);
    }
}

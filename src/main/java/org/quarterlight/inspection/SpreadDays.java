package org.quarterlight.inspection;

import java.time.LocalDate;
import java.util.List;
import java.util.UUID;

/**
 * Days on which the inspections of a depot are to be done.
 *
 * @param withoutDay due in these days, and no room for them
 * @param kept whether these days are planned now
 */
public record SpreadDays(UUID depot, List<Day> days, List<Vehicle> withoutDay, boolean kept) {
    public SpreadDays {
        days = List.copyOf(days);
        withoutDay = List.copyOf(withoutDay);
    }

    /**
     * @param plannedBefore how many stood on this day already
     */
    public record Day(LocalDate on, int plannedBefore, List<Vehicle> inspections) {
        public Day {
            inspections = List.copyOf(inspections);
        }
    }

    /**
     * @param late whether its day is after the one it is due on
     */
    public record Vehicle(UUID inspection, String registration, LocalDate dueOn, boolean late) {}
}

package org.quarterlight.inspection;

import jakarta.validation.constraints.Max;
import jakarta.validation.constraints.Min;
import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import java.time.DayOfWeek;
import java.time.LocalDate;
import java.util.Set;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.glass.VehicleCategory;

/**
 * How often the glass of which vehicles is looked at. Without a category or depot it holds for all of them.
 *
 * @param periodDays days from one inspection to the next; may be left out where kilometres are given
 * @param periodKm kilometres from one inspection to the next; where it is known how far a vehicle runs, whichever of days
 *     and kilometres comes first makes it due, else the days do. Without days and before two odometer readings tell the rate,
 *     it is due after a year, and the inspection says that a reading is needed
 * @param firstDue nothing is due before
 * @param weekdays when it is done; empty or left out, whenever the depot is open
 */
public record SavePlan(
        @NotBlank @Size(max = 120) String name,
        @Nullable VehicleCategory category,
        @Nullable UUID depot,
        @Min(1) @Max(3650) @Nullable Integer periodDays,
        @Min(100) @Max(1_000_000) @Nullable Integer periodKm,
        @NotNull LocalDate firstDue,
        @Nullable Set<@NotNull DayOfWeek> weekdays) {
    /** A plan as it is, to change from. */
    public static SavePlan of(PlanView plan) {
        return new SavePlan(
                plan.name(),
                plan.category(),
                plan.depot(),
                plan.periodDays(),
                plan.periodKm(),
                plan.firstDue(),
                plan.weekdays());
    }
}

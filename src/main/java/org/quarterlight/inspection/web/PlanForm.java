package org.quarterlight.inspection.web;

import jakarta.validation.constraints.Max;
import jakarta.validation.constraints.Min;
import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import java.time.DayOfWeek;
import java.time.LocalDate;
import java.util.EnumSet;
import java.util.Objects;
import java.util.Set;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.glass.VehicleCategory;
import org.quarterlight.inspection.PlanView;
import org.quarterlight.inspection.SavePlan;
import org.springframework.format.annotation.DateTimeFormat;

/** A plan as it is typed. No day of the week ticked is every day. */
class PlanForm {
    @NotBlank(message = "Give the plan a name")
    @Size(max = 120, message = "At most 120 characters")
    @Nullable
    String name;

    @Nullable
    VehicleCategory category;

    @Nullable
    UUID depot;

    @Min(value = 1, message = "At least 1 day")
    @Max(value = 3650, message = "At most 3650 days")
    @Nullable
    Integer periodDays;

    @Min(value = 100, message = "At least 100 km")
    @Max(value = 1_000_000, message = "At most 1 000 000 km")
    @Nullable
    Integer periodKm;

    @NotNull(message = "Give the first day")
    @DateTimeFormat(iso = DateTimeFormat.ISO.DATE)
    @Nullable
    LocalDate firstDue;

    Set<DayOfWeek> weekdays = EnumSet.noneOf(DayOfWeek.class);

    /** The version that the form was filled from. */
    int version;

    void fill(PlanView plan) {
        name = plan.name();
        category = plan.category();
        depot = plan.depot();
        periodDays = plan.periodDays();
        periodKm = plan.periodKm();
        firstDue = plan.firstDue();
        weekdays.addAll(plan.weekdays());
        version = plan.version();
    }

    SavePlan command() {
        return new SavePlan(
                Objects.requireNonNull(name),
                category,
                depot,
                periodDays,
                periodKm,
                Objects.requireNonNull(firstDue),
                weekdays);
    }
}

package org.quarterlight.inspection;

import java.time.DayOfWeek;
import java.time.LocalDate;
import java.util.EnumSet;
import java.util.Locale;
import java.util.Objects;
import java.util.Set;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.fleet.OpeningHours;
import org.quarterlight.glass.VehicleCategory;

/**
 * An inspection plan.
 *
 * @param weekdays empty where it is done whenever the depot is open
 */
public record PlanView(
        UUID id,
        String name,
        @Nullable VehicleCategory category,
        @Nullable UUID depot,
        @Nullable String depotName,
        @Nullable Integer periodDays,
        @Nullable Integer periodKm,
        LocalDate firstDue,
        Set<DayOfWeek> weekdays,
        boolean retired,
        int version) {
    public PlanView {
        weekdays = Set.copyOf(weekdays);
    }

    /** How often, in words. */
    public String every() {
        var days = periodDays == null ? "" : periodDays == 1 ? "day" : periodDays + " days";
        var km = periodKm == null
                ? ""
                : String.format(Locale.ROOT, "%,d", periodKm).replace(',', ' ') + " km";
        return days.isEmpty() || km.isEmpty() ? days + km : days + " or " + km;
    }

    /** The days of the week on which a depot with these hours can do it. */
    public Set<DayOfWeek> possibleAt(OpeningHours hours) {
        var days = EnumSet.noneOf(DayOfWeek.class);
        days.addAll(hours.days().keySet());
        if (!weekdays.isEmpty()) {
            days.retainAll(weekdays);
        }
        return days;
    }

    /** Whether it asks for the same of the same vehicles, whatever it is called and on whichever days it is done. */
    boolean asksAs(PlanView other) {
        return category == other.category
                && Objects.equals(depot, other.depot)
                && Objects.equals(periodDays, other.periodDays)
                && Objects.equals(periodKm, other.periodKm)
                && firstDue.equals(other.firstDue);
    }
}

package org.quarterlight.dispatch;

import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.util.List;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/**
 * A van's day in order, as it stands now.
 *
 * @param shift where the day has one of its own; else technician and hours are the van's
 * @param startsAt of the shift, in the zone of the van's base
 * @param km over the whole day, with the way home
 * @param drivingMinutes the time this takes
 * @param back at the base
 * @param overtimeMinutes from the end of the shift until then
 * @param lateMinutes of the stop that is most behind its plan, of those that are not done
 * @param flag where the day does not hold, in words
 */
public record DayView(
        VanView van,
        LocalDate date,
        @Nullable UUID shift,
        @Nullable UUID technician,
        @Nullable String technicianName,
        LocalTime startsAt,
        LocalTime endsAt,
        List<StopView> stops,
        double km,
        int drivingMinutes,
        @Nullable Instant leaves,
        @Nullable Instant back,
        int overtimeMinutes,
        int lateMinutes,
        @Nullable String flag,
        int version) {
    public DayView {
        stops = List.copyOf(stops);
    }

    /** Whether anything of it runs later than its plan, than a gate or than the shift. */
    public boolean runsLate() {
        return overtimeMinutes > 0 || stops.stream().anyMatch(StopView::runsLate);
    }
}

package org.quarterlight.dispatch;

import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * A van's day in order.
 *
 * @param km over the whole day, with the way home
 * @param flag where the day does not hold, in words
 */
public record DayView(
        VanView van,
        LocalDate date,
        List<StopView> stops,
        double km,
        @Nullable Instant back,
        @Nullable String flag,
        int version) {
    public DayView {
        stops = List.copyOf(stops);
    }
}

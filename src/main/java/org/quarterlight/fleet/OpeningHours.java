package org.quarterlight.fleet;

import java.time.DayOfWeek;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZonedDateTime;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** When a depot is open, by day of the week in its own zone; a day that is not here is closed. */
public record OpeningHours(Map<DayOfWeek, Hours> days) {
    public OpeningHours {
        days = Map.copyOf(days);
    }

    /** From and to on one day; a depot that never closes is open from 00:00 to 23:59. */
    public record Hours(LocalTime opens, LocalTime closes) {}

    /** Monday to Friday at these hours. */
    public static OpeningHours weekdays(LocalTime opens, LocalTime closes) {
        var hours = new Hours(opens, closes);
        return new OpeningHours(Map.of(
                DayOfWeek.MONDAY, hours,
                DayOfWeek.TUESDAY, hours,
                DayOfWeek.WEDNESDAY, hours,
                DayOfWeek.THURSDAY, hours,
                DayOfWeek.FRIDAY, hours));
    }

    public Optional<Hours> on(LocalDate date) {
        return Optional.ofNullable(days.get(date.getDayOfWeek()));
    }

    /** Whether the gate is open at this moment, given in the depot's zone. */
    public boolean isOpen(ZonedDateTime time) {
        return on(time.toLocalDate())
                .filter(hours -> !time.toLocalTime().isBefore(hours.opens())
                        && !time.toLocalTime().isAfter(hours.closes()))
                .isPresent();
    }

    /** Days whose hours end before they begin. */
    List<DayOfWeek> backwards() {
        return days.entrySet().stream()
                .filter(day -> !day.getValue().opens().isBefore(day.getValue().closes()))
                .map(Map.Entry::getKey)
                .sorted()
                .toList();
    }
}

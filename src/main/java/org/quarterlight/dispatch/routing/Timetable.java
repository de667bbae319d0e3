package org.quarterlight.dispatch.routing;

import java.time.Duration;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.time.ZonedDateTime;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/** The times of a day, stop by stop in the order given: where it goes wrong is said, nothing is moved. */
public record Timetable(List<Visit> visits, double km, ZonedDateTime back, boolean overrunsShift) {
    public Timetable {
        visits = List.copyOf(visits);
    }

    /** A stop to be made. Without opening hours the gate is closed on that day. */
    public record Stop(
            UUID job,
            Place place,
            ZoneId zone,
            @Nullable LocalTime opens,
            @Nullable LocalTime closes,
            Duration work) {}

    /** A stop with its times, in the zone of its place. */
    public record Visit(
            UUID job,
            double km,
            Duration travel,
            ZonedDateTime arrives,
            Duration waits,
            ZonedDateTime begins,
            ZonedDateTime ends,
            Gate gate) {}

    /** Whether the place is open for the visit. */
    public enum Gate {
        OPEN,
        /** Nobody opens on that day. */
        CLOSED_THAT_DAY,
        /** The van comes after closing. */
        CLOSED_BY_THEN,
        /** The work lasts past closing. */
        CLOSES_DURING_WORK
    }

    /** Drives from the base when the shift starts, waits where it comes too early, and goes home. */
    public static Timetable of(
            LocalDate day, ZoneId zone, LocalTime starts, LocalTime ends, Place base, List<Stop> stops) {
        var now = day.atTime(starts).atZone(zone);
        var here = base;
        var km = 0.0;
        var visits = new ArrayList<Visit>();
        for (var stop : stops) {
            var way = Travel.between(here, stop.place());
            var arrives = now.plus(way.time()).withZoneSameInstant(stop.zone());
            var begins = arrives;
            var gate = Gate.OPEN;
            if (stop.opens() == null || stop.closes() == null) {
                gate = Gate.CLOSED_THAT_DAY;
            } else {
                var opens = day.atTime(stop.opens()).atZone(stop.zone());
                var closes = day.atTime(stop.closes()).atZone(stop.zone());
                if (begins.isBefore(opens)) {
                    begins = opens;
                }
                if (!begins.isBefore(closes)) {
                    gate = Gate.CLOSED_BY_THEN;
                } else if (begins.plus(stop.work()).isAfter(closes)) {
                    gate = Gate.CLOSES_DURING_WORK;
                }
            }
            var done = begins.plus(stop.work());
            visits.add(new Visit(
                    stop.job(), way.km(), way.time(), arrives, Duration.between(arrives, begins), begins, done, gate));
            km += way.km();
            now = done;
            here = stop.place();
        }
        var home = Travel.between(here, base);
        var back = now.plus(home.time()).withZoneSameInstant(zone);
        return new Timetable(
                visits, km + home.km(), back, back.isAfter(day.atTime(ends).atZone(zone)));
    }
}

package org.quarterlight.dispatch.routing;

import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.time.ZonedDateTime;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/**
 * The times of a day, stop by stop: where it goes wrong is said, nothing is moved. A plan knows only the order; the present
 * state of a day begins with what was done already and shifts the rest.
 *
 * @param visits in the order in which they are made
 * @param km driven over the whole day, with the way home
 * @param driving the time this takes
 * @param leaves when the van sets out from its base
 * @param back when it is there again
 * @param overruns how long after the end of the shift that is
 */
public record Timetable(
        List<Visit> visits, double km, Duration driving, ZonedDateTime leaves, ZonedDateTime back, Duration overruns) {
    /** Ours: an estimate of minutes is not taken to the minute. What is nearer to its plan than this is on time. */
    public static final Duration ON_TIME_WITHIN = Duration.ofMinutes(5);

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
            Duration work,
            @Nullable Actual actual) {
        /** A stop at which nothing has happened yet. */
        public Stop(
                UUID job,
                Place place,
                ZoneId zone,
                @Nullable LocalTime opens,
                @Nullable LocalTime closes,
                Duration work) {
            this(job, place, zone, opens, closes, work, null);
        }
    }

    /** What has happened at a stop: when its work began, and when it ended if it did. */
    public record Actual(Instant began, @Nullable Instant ended) {}

    /** A stop with its times, in the zone of its place. The way and its time are estimates also where it was driven. */
    public record Visit(
            UUID job,
            double km,
            Duration travel,
            ZonedDateTime departs,
            ZonedDateTime arrives,
            Duration waits,
            ZonedDateTime begins,
            ZonedDateTime ends,
            Gate gate) {
        /** How much later than planned it ends; nothing where that is too little to speak of. */
        public Duration lateAgainst(Visit planned) {
            var late = Duration.between(planned.ends, ends);
            return late.compareTo(ON_TIME_WITHIN) < 0 ? Duration.ZERO : late;
        }
    }

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

    public boolean overrunsShift() {
        return overruns.isPositive();
    }

    /** The plan: drives from the base when the shift starts, waits where it comes too early, and goes home. */
    public static Timetable of(
            LocalDate day, ZoneId zone, LocalTime starts, LocalTime ends, Place base, List<Stop> stops) {
        var journey = new Journey(day, zone, starts, base);
        stops.forEach(stop -> journey.make(stop, null));
        return journey.home(ends);
    }

    /**
     * The day as it stands: first what was begun, in that order and at its own times, then the rest in the order given.
     * Work under way lasts as long as it was planned and at least until now; nothing begins in the past. On any other day
     * than this, now says nothing.
     */
    public static Timetable asOf(
            Instant now, LocalDate day, ZoneId zone, LocalTime starts, LocalTime ends, Place base, List<Stop> stops) {
        var present = now.atZone(zone).toLocalDate().equals(day) ? now : null;
        var journey = new Journey(day, zone, starts, base);
        record Begun(Stop stop, Actual actual) {}
        var begun = new ArrayList<Begun>();
        for (var stop : stops) {
            var actual = stop.actual();
            if (actual != null) {
                begun.add(new Begun(stop, actual));
            }
        }
        begun.sort(Comparator.comparing(each -> each.actual().began()));
        begun.forEach(each -> journey.made(each.stop(), each.actual(), present));
        stops.stream().filter(stop -> stop.actual() == null).forEach(stop -> journey.make(stop, present));
        return journey.home(ends);
    }

    /** A van on its way through the day. */
    private static final class Journey {
        private final LocalDate day;
        private final ZoneId zone;
        private final Place base;
        private final List<Visit> visits = new ArrayList<>();
        private ZonedDateTime free;
        private Place here;
        private double km;
        private Duration driving = Duration.ZERO;

        Journey(LocalDate day, ZoneId zone, LocalTime starts, Place base) {
            this.day = day;
            this.zone = zone;
            this.base = base;
            this.free = day.atTime(starts).atZone(zone);
            this.here = base;
        }

        void make(Stop stop, @Nullable Instant notBefore) {
            var way = drive(stop.place());
            var departs = free.withZoneSameInstant(stop.zone());
            var arrives = departs.plus(way.time());
            var begins = arrives;
            if (notBefore != null && begins.toInstant().isBefore(notBefore)) {
                begins = notBefore.atZone(stop.zone());
            }
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
            add(stop, way, departs, arrives, begins, begins.plus(stop.work()), gate);
        }

        /** Somebody was there and worked, so the gate was open; the van came straight and waited for the work to begin. */
        void made(Stop stop, Actual actual, @Nullable Instant present) {
            var way = drive(stop.place());
            var begins = actual.began().atZone(stop.zone());
            var departs = free.withZoneSameInstant(stop.zone());
            if (visits.isEmpty() && departs.plus(way.time()).isAfter(begins)) {
                departs = begins.minus(way.time());
            }
            if (departs.isAfter(begins)) {
                departs = begins;
            }
            var arrives = departs.plus(way.time());
            if (arrives.isAfter(begins)) {
                arrives = begins;
            }
            var ended = actual.ended();
            ZonedDateTime ends;
            if (ended != null) {
                ends = ended.atZone(stop.zone());
            } else {
                ends = begins.plus(stop.work());
                if (present != null && ends.toInstant().isBefore(present)) {
                    ends = present.atZone(stop.zone());
                }
            }
            add(stop, way, departs, arrives, begins, ends, Gate.OPEN);
        }

        private Travel drive(Place to) {
            var way = Travel.between(here, to);
            km += way.km();
            driving = driving.plus(way.time());
            return way;
        }

        private void add(
                Stop stop,
                Travel way,
                ZonedDateTime departs,
                ZonedDateTime arrives,
                ZonedDateTime begins,
                ZonedDateTime ends,
                Gate gate) {
            visits.add(new Visit(
                    stop.job(),
                    way.km(),
                    way.time(),
                    departs,
                    arrives,
                    Duration.between(arrives, begins),
                    begins,
                    ends,
                    gate));
            if (ends.isAfter(free)) {
                free = ends;
            }
            here = stop.place();
        }

        Timetable home(LocalTime shiftEnds) {
            var way = drive(base);
            var back = free.plus(way.time()).withZoneSameInstant(zone);
            var over = Duration.between(day.atTime(shiftEnds).atZone(zone), back);
            var leaves = visits.isEmpty() ? free : visits.getFirst().departs().withZoneSameInstant(zone);
            return new Timetable(visits, km, driving, leaves, back, over.isNegative() ? Duration.ZERO : over);
        }
    }
}

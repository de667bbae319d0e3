package org.quarterlight.bench;

import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import net.e175.klaus.solarpositioning.DeltaT;
import net.e175.klaus.solarpositioning.SPA;
import org.jspecify.annotations.Nullable;

/** The sun by NREL's solar position algorithm, NREL/TP-560-34302 (Reda and Andreas 2003, revised 2008). */
public final class Sun {
    private static final double SEA_LEVEL_HPA = 1013.25;
    private static final double USUAL_CELSIUS = 12;
    private static final Duration STEP = Duration.ofMinutes(5);
    private static final Duration FINEST = Duration.ofMinutes(1);

    private Sun() {}

    /** At a place in degrees, north and east positive, at sea level in usual air. */
    public static SunPosition at(Instant moment, double latitude, double longitude) {
        var there = moment.atZone(ZoneOffset.UTC);
        return at(moment, latitude, longitude, 0, DeltaT.estimate(there.toLocalDate()), SEA_LEVEL_HPA, USUAL_CELSIUS);
    }

    static SunPosition at(
            Instant moment,
            double latitude,
            double longitude,
            double elevationM,
            double deltaTSeconds,
            double pressureHpa,
            double airCelsius) {
        var position = SPA.calculateSolarPosition(
                moment.atZone(ZoneOffset.UTC), latitude, longitude, elevationM, deltaTSeconds, pressureHpa, airCelsius);
        return new SunPosition(position.zenithAngle(), position.azimuth());
    }

    /** When direct sun falls on a pane on a day there, in order of time. */
    public static List<SunWindow> windows(LocalDate day, ZoneId zone, double latitude, double longitude, Pane pane) {
        var end = day.plusDays(1).atStartOfDay(zone).toInstant();
        var windows = new ArrayList<SunWindow>();
        @Nullable Instant lit = null;
        var before = day.atStartOfDay(zone).toInstant();
        if (pane.isLitBy(at(before, latitude, longitude))) {
            lit = before;
        }
        while (before.isBefore(end)) {
            var next = before.plus(STEP).isAfter(end) ? end : before.plus(STEP);
            var shines = pane.isLitBy(at(next, latitude, longitude));
            if (shines && lit == null) {
                lit = change(before, next, latitude, longitude, pane, true);
            } else if (!shines && lit != null) {
                windows.add(new SunWindow(lit, change(before, next, latitude, longitude, pane, false)));
                lit = null;
            }
            before = next;
        }
        if (lit != null) {
            windows.add(new SunWindow(lit, end));
        }
        return windows;
    }

    /** The first minute after {@code before} in which the pane is lit, or not any more. */
    private static Instant change(
            Instant before, Instant after, double latitude, double longitude, Pane pane, boolean to) {
        var at = before.plus(FINEST).truncatedTo(ChronoUnit.MINUTES);
        while (at.isBefore(after) && pane.isLitBy(at(at, latitude, longitude)) != to) {
            at = at.plus(FINEST);
        }
        return at;
    }
}

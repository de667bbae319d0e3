package org.quarterlight.dispatch.routing;

import java.time.Duration;

/**
 * The way between two places: the great circle on a sphere of 6371.0088 km (the mean radius of the earth, IUGG), longer by
 * a factor for the bends of roads, driven at one speed. Factor and speed are ours: roads of mixed country.
 */
public record Travel(double km, Duration time) {
    static final double EARTH_RADIUS_KM = 6371.0088;
    static final double DETOUR = 1.3;
    static final double KM_AN_HOUR = 50;

    public static Travel between(Place from, Place to) {
        var km = greatCircleKm(from, to) * DETOUR;
        return new Travel(km, Duration.ofSeconds(Math.round(km / KM_AN_HOUR * 3600)));
    }

    /** The haversine formula, which keeps its digits where places lie close. */
    static double greatCircleKm(Place from, Place to) {
        var north = Math.toRadians(to.latitude() - from.latitude());
        var east = Math.toRadians(to.longitude() - from.longitude());
        var a = square(Math.sin(north / 2))
                + Math.cos(Math.toRadians(from.latitude()))
                        * Math.cos(Math.toRadians(to.latitude()))
                        * square(Math.sin(east / 2));
        return 2 * EARTH_RADIUS_KM * Math.asin(Math.min(1, Math.sqrt(a)));
    }

    private static double square(double value) {
        return value * value;
    }
}

package org.quarterlight.bench;

import java.time.Duration;
import java.util.TreeMap;

/**
 * How long somebody may look towards a lamp without goggles within a working day: 2006/25/EC, Annex I, Table 1.1, rows a
 * and b, the limits of ICNIRP 2004. Row b, 10⁴ J/m² of UV-A to the eye, from memory; row a, 30 J/m² weighted by S(λ), seen,
 * with S(λ) from memory. The shorter of both holds.
 */
public final class EyeLimit {
    /**
     * What goggles have to carry by EN 170 with EN 166 (secondary): 2C keeps colours true, 1.2 is the shade.
     */
    public static final String GOGGLES_MARK = "2C-1.2";

    /** Between 385 and 405 nm a filter of that mark may let much through; its own curve tells (from memory). */
    public static final double ASK_FOR_THE_CURVE_FROM_NM = 385;

    private static final double UV_A_J_PER_M2 = 1e4;
    private static final double WEIGHTED_J_PER_M2 = 30;
    private static final Duration WORKING_DAY = Duration.ofHours(8);
    private static final TreeMap<Double, Double> WEIGHT = new TreeMap<>();

    static {
        WEIGHT.put(350.0, 2.0e-4);
        WEIGHT.put(365.0, 1.1e-4);
        WEIGHT.put(380.0, 6.4e-5);
        WEIGHT.put(385.0, 5.3e-5);
        WEIGHT.put(395.0, 3.6e-5);
        WEIGHT.put(400.0, 3.0e-5);
    }

    private EyeLimit() {}

    /**
     * Of light of this lamp as it falls on an eye at that distance. Beyond 400 nm, where the limits end, the light counts as
     * if it had 400 nm, which is on the safe side; below 350 nm the weight is that of 350 nm, and UV-A holds all the same.
     */
    public static Duration longestUnprotected(LampReading lamp, double distanceMm) {
        var irradiance = lamp.irradianceWPerM2At(distanceMm);
        var seconds =
                Math.min(UV_A_J_PER_M2 / irradiance, WEIGHTED_J_PER_M2 / (irradiance * weight(lamp.wavelengthNm())));
        return seconds >= WORKING_DAY.toSeconds() ? WORKING_DAY : Duration.ofMillis((long) (seconds * 1000));
    }

    /** Straight between the table's rows in the logarithm, as the table's values fall. */
    static double weight(double wavelengthNm) {
        var below = WEIGHT.floorEntry(wavelengthNm);
        var above = WEIGHT.ceilingEntry(wavelengthNm);
        if (below == null) {
            return WEIGHT.firstEntry().getValue();
        }
        if (above == null) {
            return WEIGHT.lastEntry().getValue();
        }
        if (below.getKey().equals(above.getKey())) {
            return below.getValue();
        }
        var part = (wavelengthNm - below.getKey()) / (above.getKey() - below.getKey());
        return Math.exp((1 - part) * Math.log(below.getValue()) + part * Math.log(above.getValue()));
    }
}

package org.quarterlight.bench;

/**
 * The temperature at which air begins to leave its water on a surface: Magnus' formula over water with the coefficients of
 * WMO-No. 8, Annex 4.B (Sonntag 1990), for −45 to 60 °C (secondary).
 */
public final class DewPoint {
    /**
     * A surface at least this much warmer counts as safe from dew: the common rule of coating work, tied to ISO 8502-4
     * (secondary).
     */
    public static final double SAFE_MARGIN_K = 3;

    private static final double B = 17.62;
    private static final double C = 243.12;

    private DewPoint() {}

    /** In °C, of air at this temperature and relative humidity, above 0 up to 100 %. */
    public static double celsius(double airCelsius, double relativeHumidityPercent) {
        var gamma = Math.log(relativeHumidityPercent / 100) + B * airCelsius / (C + airCelsius);
        return C * gamma / (B - gamma);
    }
}

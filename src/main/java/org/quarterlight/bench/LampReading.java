package org.quarterlight.bench;

/**
 * What a meter said of a lamp.
 *
 * @param wavelengthNm of its strongest line
 * @param irradianceMwPerCm2 at that distance; 1 mW/cm² is 10 W/m²
 * @param distanceMm between lamp and meter
 */
public record LampReading(double wavelengthNm, double irradianceMwPerCm2, double distanceMm) {
    private static final double W_PER_M2 = 10;

    /**
     * At another distance, as from a point: twice as far is a quarter. Close to a lamp that is wide this is too much when
     * going nearer, so nearer than it was measured it counts no more than what was measured.
     */
    public double irradianceMwPerCm2At(double otherDistanceMm) {
        var ratio = distanceMm / Math.max(otherDistanceMm, distanceMm);
        return irradianceMwPerCm2 * ratio * ratio;
    }

    double irradianceWPerM2At(double otherDistanceMm) {
        // The eye is not spared by what the resin is not promised.
        var ratio = distanceMm / otherDistanceMm;
        return irradianceMwPerCm2 * W_PER_M2 * ratio * ratio;
    }
}

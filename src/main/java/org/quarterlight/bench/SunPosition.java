package org.quarterlight.bench;

/**
 * Where the sun stands.
 *
 * @param zenithDegrees from straight above, with the air's refraction
 * @param azimuthDegrees from north over east
 */
public record SunPosition(double zenithDegrees, double azimuthDegrees) {
    public boolean isUp() {
        return zenithDegrees < 90;
    }

    public double elevationDegrees() {
        return 90 - zenithDegrees;
    }
}

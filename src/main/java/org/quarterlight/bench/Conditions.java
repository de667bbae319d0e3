package org.quarterlight.bench;

import org.jspecify.annotations.Nullable;

/**
 * What was read where the vehicle stands, before the resin.
 *
 * @param airCelsius of the air beside the glass
 * @param glassCelsius of the glass beside the damage
 * @param rain falls, whether or not it reaches the glass
 * @param glassDry nothing wet is seen on or in the break
 * @param bearingDegrees where the vehicle's front points, from north over east; needed in the open only
 */
public record Conditions(
        double airCelsius,
        double glassCelsius,
        double relativeHumidityPercent,
        Light light,
        boolean rain,
        boolean glassDry,
        @Nullable Double bearingDegrees) {
    public double dewPointCelsius() {
        return DewPoint.celsius(airCelsius, relativeHumidityPercent);
    }
}

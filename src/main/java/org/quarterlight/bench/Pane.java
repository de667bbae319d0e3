package org.quarterlight.bench;

/**
 * How a windscreen stands under the sky, taken as a plane.
 *
 * @param bearingDegrees where the vehicle's front points, from north over east
 * @param rakeDegrees of the glass against the level: 90 stands upright
 */
public record Pane(double bearingDegrees, double rakeDegrees) {
    /** Between the sun's ray and the glass's normal, in degrees; below 90 the outer face is lit. */
    public double incidenceDegrees(SunPosition sun) {
        var zenith = Math.toRadians(sun.zenithDegrees());
        var rake = Math.toRadians(rakeDegrees);
        var aside = Math.toRadians(sun.azimuthDegrees() - bearingDegrees);
        var cosine = Math.cos(zenith) * Math.cos(rake) + Math.sin(zenith) * Math.sin(rake) * Math.cos(aside);
        return Math.toDegrees(Math.acos(Math.clamp(cosine, -1, 1)));
    }

    /** Whether this sun shines on the outer face. Buildings and trees are not known. */
    public boolean isLitBy(SunPosition sun) {
        return sun.isUp() && incidenceDegrees(sun) < 90;
    }
}

package org.quarterlight.glass;

/**
 * One wiper: its pivot in the glass frame, how far from the pivot its blade begins and ends, and between which directions
 * it swings. Degrees count from the x axis towards y.
 */
public record Wiper(
        double pivotXMm,
        double pivotYMm,
        double innerRadiusMm,
        double outerRadiusMm,
        double fromDegrees,
        double toDegrees) {
    Wiper mirrored() {
        return new Wiper(-pivotXMm, pivotYMm, innerRadiusMm, outerRadiusMm, 180 - toDegrees, 180 - fromDegrees);
    }
}

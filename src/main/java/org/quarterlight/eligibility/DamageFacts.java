package org.quarterlight.eligibility;

import java.time.LocalDate;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.glass.DamageKind;
import org.quarterlight.glass.DamageShape;
import org.quarterlight.glass.Measured;

/**
 * One damage as it was last seen, or a finished repair that is still on the glass. The longest leg of a crack is its
 * length. What nobody looked at is null. {@code found} is an inspector's own finding on the view; it can make the grade
 * worse, never better. {@code seenOn} is the day from which the days of an outcome count.
 */
public record DamageFacts(
        UUID damage,
        UUID observation,
        DamageKind kind,
        DamageShape shape,
        double positionStandardUncertaintyMm,
        Measured overallDiameter,
        @Nullable Measured pit,
        @Nullable Measured longestLeg,
        @Nullable Layers layers,
        @Nullable Condition condition,
        boolean finishedRepair,
        @Nullable Grade found,
        LocalDate seenOn) {
    public DamageFacts {
        if (!(positionStandardUncertaintyMm >= 0) || !Double.isFinite(positionStandardUncertaintyMm)) {
            throw new IllegalArgumentException(
                    "not a standard uncertainty of a position: " + positionStandardUncertaintyMm);
        }
        if (overallDiameter.mm() < 0) {
            throw new IllegalArgumentException("not a diameter: " + overallDiameter.mm());
        }
    }

    /** Of a distance from its nearest point: the place is uncertain, and the size on the side that counts. */
    double distanceStandardUncertaintyMm() {
        return Math.hypot(positionStandardUncertaintyMm, overallDiameter.standardUncertaintyMm() / 2);
    }
}

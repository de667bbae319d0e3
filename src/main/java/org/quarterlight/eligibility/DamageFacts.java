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
 * worse, never better. {@code seenOn} is the day from which the days of an outcome count, {@code arisenOn} the one from
 * which its age does; where nobody knows it, the day it was seen on. {@code body} is a combination break without its legs.
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
        LocalDate seenOn,
        @Nullable LocalDate arisenOn,
        @Nullable Measured body,
        @Nullable Finish finish) {
    /** How a finished repair came out; null where nobody looked. */
    public record Finish(@Nullable Boolean level, @Nullable Boolean clear) {}

    public DamageFacts {
        if (!(positionStandardUncertaintyMm >= 0) || !Double.isFinite(positionStandardUncertaintyMm)) {
            throw new IllegalArgumentException(
                    "not a standard uncertainty of a position: " + positionStandardUncertaintyMm);
        }
        if (overallDiameter.mm() < 0) {
            throw new IllegalArgumentException("not a diameter: " + overallDiameter.mm());
        }
    }

    /** Where nobody knows since when it is there, nor measured its body. */
    public DamageFacts(
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
        this(
                damage,
                observation,
                kind,
                shape,
                positionStandardUncertaintyMm,
                overallDiameter,
                pit,
                longestLeg,
                layers,
                condition,
                finishedRepair,
                found,
                seenOn,
                null,
                null);
    }

    /** Where nobody looked how a repair came out. */
    public DamageFacts(
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
            LocalDate seenOn,
            @Nullable LocalDate arisenOn,
            @Nullable Measured body) {
        this(
                damage,
                observation,
                kind,
                shape,
                positionStandardUncertaintyMm,
                overallDiameter,
                pit,
                longestLeg,
                layers,
                condition,
                finishedRepair,
                found,
                seenOn,
                arisenOn,
                body,
                null);
    }

    LocalDate since() {
        return arisenOn == null || arisenOn.isAfter(seenOn) ? seenOn : arisenOn;
    }

    /** The same on a glass whose edge and zones are uncertain themselves: what is read between the two has the doubt of both. */
    DamageFacts onGlassKnownTo(double outlineStandardUncertaintyMm) {
        return outlineStandardUncertaintyMm == 0
                ? this
                : new DamageFacts(
                        damage,
                        observation,
                        kind,
                        shape,
                        Math.hypot(positionStandardUncertaintyMm, outlineStandardUncertaintyMm),
                        overallDiameter,
                        pit,
                        longestLeg,
                        layers,
                        condition,
                        finishedRepair,
                        found,
                        seenOn,
                        arisenOn,
                        body,
                        finish);
    }

    /** Of a distance from its nearest point: the place is uncertain, and the size on the side that counts. */
    double distanceStandardUncertaintyMm() {
        return Math.hypot(positionStandardUncertaintyMm, overallDiameter.standardUncertaintyMm() / 2);
    }
}

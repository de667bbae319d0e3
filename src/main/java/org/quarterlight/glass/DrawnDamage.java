package org.quarterlight.glass;

import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.locationtech.jts.geom.Geometry;

/**
 * A damage as a drawing shows it.
 *
 * @param number on its tag
 * @param tone {@code repair}, {@code watch}, {@code measure-again}, {@code replace}, {@code stand-down}, {@code
 *     earlier-repair} or {@code neutral}
 * @param toEdge from its nearest point to the edge of the glass
 * @param toDriversZone from its nearest point to the driver's zone
 * @param pitMm the crater's width
 * @param longestLegMm from the crater to the end of the longest leg
 * @param href where its ring leads, null for nowhere
 * @param sentence what it is and where, for whoever does not see the picture
 */
public record DrawnDamage(
        int number,
        DamageShape shape,
        DamageKind kind,
        String tone,
        @Nullable Measured diameter,
        @Nullable Measured toEdge,
        @Nullable Measured toDriversZone,
        @Nullable Double pitMm,
        @Nullable Double longestLegMm,
        @Nullable String href,
        String sentence) {
    /**
     * The same with its distances on a glass as rules read them, from its nearest point, and a sentence that tells them.
     *
     * @param driversZone null where no rule knows one
     * @param positionStandardUncertaintyMm of its place; half of its size's is added
     */
    public DrawnDamage on(GlassPattern pattern, @Nullable Geometry driversZone, double positionStandardUncertaintyMm) {
        var size = Objects.requireNonNull(diameter, "how large");
        var doubtMm = Math.hypot(positionStandardUncertaintyMm, size.standardUncertaintyMm() / 2);
        var edge = new Measured(pattern.distanceToEdgeMm(shape), doubtMm);
        var gapMm = driversZone == null || driversZone.isEmpty() ? 0 : shape.distanceMm(driversZone);
        var gap = gapMm > 0 ? new Measured(gapMm, doubtMm) : null;
        return new DrawnDamage(
                number,
                shape,
                kind,
                tone,
                diameter,
                edge,
                gap,
                pitMm,
                longestLegMm,
                href,
                kind.spoken() + ", " + size.text() + " mm, "
                        + edge.text()
                        + " mm from the edge"
                        + (gap == null ? "" : ", " + gap.text() + " mm from the driver's zone"));
    }
}

package org.quarterlight.glass;

import org.jspecify.annotations.Nullable;

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
        String sentence) {}

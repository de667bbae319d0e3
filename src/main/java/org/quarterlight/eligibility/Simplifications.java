package org.quarterlight.eligibility;

import org.quarterlight.glass.GenericGlass;
import org.quarterlight.glass.SteeringSide;

/**
 * What the zones leave out of account, and how much that is on the generic glasses. Widths are taken along the glass, as a
 * tape lies on it, and not across the vehicle; heights that stand upright are divided by the sine of the rake, the glass being
 * flat up and down; borders and sheets of paper lie on the glass.
 */
public final class Simplifications {
    /** How far the middle of a windscreen bows out over its width, as a share of that. Ours, plausible, no source. */
    public static final double BOWED_BY = 0.08;

    /** How far the middle of a windscreen bows out over its height, as a share of that. Ours, plausible, no source. */
    public static final double BOWED_UP_BY = 0.02;

    private Simplifications() {}

    /** The radius of an arc that bows out by this over a chord. */
    private static double radius(double chordMm, double bowMm) {
        return chordMm * chordMm / (8 * bowMm) + bowMm / 2;
    }

    /**
     * How much farther to its outer side, where it is most, a zone of this width about the wheel would reach along the bowed
     * glass if it were as wide across the vehicle, mm.
     */
    public static double widthMm(GenericGlass glass, double zoneWidthMm) {
        var measured = glass.measurements(SteeringSide.LEFT);
        var acrossMm = measured.lowerWidthMm();
        var radius = radius(acrossMm, BOWED_BY * acrossMm);
        var wheel = Math.asin(measured.wheelOffsetMm() / radius);
        var outer = Math.asin(Math.min(1, (measured.wheelOffsetMm() + zoneWidthMm / 2) / radius)) - wheel;
        return radius * outer - zoneWidthMm / 2;
    }

    /**
     * How much taller a square before the eye would stand on glass that bows up and down as well, where its rake differs most
     * from the mean over the middle half of the height; as a share of its height.
     */
    public static double heightShare(GenericGlass glass) {
        var measured = glass.measurements(SteeringSide.LEFT);
        var radius = radius(measured.heightMm(), BOWED_UP_BY * measured.heightMm());
        var off = Math.asin(measured.heightMm() / 4 / radius);
        var rake = Math.toRadians(measured.rakeDegrees());
        return Math.sin(rake) / Math.sin(rake - off) - 1;
    }
}

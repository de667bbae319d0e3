package org.quarterlight.glass;

import java.util.ArrayList;
import java.util.List;

/**
 * Turns places on a picture into millimetres along the glass by two known lengths, one level and one upright. The scale is
 * affine: the lengths are taken to stand square to each other on the glass, so a picture that is turned, stretched or
 * slanted alike everywhere is put right. Perspective is not, nor is the bow of the glass.
 *
 * <p>The standard uncertainty follows from how well ends are placed and lengths read, by the law of propagation (JCGM
 * 100:2008, 5.1.2), and in a photo from what perspective may do. The four figures are ours, not measured.
 */
public final class PictureScale {
    /** How well somebody places a mark on the picture, one standard uncertainty. */
    static final double PLACED_PX = 3;

    /** How well a tape is read over a whole glass, one standard uncertainty. */
    static final double TAPE_MM = 1;

    /** How far off square a photo is taken for, and from how near; what lies r from the middle is r² sin(angle) / distance off. */
    static final double OFF_SQUARE_DEGREES = 5;

    static final double CAMERA_AWAY_MM = 3000;

    private static final double SHORTEST_PX = 50;
    private static final double SHORTEST_MM = 100;
    private static final double LONGEST_MM = 4000;
    private static final double LARGEST_PX = 20_000;
    /** Lengths that meet at less than this fix no second direction. */
    private static final double LEAST_DEGREES = 45;

    private final KnownLength across;
    private final KnownLength up;
    private final PicturePlace origin;
    /** The lengths on the picture, y turned upwards. */
    private final double acrossX;

    private final double acrossY;
    private final double upX;
    private final double upY;
    private final double determinant;

    private PictureScale(KnownLength across, KnownLength up, PicturePlace origin) {
        this.across = across;
        this.up = up;
        this.origin = origin;
        acrossX = across.toXPx() - across.fromXPx();
        acrossY = across.fromYPx() - across.toYPx();
        upX = up.toXPx() - up.fromXPx();
        upY = up.fromYPx() - up.toYPx();
        determinant = acrossX * upY - acrossY * upX;
    }

    /**
     * The scale of a picture whose sides are about those of the glass. Which end of a length is named first does not matter.
     *
     * @param origin where the glass frame begins, at the middle of the lower edge
     * @throws IllegalArgumentException where {@link #problems} are not empty
     */
    public static PictureScale of(KnownLength across, KnownLength up, PicturePlace origin) {
        var problems = problems(across, up);
        if (!problems.isEmpty()) {
            throw new IllegalArgumentException("no scale from " + problems);
        }
        return new PictureScale(toTheRight(across), upwards(up), origin);
    }

    private static KnownLength toTheRight(KnownLength length) {
        return length.toXPx() < length.fromXPx() ? length.turnedRound() : length;
    }

    private static KnownLength upwards(KnownLength length) {
        return length.toYPx() > length.fromYPx() ? length.turnedRound() : length;
    }

    /** Why two lengths give no scale; empty where they do. */
    public static List<MeasurementProblem> problems(KnownLength across, KnownLength up) {
        var problems = new ArrayList<MeasurementProblem>();
        check(problems, "across", across);
        check(problems, "up", up);
        if (problems.isEmpty()) {
            var scale = new PictureScale(toTheRight(across), upwards(up), new PicturePlace(0, 0));
            var sine = scale.determinant / (across.lengthPx() * up.lengthPx());
            if (!(sine >= Math.sin(Math.toRadians(LEAST_DEGREES)))) {
                problems.add(new MeasurementProblem(
                        "up", "Lies nearly along the other length. Mark one level and one upright length."));
            }
        }
        return problems;
    }

    private static void check(List<MeasurementProblem> problems, String field, KnownLength length) {
        var ends = List.of(length.fromXPx(), length.fromYPx(), length.toXPx(), length.toYPx());
        if (!ends.stream().allMatch(px -> Math.abs(px) <= LARGEST_PX)) {
            problems.add(new MeasurementProblem(field, "Its ends do not lie on the picture"));
        } else if (!(length.lengthMm() >= SHORTEST_MM && length.lengthMm() <= LONGEST_MM)) {
            problems.add(new MeasurementProblem(
                    field + ".lengthMm", "Between " + Math.round(SHORTEST_MM) + " and " + Math.round(LONGEST_MM)));
        } else if (length.lengthPx() < SHORTEST_PX) {
            problems.add(new MeasurementProblem(field, "Its ends lie too near to each other on the picture"));
        }
    }

    /** Where a place of the picture lies on the glass. */
    public OutlineCorner toGlass(PicturePlace place) {
        var x = place.xPx() - origin.xPx();
        var y = origin.yPx() - place.yPx();
        return new OutlineCorner(
                across.lengthMm() * (upY * x - upX * y) / determinant,
                up.lengthMm() * (acrossX * y - acrossY * x) / determinant);
    }

    /** Where a place of the glass lies on the picture. */
    public PicturePlace toPicture(OutlineCorner corner) {
        var right = corner.xMm() / across.lengthMm();
        var high = corner.yMm() / up.lengthMm();
        return new PicturePlace(
                origin.xPx() + acrossX * right + upX * high, origin.yPx() - acrossY * right - upY * high);
    }

    /** The same scale with the frame beginning elsewhere on the glass, so many millimetres to the right and up. */
    public PictureScale movedBy(OutlineCorner by) {
        return new PictureScale(across, up, toPicture(by));
    }

    public PicturePlace origin() {
        return origin;
    }

    /** One standard uncertainty of the corner that is known worst. */
    public double standardUncertaintyMm(List<OutlineCorner> corners, TracedFrom from) {
        var box = TracedOutline.boxOf(corners);
        var ofAcross = relative(across);
        var ofUp = relative(up);
        var placed = PLACED_PX * Math.max(across.lengthMm() / across.lengthPx(), up.lengthMm() / up.lengthPx());
        var worst = 0.0;
        for (var corner : corners) {
            var away = Math.hypot(corner.xMm() - box.centre().x, corner.yMm() - box.centre().y);
            // Half the width of what is equally likely, so it is divided by √3 (JCGM 100:2008, 4.3.7).
            var perspective = from == TracedFrom.PHOTO
                    ? away * away * Math.sin(Math.toRadians(OFF_SQUARE_DEGREES)) / CAMERA_AWAY_MM / Math.sqrt(3)
                    : 0;
            worst = Math.max(
                    worst,
                    Math.sqrt(placed * placed
                            + square(corner.xMm() * ofAcross)
                            + square(corner.yMm() * ofUp)
                            + perspective * perspective));
        }
        return worst;
    }

    /** Of one known length: two ends placed and one tape read. */
    private static double relative(KnownLength length) {
        return Math.hypot(Math.sqrt(2) * PLACED_PX / length.lengthPx(), TAPE_MM / length.lengthMm());
    }

    private static double square(double value) {
        return value * value;
    }
}

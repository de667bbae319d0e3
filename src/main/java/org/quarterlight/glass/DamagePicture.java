package org.quarterlight.glass;

import org.jspecify.annotations.Nullable;
import org.locationtech.jts.geom.Coordinate;

/**
 * How each kind of damage is drawn: in a circle of radius 1 with the crater at its middle, blown up to true size. A shape
 * that somebody measured is drawn as it was measured instead.
 */
final class DamagePicture {
    /** The crater's share of the whole where nobody measured it: a drawing's convention, no finding. */
    private static final double PIT_SHARE = 0.12;

    /** How far the half-moon's closing curve rises, where its crater lies. */
    private static final double MOON_RISE = 0.3;

    private static final double[][] STAR = {
        {0, 0, -0.32, 0.06, -0.58, -0.02, -1, 0.02},
        {0, 0, -0.06, 0.28, -0.24, 0.62},
        {0, 0, 0.26, 0.34, 0.44, 0.44, 0.77, 0.638},
        {0, 0, 0.26, -0.06, 0.36, -0.16, 0.58, -0.2},
        {0, 0, 0.1, -0.38, 0.06, -0.6, 0.26, -0.9656},
        {0, 0, -0.22, -0.3, -0.42, -0.44},
    };
    private static final double[][] COMBINATION = {
        {0, 0, -0.5, 0.1, -0.72, 0.26, -0.94, 0.341},
        {0, 0, 0.02, 0.46, -0.08, 0.82},
        {0, 0, 0.44, 0.24, 0.66, 0.22, 0.88, 0.474},
        {0, 0, 0.3, -0.34, 0.38, -0.62, 0.54, -0.8417},
        {0, 0, -0.2, -0.42, -0.46, -0.6},
    };
    private static final double[] CRACK = {
        -1, -0.3, -0.7, 0, -0.44, -0.08, -0.12, 0.2, 0.14, 0.12, 0.4, 0.34, 0.64, 0.3, 1, 0.3
    };
    private static final double[] RAGGED = {1, 0.82, 0.95, 0.78, 1, 0.86, 0.8, 1, 0.84};

    private DamagePicture() {}

    /** The first leg of each picture is its longest. */
    static @Nullable Coordinate middleOfLongestLeg(DamageKind kind, DamageShape shape) {
        var legs = switch (kind) {
            case STAR_BREAK -> STAR;
            case COMBINATION_BREAK -> COMBINATION;
            default -> null;
        };
        if (legs == null) {
            return null;
        }
        var radius = shape.diameterMm() / 2;
        return new Coordinate(shape.xMm() + radius * legs[0][4], shape.yMm() + radius * legs[0][5]);
    }

    static void draw(Paper paper, DrawnDamage damage, Pen pen) {
        var shape = damage.shape();
        var lines = shape.lines();
        var pit = damage.pitMm();
        if (lines == null) {
            draw(paper, damage.kind(), shape.xMm(), shape.yMm(), shape.diameterMm() / 2, pit, pen);
            return;
        }
        var crack = damage.kind() == DamageKind.CRACK;
        paper.shape(lines, crack && pen == Pen.DAMAGE ? Pen.CRACK : pen);
        if (crack) {
            var origin = shape.impact();
            paper.circle(Pen.PIT, "ink", origin.x, origin.y, Math.max(paper.mm(2.5), pit == null ? 0 : pit / 2));
        } else {
            var impact = shape.impact();
            pit(paper, impact.x, impact.y, pit == null ? shape.diameterMm() * PIT_SHARE / 2 : pit / 2);
        }
    }

    static void draw(Paper paper, DamageKind kind, double x, double y, double radius, @Nullable Double pitMm, Pen pen) {
        var pit = pitMm == null ? radius * PIT_SHARE : pitMm / 2;
        switch (kind) {
            case PIT -> pit = pitMm == null ? radius : pit;
            case BULLSEYE -> {
                paper.circle(pen, "ink", x, y, radius);
                paper.circle(pen, "ink", x, y, radius * 0.55);
            }
            case HALF_MOON -> paper.polyline(pen, "ink", true, halfMoon(x, y, radius));
            case STAR_BREAK -> legs(paper, pen, x, y, radius, STAR);
            case COMBINATION_BREAK -> {
                paper.circle(pen, "ink", x, y, radius / 2);
                legs(paper, pen, x, y, radius, COMBINATION);
            }
            case CRACK -> {
                var course = placed(CRACK, x, y, radius);
                paper.line(pen, "ink", course);
                paper.circle(Pen.PIT, "ink", course[0], course[1], Math.max(paper.mm(2), pitMm == null ? 0 : pit));
                return;
            }
            case NOT_SURE -> {
                paper.circle(Pen.DIMENSION_HELP, "ink", x, y, radius);
                return;
            }
        }
        pit(paper, x, kind == DamageKind.HALF_MOON ? y + radius * MOON_RISE : y, pit);
    }

    private static void pit(Paper paper, double x, double y, double radius) {
        // Below one px nothing would be seen of it.
        var shown = Math.max(radius, paper.mm(1));
        var xy = new double[2 * RAGGED.length];
        for (int i = 0; i < RAGGED.length; i++) {
            var angle = 2 * Math.PI * i / RAGGED.length;
            xy[2 * i] = x + shown * RAGGED[i] * Math.cos(angle);
            xy[2 * i + 1] = y + shown * RAGGED[i] * Math.sin(angle);
        }
        paper.polyline(Pen.PIT, "ink", true, xy);
    }

    private static void legs(Paper paper, Pen pen, double x, double y, double radius, double[][] legs) {
        for (var leg : legs) {
            paper.line(pen, "ink", placed(leg, x, y, radius));
        }
    }

    /** The arc over a shallow curve, both as chains. */
    private static double[] halfMoon(double x, double y, double radius) {
        var pieces = 24;
        var xy = new double[4 * pieces];
        for (int i = 0; i < pieces; i++) {
            var angle = Math.PI * i / pieces;
            xy[2 * i] = x + radius * Math.cos(angle);
            xy[2 * i + 1] = y + radius * Math.sin(angle);
            var across = 2.0 * i / pieces - 1;
            xy[2 * (pieces + i)] = x + radius * across;
            xy[2 * (pieces + i) + 1] = y + radius * MOON_RISE * (1 - across * across);
        }
        return xy;
    }

    private static double[] placed(double[] unit, double x, double y, double radius) {
        var xy = new double[unit.length];
        for (int i = 0; i < unit.length; i += 2) {
            xy[i] = x + radius * unit[i];
            xy[i + 1] = y + radius * unit[i + 1];
        }
        return xy;
    }
}

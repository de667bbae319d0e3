package org.quarterlight.glass;

import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.locationtech.jts.algorithm.MinimumBoundingCircle;
import org.locationtech.jts.geom.Coordinate;
import org.locationtech.jts.geom.Geometry;
import org.locationtech.jts.geom.GeometryFactory;
import org.locationtech.jts.geom.LineString;
import org.locationtech.jts.geom.util.AffineTransformation;

/**
 * Where a damage lies and what it covers: the smallest circle round it, and the lines it is made of where somebody drew
 * them. Without lines the whole circle counts as damaged.
 *
 * @param xMm the circle's centre in the glass frame
 * @param diameterMm the circle's, never negative
 * @param lines legs or a crack as they run, null where nobody drew them; they begin at the impact, and what is closed in
 *     itself goes round a crater or a cone
 */
public record DamageShape(
        double xMm, double yMm, double diameterMm, @Nullable Geometry lines) {
    private static final GeometryFactory SHAPES = new GeometryFactory();
    /** Sides of the ring round a body; of one 50 mm across the chords leave the circle by 0.03 mm. */
    private static final int RING_SIDES = 64;

    /**
     * One leg of a star, running straight from the impact.
     *
     * @param directionDegrees clockwise from straight up, seen from outside, so that three o'clock is 90
     */
    public record Leg(double lengthMm, double directionDegrees) {}

    public DamageShape {
        if (!Double.isFinite(xMm) || !Double.isFinite(yMm) || !(diameterMm >= 0) || !Double.isFinite(diameterMm)) {
            throw new IllegalArgumentException("no damage is like this: " + xMm + ", " + yMm + ", " + diameterMm);
        }
    }

    /** From its nearest point to another shape, mm; 0 where it reaches in. */
    public double distanceMm(Geometry other) {
        if (lines != null) {
            return other.distance(lines);
        }
        return Math.max(0, other.distance(SHAPES.createPoint(new Coordinate(xMm, yMm))) - diameterMm / 2);
    }

    /** A crack from one end to the other, else known by its circle alone. */
    public static DamageShape of(
            double xMm, double yMm, @Nullable Double toXMm, @Nullable Double toYMm, double diameterMm) {
        return toXMm == null || toYMm == null
                ? round(xMm, yMm, diameterMm)
                : crack(new Coordinate(xMm, yMm), new Coordinate(toXMm, toYMm));
    }

    /** Known by its circle alone. */
    public static DamageShape round(double xMm, double yMm, double diameterMm) {
        return new DamageShape(xMm, yMm, diameterMm, null);
    }

    /** A crack from corner to corner of its course; at least two of them. */
    public static DamageShape crack(Coordinate... course) {
        var line = SHAPES.createLineString(course);
        return within(line);
    }

    /**
     * Legs from an impact, and a body round it: a cone or the crater.
     *
     * @param bodyMm how wide the body is, 0 where there is none
     */
    public static DamageShape star(Coordinate impact, List<Leg> legs, double bodyMm) {
        var lines = new ArrayList<LineString>();
        for (var leg : legs) {
            var way = Math.toRadians(leg.directionDegrees());
            lines.add(SHAPES.createLineString(new Coordinate[] {
                impact,
                new Coordinate(impact.x + leg.lengthMm() * Math.sin(way), impact.y + leg.lengthMm() * Math.cos(way))
            }));
        }
        if (bodyMm > 0) {
            lines.add(ring(impact, bodyMm / 2));
        }
        return within(SHAPES.createMultiLineString(lines.toArray(LineString[]::new)));
    }

    private static LineString ring(Coordinate middle, double radiusMm) {
        var ring = new Coordinate[RING_SIDES + 1];
        for (var i = 0; i < RING_SIDES; i++) {
            var way = 2 * Math.PI * i / RING_SIDES;
            ring[i] = new Coordinate(middle.x + radiusMm * Math.cos(way), middle.y + radiusMm * Math.sin(way));
        }
        ring[RING_SIDES] = ring[0].copy();
        return SHAPES.createLineString(ring);
    }

    private static DamageShape within(Geometry lines) {
        var circle = new MinimumBoundingCircle(lines);
        if (circle.getCentre() == null) {
            var place = lines.getCoordinate();
            return new DamageShape(place.x, place.y, 0, lines);
        }
        var centre = circle.getCentre();
        return new DamageShape(centre.x, centre.y, 2 * circle.getRadius(), lines);
    }

    /** The same elsewhere on the glass. */
    public DamageShape moved(double rightMm, double upMm) {
        return new DamageShape(
                xMm + rightMm,
                yMm + upMm,
                diameterMm,
                lines == null
                        ? null
                        : AffineTransformation.translationInstance(rightMm, upMm)
                                .transform(lines));
    }

    /** Where it was hit: where its lines begin, or the middle of its circle. */
    public Coordinate impact() {
        return lines == null ? new Coordinate(xMm, yMm) : lines.getCoordinate().copy();
    }
}

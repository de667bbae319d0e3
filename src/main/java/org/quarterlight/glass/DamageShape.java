package org.quarterlight.glass;

import org.jspecify.annotations.Nullable;
import org.locationtech.jts.algorithm.MinimumBoundingCircle;
import org.locationtech.jts.geom.Coordinate;
import org.locationtech.jts.geom.Geometry;
import org.locationtech.jts.geom.GeometryFactory;

/**
 * Where a damage lies and what it covers: the smallest circle round it, and the lines it is made of where somebody drew
 * them. Without lines the whole circle counts as damaged.
 *
 * @param xMm the circle's centre in the glass frame
 * @param diameterMm the circle's, never negative
 * @param lines legs or a crack as they run, null where nobody drew them
 */
public record DamageShape(
        double xMm, double yMm, double diameterMm, @Nullable Geometry lines) {
    private static final GeometryFactory SHAPES = new GeometryFactory();

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
        var circle = new MinimumBoundingCircle(line);
        var centre = circle.getCentre();
        return new DamageShape(centre.x, centre.y, 2 * circle.getRadius(), line);
    }
}

package org.quarterlight.eligibility;

import java.util.Arrays;
import java.util.LinkedHashSet;
import java.util.List;
import org.locationtech.jts.densify.Densifier;
import org.locationtech.jts.geom.Coordinate;
import org.locationtech.jts.geom.Geometry;
import org.locationtech.jts.geom.GeometryFactory;
import org.quarterlight.glass.DamageShape;

/**
 * What a damage covers: a disc about its centre, or the lines that somebody drew along it. Everything within
 * {@code reachMm} of {@code lines} is damaged, so a disc is its centre and its radius. {@code points} lie along the lines
 * so densely that what reaches deep into a zone and out again is found there.
 */
record Place(Coordinate centre, Geometry lines, double reachMm, boolean isDisc, List<Coordinate> points) {
    private static final GeometryFactory GEOMETRY = new GeometryFactory();
    /** How deep a line reaches into a zone is known to half of this at the worst. */
    private static final double POINTS_APART_MM = 5;

    static Place of(DamageShape shape) {
        var centre = new Coordinate(shape.xMm(), shape.yMm());
        var lines = shape.lines();
        if (lines == null || lines.isEmpty()) {
            return new Place(centre, GEOMETRY.createPoint(centre), shape.diameterMm() / 2, true, List.of(centre));
        }
        var points = new LinkedHashSet<>(
                Arrays.asList(Densifier.densify(lines, POINTS_APART_MM).getCoordinates()));
        return new Place(centre, lines, 0, false, List.copyOf(points));
    }

    /** Between the nearest points of two damages; negative where discs overlap, 0 where lines meet. */
    double gapMm(Place other) {
        var apart = isDisc && other.isDisc ? centre.distance(other.centre) : lines.distance(other.lines);
        return apart - reachMm - other.reachMm;
    }
}

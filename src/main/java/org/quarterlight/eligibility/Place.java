package org.quarterlight.eligibility;

import org.locationtech.jts.geom.Coordinate;
import org.locationtech.jts.geom.Geometry;
import org.quarterlight.glass.DamageShape;

/**
 * Where a damage lies: a disc about its centre, or the lines somebody drew along it, widened to both sides by its reach.
 * The enclosing circle is given by {@code centre} and {@code radiusMm}.
 */
record Place(Coordinate centre, double radiusMm, Geometry lines, double reachMm, boolean isDisc) {
    static Place of(DamageShape shape) {
        var c = new Coordinate(shape.xMm(), shape.yMm());
        var l = shape.lines();
        var p = new org.locationtech.jts.geom.GeometryFactory().createPoint(c);
        return new Place(
                c, shape.diameterMm() / 2, l == null ? p : l, l == null ? shape.diameterMm() / 2 : 0, l == null);
    }

    /** Between the nearest points of two damages; negative where discs overlap, 0 where lines meet. */
    double gapMm(Place other) {
        var apart = isDisc && other.isDisc ? centre.distance(other.centre) : lines.distance(other.lines);
        return apart - reachMm - other.reachMm;
    }
}

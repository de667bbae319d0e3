package org.quarterlight.eligibility;

import java.util.List;
import org.locationtech.jts.algorithm.Distance;
import org.locationtech.jts.algorithm.RayCrossingCounter;
import org.locationtech.jts.geom.Coordinate;
import org.locationtech.jts.geom.Envelope;
import org.locationtech.jts.geom.Geometry;
import org.locationtech.jts.geom.GeometryFactory;
import org.locationtech.jts.geom.LineString;
import org.locationtech.jts.geom.Location;
import org.locationtech.jts.geom.prep.PreparedGeometry;
import org.locationtech.jts.geom.prep.PreparedGeometryFactory;
import org.locationtech.jts.geom.util.LinearComponentExtracter;
import org.locationtech.jts.operation.distance.IndexedFacetDistance;

/** A zone as it lies on one glass, kept ready so that many damages can be held against it. Safe between threads. */
final class Area {
    private static final GeometryFactory GEOMETRY = new GeometryFactory();
    private static final double READ_OFF_MM = 0.01;

    private final int index;
    private final Geometry geometry;
    private final Coordinate[][] rings;
    private final PreparedGeometry prepared;
    private final IndexedFacetDistance facets;

    /** The index numbers the areas of one glass, so that a damage can remember its distance to each. */
    Area(int index, Geometry geometry) {
        this.index = index;
        this.geometry = geometry;
        rings = rings(geometry);
        prepared = PreparedGeometryFactory.prepare(geometry);
        facets = new IndexedFacetDistance(geometry.getBoundary());
    }

    @SuppressWarnings("unchecked") // JTS names no type; the extracter collects lines only
    private static Coordinate[][] rings(Geometry geometry) {
        return ((List<LineString>) LinearComponentExtracter.getLines(geometry))
                .stream().map(LineString::getCoordinates).toArray(Coordinate[][]::new);
    }

    int index() {
        return index;
    }

    Geometry geometry() {
        return geometry;
    }

    boolean isEmpty() {
        return geometry.isEmpty();
    }

    /** From a place to the area, mm; negative inside, by the way to the nearest border. */
    double signedDistanceMm(Coordinate place) {
        var least = Double.POSITIVE_INFINITY;
        Coordinate from = null;
        Coordinate to = null;
        var crossings = new RayCrossingCounter(place); // holes and parts cross an even number of times outside
        for (var ring : rings) {
            for (var i = 1; i < ring.length; i++) {
                crossings.countSegment(ring[i - 1], ring[i]);
                var square = squareToSegment(place, ring[i - 1], ring[i]);
                if (square < least) {
                    least = square;
                    from = ring[i - 1];
                    to = ring[i];
                }
            }
        }
        if (from == null || to == null) {
            return Double.POSITIVE_INFINITY;
        }
        var nearest = Distance.pointToSegment(place, from, to);
        return crossings.getLocation() == Location.EXTERIOR ? nearest : -nearest;
    }

    /** Only to find the nearest segment, without a root for each. */
    private static double squareToSegment(Coordinate place, Coordinate from, Coordinate to) {
        var alongX = to.x - from.x;
        var alongY = to.y - from.y;
        var x = place.x - from.x;
        var y = place.y - from.y;
        var square = alongX * alongX + alongY * alongY;
        if (square > 0) {
            var share = Math.clamp((x * alongX + y * alongY) / square, 0.0, 1.0);
            x -= share * alongX;
            y -= share * alongY;
        }
        return x * x + y * y;
    }

    /** From the nearest point of a damage to the area; negative by how deep its deepest point reaches in. */
    double signedDistanceMm(Place damage) {
        if (damage.isDisc()) {
            return signedDistanceMm(damage.centre()) - damage.reachMm();
        }
        if (prepared.disjoint(damage.lines())) {
            return facets.distance(damage.lines()) - damage.reachMm();
        }
        var deepest = 0.0;
        for (var point : damage.points()) {
            deepest = Math.min(deepest, signedDistanceMm(point));
        }
        return deepest - damage.reachMm();
    }

    /** From the nearest point of a damage inside to the border; negative by how far it reaches out. */
    double depthMm(Place damage) {
        if (damage.isDisc()) {
            return -signedDistanceMm(damage.centre()) - damage.reachMm();
        }
        if (prepared.contains(damage.lines())) {
            return facets.distance(damage.lines()) - damage.reachMm();
        }
        var farthest = 0.0;
        for (var point : damage.points()) {
            farthest = Math.max(farthest, signedDistanceMm(point));
        }
        return -farthest - damage.reachMm();
    }

    /**
     * How much of a crack lies in the area, mm: of one that was drawn, the length of its course there. Of one known by its
     * length and circle alone the most that may lie there: all of it where its middle does, else what reaches in.
     */
    double lengthInsideMm(Place crack, double lengthMm) {
        if (!crack.isDisc()) {
            return Math.min(lengthMm, crack.lines().intersection(geometry).getLength());
        }
        var middle = signedDistanceMm(crack.centre());
        return middle <= 0 ? lengthMm : Math.max(0, Math.min(lengthMm, crack.reachMm() - middle));
    }

    /**
     * Whether a circle may reach from one border to the other, level or upright, as {@link Crossing} asks: no only where it
     * certainly does not. Sections are read off the rings, which is quicker than cutting them and as good to a hundredth.
     */
    boolean mayBeCrossedFrom(double xMm, double yMm, double reachMm) {
        if (isEmpty()) {
            return false;
        }
        var whole = geometry.getEnvelopeInternal();
        var y = Math.clamp(yMm, whole.getMinY(), whole.getMaxY());
        var x = Math.clamp(xMm, whole.getMinX(), whole.getMaxX());
        var reach = reachMm + READ_OFF_MM;
        // Beside the area a section may be a single place, or none at all.
        var isBeside = y != yMm || x != xMm;
        var mayBeNone = isBeside && (Math.abs(xMm) <= reach + 1 || Math.abs(yMm) <= reach + 1);
        return mayBeNone || spans(xMm - reach, xMm + reach, y, false) || spans(yMm - reach, yMm + reach, x, true);
    }

    /** Whether what lies between the two holds the area's whole section along the line at this place. */
    private boolean spans(double from, double to, double at, boolean upright) {
        var least = Double.POSITIVE_INFINITY;
        var most = Double.NEGATIVE_INFINITY;
        for (var ring : rings) {
            for (var i = 1; i < ring.length; i++) {
                var across = upright ? ring[i - 1].x : ring[i - 1].y;
                var nextAcross = upright ? ring[i].x : ring[i].y;
                var along = upright ? ring[i - 1].y : ring[i - 1].x;
                var nextAlong = upright ? ring[i].y : ring[i].x;
                if ((across <= at && nextAcross >= at) || (across >= at && nextAcross <= at)) {
                    if (across == nextAcross) {
                        least = Math.min(least, Math.min(along, nextAlong));
                        most = Math.max(most, Math.max(along, nextAlong));
                    } else {
                        var there = along + (at - across) / (nextAcross - across) * (nextAlong - along);
                        least = Math.min(least, there);
                        most = Math.max(most, there);
                    }
                }
            }
        }
        return from <= least && to >= most;
    }

    /** The area's extent along the upright line at this x. */
    Envelope sectionAtX(double xMm) {
        var whole = geometry.getEnvelopeInternal();
        return section(new Coordinate(xMm, whole.getMinY() - 1), new Coordinate(xMm, whole.getMaxY() + 1));
    }

    /** The area's extent along the level line at this y. */
    Envelope sectionAtY(double yMm) {
        var whole = geometry.getEnvelopeInternal();
        return section(new Coordinate(whole.getMinX() - 1, yMm), new Coordinate(whole.getMaxX() + 1, yMm));
    }

    private Envelope section(Coordinate from, Coordinate to) {
        return geometry.intersection(GEOMETRY.createLineString(new Coordinate[] {from, to}))
                .getEnvelopeInternal();
    }
}

package org.quarterlight.eligibility;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.ToDoubleFunction;
import org.locationtech.jts.geom.Coordinate;
import org.locationtech.jts.geom.Envelope;
import org.locationtech.jts.geom.Geometry;

/** Whether a crack crosses a zone from side to side or from top to bottom. */
final class Crossing {
    /** A crack drawn up to the border touches it, whatever the last digits say. */
    private static final double TOUCH_MM = 1e-6;

    private final Area zone;

    Crossing(Area zone) {
        this.zone = zone;
    }

    /**
     * Certain where the crack's course was drawn and its ends lie clear of the zone's borders by the tolerance. Of a
     * crack whose course nobody drew only its circle is known: it may cross where the circle does.
     */
    Optional<Boolean> of(Place crack, double toleranceMm) {
        if (zone.isEmpty()) {
            return Optional.of(false);
        }
        if (crack.isDisc()) {
            return circleCrosses(crack, toleranceMm) ? Optional.empty() : Optional.of(false);
        }
        var pieces = pieces(crack.lines().intersection(zone.geometry()));
        if (pieces.stream().anyMatch(piece -> crosses(piece, TOUCH_MM + crack.reachMm()))) {
            return Optional.of(true);
        }
        return pieces.stream().anyMatch(piece -> crosses(piece, toleranceMm + crack.reachMm()))
                ? Optional.empty()
                : Optional.of(false);
    }

    private boolean circleCrosses(Place crack, double toleranceMm) {
        var whole = zone.geometry().getEnvelopeInternal();
        var centre = crack.centre();
        var reach = crack.reachMm() + toleranceMm;
        var level = zone.sectionAtY(Math.clamp(centre.y, whole.getMinY(), whole.getMaxY()));
        var upright = zone.sectionAtX(Math.clamp(centre.x, whole.getMinX(), whole.getMaxX()));
        return (centre.x - reach <= level.getMinX() && centre.x + reach >= level.getMaxX())
                || (centre.y - reach <= upright.getMinY() && centre.y + reach >= upright.getMaxY());
    }

    /** The parts of the crack inside, those that hang together as one. */
    private static List<Geometry> pieces(Geometry inside) {
        var pieces = new ArrayList<Geometry>();
        for (var i = 0; i < inside.getNumGeometries(); i++) {
            var piece = inside.getGeometryN(i);
            for (var other = pieces.iterator(); other.hasNext(); ) {
                var candidate = other.next();
                if (candidate.intersects(piece)) {
                    piece = piece.union(candidate);
                    other.remove();
                }
            }
            if (!piece.isEmpty()) {
                pieces.add(piece);
            }
        }
        return pieces;
    }

    private boolean crosses(Geometry piece, double toleranceMm) {
        Coordinate left = piece.getCoordinate();
        var right = left;
        var low = left;
        var high = left;
        for (var corner : piece.getCoordinates()) {
            left = corner.x < left.x ? corner : left;
            right = corner.x > right.x ? corner : right;
            low = corner.y < low.y ? corner : low;
            high = corner.y > high.y ? corner : high;
        }
        return (touches(left.x, zone.sectionAtY(left.y), Envelope::getMinX, toleranceMm)
                        && touches(-right.x, zone.sectionAtY(right.y), e -> -e.getMaxX(), toleranceMm))
                || (touches(low.y, zone.sectionAtX(low.x), Envelope::getMinY, toleranceMm)
                        && touches(-high.y, zone.sectionAtX(high.x), e -> -e.getMaxY(), toleranceMm));
    }

    private static boolean touches(
            double end, Envelope section, ToDoubleFunction<Envelope> border, double toleranceMm) {
        return section.isNull() || end <= border.applyAsDouble(section) + toleranceMm;
    }
}

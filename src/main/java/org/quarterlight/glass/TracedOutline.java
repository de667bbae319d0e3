package org.quarterlight.glass;

import java.util.ArrayList;
import java.util.List;
import org.locationtech.jts.geom.Coordinate;
import org.locationtech.jts.geom.Envelope;
import org.locationtech.jts.geom.GeometryFactory;
import org.locationtech.jts.geom.Polygon;
import org.locationtech.jts.simplify.TopologyPreservingSimplifier;

/**
 * The edge of a glass from corner to corner, traced over a picture or typed from a drawing, where a tape's few lengths do
 * not tell it. The frame's origin lies below the middle, at the height of the lowest corner.
 *
 * @param standardUncertaintyMm of each corner's place
 */
public record TracedOutline(List<OutlineCorner> corners, double standardUncertaintyMm) {
    public static final int MOST_CORNERS = 200;

    private static final int FEWEST_CORNERS = 3;
    private static final double LARGEST_MM = 10_000;
    private static final double MOST_UNCERTAIN_MM = 100;

    /** The smallest glass that a tape may tell, 300 by 200 mm. */
    private static final double SMALLEST_AREA_MM2 = 300 * 200;

    /** How far the frame may stand beside where it belongs: less than anybody traces. */
    private static final double ASIDE_MM = 0.5;

    private static final GeometryFactory SHAPES = new GeometryFactory();

    @SuppressWarnings("NullAway") // nobody sent any
    public TracedOutline {
        corners = corners == null ? List.of() : List.copyOf(corners);
    }

    /** The outline of these corners, moved to where the frame's origin belongs. */
    public static TracedOutline placed(List<OutlineCorner> corners, double standardUncertaintyMm) {
        var by = aside(corners);
        return new TracedOutline(
                corners.stream()
                        .map(corner -> new OutlineCorner(corner.xMm() - by.xMm(), corner.yMm() - by.yMm()))
                        .toList(),
                standardUncertaintyMm);
    }

    /** Where the frame's origin belongs, as these corners count. */
    public static OutlineCorner aside(List<OutlineCorner> corners) {
        var box = boxOf(corners);
        return box.isNull() ? new OutlineCorner(0, 0) : new OutlineCorner(box.centre().x, box.getMinY());
    }

    static Envelope boxOf(List<OutlineCorner> corners) {
        var box = new Envelope();
        corners.forEach(corner -> box.expandToInclude(corner.xMm(), corner.yMm()));
        return box;
    }

    /** The corners of a drawn outline, as few as tell it to this many millimetres. */
    public static List<OutlineCorner> cornersOf(Polygon outline, double errorMm) {
        var ring = TopologyPreservingSimplifier.simplify(outline, errorMm).getCoordinates();
        var corners = new ArrayList<OutlineCorner>();
        for (var i = 0; i < ring.length - 1; i++) {
            corners.add(new OutlineCorner(Math.round(ring[i].x * 10) / 10.0, Math.round(ring[i].y * 10) / 10.0));
        }
        return corners;
    }

    double widthMm() {
        return boxOf(corners).getWidth();
    }

    double heightMm() {
        return boxOf(corners).getHeight();
    }

    Polygon polygon() {
        var ring = new ArrayList<Coordinate>();
        corners.forEach(corner -> ring.add(new Coordinate(corner.xMm(), corner.yMm())));
        ring.add(ring.getFirst().copy());
        return SHAPES.createPolygon(ring.toArray(Coordinate[]::new));
    }

    TracedOutline mirrored() {
        return new TracedOutline(
                corners.reversed().stream()
                        .map(corner -> new OutlineCorner(-corner.xMm(), corner.yMm()))
                        .toList(),
                standardUncertaintyMm);
    }

    /** Why no glass has this edge; its width and height are looked at with those of a tape. */
    List<MeasurementProblem> problems() {
        if (corners.size() < FEWEST_CORNERS || corners.size() > MOST_CORNERS) {
            return no("An outline has " + FEWEST_CORNERS + " to " + MOST_CORNERS + " corners");
        }
        for (var i = 0; i < corners.size(); i++) {
            var corner = corners.get(i);
            if (!(Math.abs(corner.xMm()) <= LARGEST_MM && Math.abs(corner.yMm()) <= LARGEST_MM)) {
                return no("Corner " + (i + 1) + " lies farther away than any glass reaches");
            }
        }
        if (!(standardUncertaintyMm >= 0 && standardUncertaintyMm <= MOST_UNCERTAIN_MM)) {
            return List.of(new MeasurementProblem(
                    "outline.standardUncertaintyMm", "Between 0 and " + Math.round(MOST_UNCERTAIN_MM)));
        }
        var polygon = polygon();
        if (!polygon.isValid()) {
            return no("The edge crosses or touches itself");
        }
        if (polygon.getArea() < SMALLEST_AREA_MM2) {
            return no("A glass of this outline is smaller than 300 by 200 mm");
        }
        var aside = aside(corners);
        if (Math.hypot(aside.xMm(), aside.yMm()) > ASIDE_MM) {
            return no("Count from below the middle, at the height of the lowest corner: there x and y are 0");
        }
        return List.of();
    }

    private static List<MeasurementProblem> no(String message) {
        return List.of(new MeasurementProblem("outline.corners", message));
    }
}

package org.quarterlight.glass;

import static org.quarterlight.glass.Paper.escaped;
import static org.quarterlight.glass.Paper.number;

import java.util.List;
import org.locationtech.jts.geom.Coordinate;
import org.locationtech.jts.geom.Envelope;
import org.locationtech.jts.geom.GeometryFactory;
import org.quarterlight.glass.Paper.Lettering;

/** One damage as it was seen at several times, drawn over itself: what was before as dashed circles, the newest whole. */
final class SeenOverTime {
    private static final GeometryFactory SHAPES = new GeometryFactory();
    private static final double SQUARE_PX = 300;
    private static final double CAPTION_PX = 22;

    /** What was seen may fill this share of the square. */
    private static final double FILLED = 0.8;

    private SeenOverTime() {}

    /** @param seen oldest first, at least one, each with its turn as number */
    static String draw(GlassPattern pattern, List<DrawnDamage> seen, GlassDrawing.Look look, String prefix) {
        var all = new Envelope();
        for (var each : seen) {
            var circle =
                    new Envelope(new Coordinate(each.shape().xMm(), each.shape().yMm()));
            circle.expandBy(each.shape().diameterMm() / 2);
            all.expandToInclude(circle);
        }
        var side = 20.0;
        while (side * FILLED < Math.max(all.getWidth(), all.getHeight())) {
            side *= 2;
        }
        var middle = all.centre();
        var square = new Envelope(middle.x - side / 2, middle.x + side / 2, middle.y - side / 2, middle.y + side / 2);
        var window = SHAPES.toGeometry(square);
        var paper = new Paper(SQUARE_PX / side, look, false);
        var words = seen.size() + " times seen, " + number(side) + " mm across. "
                + seen.getLast().sentence();
        paper.raw("<svg class=\"glass-drawing close-up\" role=\"img\" aria-labelledby=\"" + prefix
                + "-title\" viewBox=\"" + number(square.getMinX() - paper.mm(1)) + " "
                + number(-square.getMaxY() - paper.mm(1)) + " " + number(side + paper.mm(2)) + " "
                + number(side + paper.mm(2 + CAPTION_PX)) + "\" width=\"" + number(SQUARE_PX + 2) + "\" height=\""
                + number(SQUARE_PX + 2 + CAPTION_PX) + "\"><title id=\"" + prefix + "-title\">" + escaped(words)
                + "</title>");
        paper.shape(Overlay.shared(pattern.outline(), window), Pen.GROUND);
        paper.shape(Overlay.shared(pattern.sweptArea(), window), Pen.SWEPT_GROUND);
        paper.shape(Overlay.within(pattern.outline().getBoundary(), window), Pen.OUTLINE);
        for (var each : seen.subList(0, seen.size() - 1)) {
            var shape = each.shape();
            var lines = shape.lines();
            if (lines != null) {
                paper.shape(lines, Pen.DAMAGE);
            }
            paper.circle(Pen.DIMENSION_HELP, "ink", shape.xMm(), shape.yMm(), shape.diameterMm() / 2);
        }
        DamagePicture.draw(paper, seen.getLast(), Pen.DAMAGE_CLOSE);
        var newest = seen.getLast().shape();
        GlassDrawing.openTone(paper, "neutral");
        paper.circle(Pen.ENCLOSING, "neutral", newest.xMm(), newest.yMm(), newest.diameterMm() / 2);
        paper.raw("</g>");
        numbers(paper, seen, square);
        paper.shape(window, Pen.FRAME);
        paper.text(
                Pen.SCALE_FIGURE,
                null,
                "ink",
                Lettering.FIGURE,
                middle.x,
                square.getMinY() - paper.mm(14),
                number(side) + " mm across");
        return paper.raw("</svg>").toString();
    }

    /** Round the circles, each at another angle, so that numbers of circles that lie in each other stay apart. */
    private static void numbers(Paper paper, List<DrawnDamage> seen, Envelope square) {
        for (var i = 0; i < seen.size(); i++) {
            var shape = seen.get(i).shape();
            var way = Math.toRadians(70 - 150.0 * i / Math.max(1, seen.size() - 1));
            var reach = shape.diameterMm() / 2 + paper.mm(9);
            var edge = paper.mm(9);
            paper.text(
                    Pen.DIMENSION_TEXT,
                    Pen.DIMENSION_TEXT_HALO,
                    "ink",
                    Lettering.DIMENSION.anchored("middle"),
                    Math.clamp(shape.xMm() + reach * Math.cos(way), square.getMinX() + edge, square.getMaxX() - edge),
                    Math.clamp(shape.yMm() + reach * Math.sin(way), square.getMinY() + edge, square.getMaxY() - edge),
                    Integer.toString(seen.get(i).number()));
        }
    }
}

package org.quarterlight.glass;

import static org.quarterlight.glass.Paper.escaped;
import static org.quarterlight.glass.Paper.number;

import java.util.List;
import org.jspecify.annotations.Nullable;
import org.locationtech.jts.geom.Coordinate;
import org.locationtech.jts.geom.Envelope;
import org.locationtech.jts.geom.Geometry;
import org.locationtech.jts.geom.GeometryFactory;
import org.locationtech.jts.linearref.LengthIndexedLine;
import org.locationtech.jts.operation.distance.DistanceOp;
import org.quarterlight.glass.Paper.Lettering;

/** One damage in a square of 20, 40, 80 or 160 mm: its smallest circle and how sure that is, its parts, the nearest zone. */
final class CloseUp {
    private static final GeometryFactory SHAPES = new GeometryFactory();
    private static final double SQUARE_PX = 300;
    private static final double CAPTION_PX = 22;

    /** The damage may fill this share of the square, so that words find room round it. */
    private static final double FILLED = 0.72;

    private final DrawnDamage damage;
    private final DamageShape shape;
    private final String prefix;
    private final double sideMm;
    private final Envelope square;
    private final Geometry window;
    private final GlassPattern pattern;
    private final List<DrawnZone> zones;
    private final Coordinate @Nullable [] gap;
    private final Paper paper;

    CloseUp(
            GlassPattern pattern,
            List<DrawnZone> zones,
            DrawnDamage damage,
            GlassDrawing.Look look,
            boolean mirrored,
            String prefix) {
        this.pattern = pattern;
        this.zones = zones;
        this.damage = damage;
        this.shape = damage.shape();
        this.prefix = prefix;
        var least = leastSide(shape.diameterMm() / FILLED);
        var nearest = nearestZone();
        var side = least;
        // A zone so far off that the damage would shrink to a dot stays out of the picture.
        if (nearest != null) {
            var middle = new Coordinate(shape.xMm(), shape.yMm());
            var needed = leastSide(2.1 * middle.distance(nearest[1]));
            if (needed <= 2 * least) {
                side = Math.max(least, needed);
            } else {
                nearest = null;
            }
        }
        this.gap = nearest;
        this.sideMm = side;
        this.square = new Envelope(
                shape.xMm() - side / 2, shape.xMm() + side / 2, shape.yMm() - side / 2, shape.yMm() + side / 2);
        this.window = SHAPES.toGeometry(square);
        this.paper = new Paper(SQUARE_PX / side, look, mirrored);
    }

    private static double leastSide(double needed) {
        var side = 20.0;
        while (side < needed) {
            side *= 2;
        }
        return side;
    }

    /** From the damage to the nearest zone that it does not touch. */
    private Coordinate @Nullable [] nearestZone() {
        Coordinate[] nearest = null;
        var lines = shape.lines();
        var middle = SHAPES.createPoint(new Coordinate(shape.xMm(), shape.yMm()));
        for (var zone : zones) {
            if (!zone.kind().equals(DrawnZone.DRIVERS_ZONE) || zone.area().isEmpty()) {
                continue;
            }
            var points = DistanceOp.nearestPoints(lines == null ? middle : lines, zone.area());
            var length = points[0].distance(points[1]);
            if (lines == null && length > shape.diameterMm() / 2) {
                var share = shape.diameterMm() / 2 / length;
                points[0] = new Coordinate(
                        points[0].x + (points[1].x - points[0].x) * share,
                        points[0].y + (points[1].y - points[0].y) * share);
            } else if (lines == null) {
                continue;
            }
            if (length > 0 && (nearest == null || points[0].distance(points[1]) < nearest[0].distance(nearest[1]))) {
                nearest = points;
            }
        }
        return nearest;
    }

    String draw() {
        var tone = damage.tone();
        open();
        ground();
        GlassDrawing.openTone(paper, tone);
        var radius = shape.diameterMm() / 2;
        var diameter = damage.diameter();
        if (diameter != null && diameter.standardUncertaintyMm() > 0) {
            // The circle's radius is known to half of what its diameter is.
            paper.circle(
                    Pen.UNCERTAIN,
                    tone,
                    shape.xMm(),
                    shape.yMm(),
                    radius,
                    " stroke-width=\"" + number(2 * diameter.standardUncertaintyMm()) + "\"");
        }
        paper.circle(Pen.ENCLOSING, tone, shape.xMm(), shape.yMm(), radius);
        paper.raw("</g>");
        DamagePicture.draw(paper, damage, Pen.DAMAGE_CLOSE);
        size(diameter);
        parts();
        gap();
        ruler();
        return paper.raw("</svg>").toString();
    }

    private void open() {
        var inline = paper.look() == GlassDrawing.Look.INLINE;
        var left = paper.x(shape.xMm()) - sideMm / 2 - paper.mm(1);
        paper.raw("<svg class=\"glass-drawing close-up\""
                + (inline ? "" : " xmlns=\"http://www.w3.org/2000/svg\" font-family=\"" + GlassDrawing.FONT + "\"")
                + " role=\"img\" aria-labelledby=\"" + prefix + "-title\" viewBox=\"" + number(left) + " "
                + number(-square.getMaxY() - paper.mm(1)) + " " + number(sideMm + paper.mm(2)) + " "
                + number(sideMm + paper.mm(2 + CAPTION_PX)) + "\" width=\"" + number(SQUARE_PX + 2) + "\" height=\""
                + number(SQUARE_PX + 2 + CAPTION_PX) + "\"><title id=\"" + prefix + "-title\">"
                + escaped("Close up, " + number(sideMm) + " mm across. " + damage.sentence()) + "</title><defs>");
        Patterns.write(paper, prefix);
        paper.raw("</defs>");
    }

    private void ground() {
        paper.shape(Overlay.shared(pattern.outline(), window), Pen.GROUND);
        paper.shape(Overlay.shared(pattern.sweptArea(), window), Pen.SWEPT_GROUND);
        for (var zone : zones) {
            var drivers = zone.kind().equals(DrawnZone.DRIVERS_ZONE);
            var whole = drivers ? Overlay.shared(zone.area(), pattern.sweptArea()) : zone.area();
            var area = Overlay.shared(whole, window);
            if (area.isEmpty()) {
                continue;
            }
            if (drivers) {
                paper.filled(area, prefix + "-uprights", zone.kind(), zone.label());
                border(whole, Pen.DRIVERS_LINE);
            } else if (zone.kind().equals(DrawnZone.EDGE_BAND)) {
                paper.filled(area, prefix + "-stipple", zone.kind(), zone.label());
            } else {
                border(whole, Pen.ZONE_LINE);
            }
        }
        var camera = pattern.cameraArea();
        if (camera != null && camera.intersects(window)) {
            paper.filled(Overlay.shared(camera, window), prefix + "-camera", "camera-area", "camera area");
            border(camera, Pen.CAMERA_LINE);
        }
        border(pattern.outline(), Pen.OUTLINE);
        paper.shape(window, Pen.FRAME);
    }

    /** An area's border as far as it runs through the square: the square's own sides are none of it. */
    private void border(Geometry area, Pen pen) {
        paper.shape(Overlay.within(area.getBoundary(), window), pen);
    }

    private void size(@Nullable Measured diameter) {
        if (diameter == null) {
            return;
        }
        var radius = shape.diameterMm() / 2;
        var top = square.getMaxY() - paper.mm(24);
        for (var end : new double[] {shape.xMm() - radius, shape.xMm() + radius}) {
            paper.line(Pen.DIMENSION_HELP, "ink", end, shape.yMm(), end, top);
            paper.line(Pen.DIMENSION, "ink", end, top - paper.mm(5), end, top + paper.mm(5));
        }
        paper.line(Pen.DIMENSION, "ink", shape.xMm() - radius, top, shape.xMm() + radius, top);
        words(paper.x(shape.xMm()), top + paper.mm(12), "middle", diameter.text());
    }

    private void parts() {
        var leg = damage.longestLegMm();
        var on = middleOfLongestLeg();
        if (leg != null && on != null) {
            var text = "leg " + plain(leg);
            var left = paper.x(shape.xMm()) - Math.min(shape.diameterMm() / 2, sideMm / 2 - paper.mm(12)) + paper.mm(6);
            var y = square.getMaxY() - paper.mm(62);
            var right = left + paper.mm(Lettering.DIMENSION.widthPx(text));
            var x = Math.clamp(paper.x(on.x), left + paper.mm(6), right - paper.mm(6));
            for (var pen : new Pen[] {Pen.DIMENSION_HALO, Pen.DIMENSION}) {
                paper.line(pen, "ink", paper.x(x), y - paper.mm(9), on.x, on.y);
            }
            words(left, y, "start", text);
        }
        var pit = damage.pitMm();
        if (pit != null) {
            var origin = shape.impact();
            // On the side away from the zone, where the gap's own line and words are.
            var side = gap != null && paper.x(gap[1].x) + paper.x(gap[0].x) > 2 * paper.x(shape.xMm()) ? -1 : 1;
            var textX = paper.x(shape.xMm()) + side * (sideMm / 2 - paper.mm(10));
            var textY = square.getMinY() + paper.mm(34);
            var width = paper.mm(Lettering.DIMENSION.widthPx("pit " + plain(pit)));
            var elbow = textX - side * (width + paper.mm(4));
            for (var pen : new Pen[] {Pen.DIMENSION_HALO, Pen.DIMENSION}) {
                paper.line(
                        pen,
                        "ink",
                        paper.x(elbow),
                        textY,
                        paper.x(elbow - side * paper.mm(8)),
                        textY,
                        origin.x + side * paper.x(pit) * 0.3,
                        origin.y - pit * 0.4);
            }
            words(textX, textY, side > 0 ? "end" : "start", "pit " + plain(pit));
        }
    }

    private @Nullable Coordinate middleOfLongestLeg() {
        var lines = shape.lines();
        if (damage.kind() == DamageKind.CRACK) {
            return null;
        }
        if (lines == null) {
            return DamagePicture.middleOfLongestLeg(damage.kind(), shape);
        }
        var longest = lines.getGeometryN(0);
        for (int i = 1; i < lines.getNumGeometries(); i++) {
            // What is closed goes round the body.
            if (!lines.getGeometryN(i).getBoundary().isEmpty()
                    && lines.getGeometryN(i).getLength() > longest.getLength()) {
                longest = lines.getGeometryN(i);
            }
        }
        return new LengthIndexedLine(longest).extractPoint(longest.getLength() / 2);
    }

    private static String plain(double mm) {
        return new Measured(mm, 0).text();
    }

    private void gap() {
        var measured = damage.toDriversZone();
        if (gap == null || measured == null) {
            return;
        }
        // Along the zone's line, below the damage, so that the number stands clear of it.
        var level = shape.yMm() - sideMm * 0.17;
        var upright = Math.abs(gap[0].x - gap[1].x) > Math.abs(gap[0].y - gap[1].y);
        if (upright) {
            for (var end : gap) {
                paper.line(Pen.DIMENSION_HELP, "ink", end.x, end.y, end.x, level);
                paper.line(Pen.DIMENSION, "ink", end.x, level - paper.mm(5), end.x, level + paper.mm(5));
            }
            paper.line(Pen.DIMENSION, "ink", gap[0].x, level, gap[1].x, level);
        } else {
            paper.line(Pen.DIMENSION, "ink", gap[0].x, gap[0].y, gap[1].x, gap[1].y);
            level = Math.min(gap[0].y, gap[1].y);
        }
        var paperMiddle = (paper.x(gap[0].x) + paper.x(gap[1].x)) / 2;
        var textY = Math.max(level - paper.mm(40), square.getMinY() + paper.mm(24));
        paper.line(Pen.DIMENSION, "ink", paper.x(paperMiddle), level, paper.x(paperMiddle), textY + paper.mm(10));
        var text = "gap " + measured.text();
        var half = paper.mm(Lettering.DIMENSION.widthPx(text)) / 2 + paper.mm(6);
        var middle = paper.x(shape.xMm());
        var x = Math.clamp(paperMiddle, middle - sideMm / 2 + half, middle + sideMm / 2 - half);
        words(x, textY, "middle", text);
    }

    private void ruler() {
        var step = sideMm <= 80 ? 1 : sideMm <= 160 ? 2 : sideMm <= 320 ? 5 : 10;
        var count = (int) Math.round(sideMm / step);
        for (int i = 1; i < count; i++) {
            var x = square.getMinX() + i * step;
            var tick = i % 10 == 0 ? 9 : i % 5 == 0 ? 6 : 4;
            paper.line(Pen.TICK, "ink", x, square.getMinY(), x, square.getMinY() + paper.mm(tick));
        }
        paper.text(
                Pen.SCALE_FIGURE,
                null,
                "ink",
                Lettering.FIGURE,
                paper.x(shape.xMm()),
                square.getMinY() - paper.mm(14),
                number(step) + " mm ticks · " + number(sideMm) + " mm across");
    }

    private void words(double paperX, double y, String anchor, String words) {
        paper.text(
                Pen.DIMENSION_TEXT,
                Pen.DIMENSION_TEXT_HALO,
                "ink",
                Lettering.DIMENSION.anchored(anchor),
                paperX,
                y,
                words);
    }
}

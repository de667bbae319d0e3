package org.quarterlight.glass;

import static org.quarterlight.glass.Paper.escaped;
import static org.quarterlight.glass.Paper.number;

import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.stream.IntStream;
import org.jspecify.annotations.Nullable;
import org.locationtech.jts.algorithm.RectangleLineIntersector;
import org.locationtech.jts.geom.Coordinate;
import org.locationtech.jts.geom.Envelope;
import org.locationtech.jts.geom.Geometry;
import org.locationtech.jts.geom.GeometryFactory;
import org.locationtech.jts.operation.distance.DistanceOp;
import org.quarterlight.glass.Paper.Lettering;

/**
 * A windscreen drawn true to scale, as SVG: outline, zones, damages, scales and the dimensions of one damage. The viewBox is
 * in millimetres of the glass frame, y turned over. Collects what is to be drawn and is used by one thread.
 */
public final class GlassDrawing {
    /** How wide the whole picture stands on the page, px. */
    public enum Size {
        S(344),
        M(640),
        L(1010),
        MINI(70);

        private final int px;

        Size(int px) {
            this.px = px;
        }

        public int px() {
            return px;
        }
    }

    /** Where the colours come from. */
    public enum Look {
        /** Inside a page: classes, inked by the page's stylesheet. */
        INLINE(""),
        LIGHT("#14211F #465451 #6F7D79 #0A5A58 #2A6A35 #7D5A00 #27548F #A23A17 #741226 #FAFCFB #DDEAE6 #F3F8F6"
                + " #1D4A47 #5C7A74"),
        DARK("#E6EEEB #A5B4B0 #71827E #6FC7BE #82C98C #DDB45A #8DB7EE #F0916C #F07E90 #16201F #1B2E2C #223936"
                + " #9CC9C2 #6F918A"),
        PRINT("#000000 #000000 #555555 #000000 #000000 #000000 #000000 #000000 #000000 #FFFFFF #FFFFFF #FFFFFF"
                + " #000000 #000000");

        private static final List<String> TOKENS = List.of(
                "ink",
                "ink-2",
                "edge",
                "act",
                "repair",
                "watch",
                "measure",
                "replace",
                "stand",
                "sheet",
                "glass",
                "glass-clear",
                "glass-edge",
                "hatch");
        private final List<String> colours;

        Look(String colours) {
            this.colours = List.of(colours.split(" ", -1));
        }

        String colour(String token) {
            return this == INLINE ? "var(--" + token + ")" : colours.get(TOKENS.indexOf(token));
        }
    }

    private static final GeometryFactory SHAPES = new GeometryFactory();
    static final String FONT =
            "'Hyperlegible Next', system-ui, 'Segoe UI', Roboto, 'Helvetica Neue', Arial, sans-serif";

    /** Where a crack stands longer than this, px, it needs no ring to be found. */
    private static final double RINGLESS_PX = 40;

    /** About where the driver looks, in a picture too small for true zones. */
    private static final double MINI_ZONE_MM = 300;

    private static final double MINI_PX_PER_MM = 0.0372;

    /** A crack that stands longer than this, px, is drawn as it runs; a shorter one would not be seen. */
    private static final double MINI_CRACK_PX = 12;

    private final GlassPattern pattern;
    private List<DrawnDamage> damages = List.of();
    private @Nullable Integer selected;
    private List<DrawnZone> zones;
    private @Nullable Geometry permitted;
    private Size size = Size.M;
    private Look look = Look.INLINE;
    private String title = "The windscreen, seen from outside";
    private boolean pickable;
    private boolean fromTheSeat;
    private @Nullable String id;

    private GlassDrawing(GlassPattern pattern) {
        this.pattern = pattern;
        var bandMm = pattern.measurements().edgeBandMm();
        this.zones = bandMm == 0
                ? List.of()
                : List.of(new DrawnZone(DrawnZone.EDGE_BAND, "edge band " + number(bandMm), pattern.edgeBand(bandMm)));
    }

    /** A drawing of this glass; with nothing more said, of its printed edge and wiped area. */
    public static GlassDrawing of(GlassPattern pattern) {
        return new GlassDrawing(pattern);
    }

    public GlassDrawing damages(List<DrawnDamage> damages) {
        this.damages = List.copyOf(damages);
        return this;
    }

    /** The number of the damage whose dimensions are drawn, null for none. */
    public GlassDrawing selected(@Nullable Integer number) {
        this.selected = number;
        return this;
    }

    /** The zones in place of the printed edge. */
    public GlassDrawing zones(List<DrawnZone> zones) {
        this.zones = List.copyOf(zones);
        return this;
    }

    /** Where the centre of a damage like the selected one may lie and be repaired. */
    public GlassDrawing permitted(@Nullable Geometry permitted) {
        this.permitted = permitted;
        return this;
    }

    public GlassDrawing size(Size size) {
        this.size = size;
        return this;
    }

    public GlassDrawing look(Look look) {
        this.look = look;
        return this;
    }

    public GlassDrawing title(String title) {
        this.title = title;
        return this;
    }

    /** Whether somebody is to point at a place on it; such a drawing has no scales. */
    public GlassDrawing pickable(boolean pickable) {
        this.pickable = pickable;
        return this;
    }

    /** Whether left and right are as the driver sees them. */
    public GlassDrawing fromTheSeat(boolean fromTheSeat) {
        this.fromTheSeat = fromTheSeat;
        return this;
    }

    /** What its ids begin with, for a page that shows the very same drawing twice. */
    public GlassDrawing id(String id) {
        this.id = id;
        return this;
    }

    /** The whole glass. */
    public String svg() {
        return size == Size.MINI ? mini(pattern, damages, look) : new Whole().draw();
    }

    /** One damage blown up, with its uncertainty and the nearest zone. */
    public String closeUp(DrawnDamage damage) {
        return new CloseUp(pattern, zones, damage, look, fromTheSeat, prefix() + "-close-" + damage.number()).draw();
    }

    /** One damage as it was seen at several times, oldest first, each with its turn as number. */
    public String overTime(List<DrawnDamage> seen) {
        return SeenOverTime.draw(pattern, seen, look, prefix() + "-over-time");
    }

    /** Swatches of the patterns in this drawing, as an HTML list. */
    public String legend() {
        return legend(pattern, zones, permitted != null);
    }

    /** Swatches of a drawing's patterns, as an HTML list. */
    public static String legend(GlassPattern pattern, List<DrawnZone> zones, boolean permitted) {
        return Legend.of(pattern, zones, permitted);
    }

    /** A small example of a kind, 64 × 44 px. */
    public static String kind(DamageKind kind) {
        var paper = new Paper(1, Look.INLINE, false);
        paper.raw("<svg class=\"glass-drawing kind\" viewBox=\"0 0 64 44\" width=\"64\" height=\"44\""
                + " aria-hidden=\"true\">");
        if (kind == DamageKind.NOT_SURE) {
            paper.raw("<path class=\"damage-close\" d=\"M25 16c0-9 14-9 14 0 0 6-7 6.500-7 13\"/><circle class=\"pit\""
                    + " cx=\"32\" cy=\"35.500\" r=\"2\"/>");
        } else {
            var radius = kind == DamageKind.CRACK ? 28 : 19;
            var y = kind == DamageKind.HALF_MOON ? -30 : -22;
            DamagePicture.draw(
                    paper,
                    kind,
                    32,
                    y,
                    kind == DamageKind.PIT ? 4.5 : radius,
                    kind == DamageKind.PIT ? null : Double.valueOf(5.5),
                    Pen.DAMAGE_CLOSE);
        }
        return paper.raw("</svg>").toString();
    }

    /** A glass for a row of a table, all of them to the same scale. */
    public static String mini(GlassPattern pattern, List<DrawnDamage> damages) {
        return mini(pattern, damages, Look.INLINE);
    }

    private static String mini(GlassPattern pattern, List<DrawnDamage> damages, Look look) {
        var box = pattern.outline().getEnvelopeInternal();
        var scale = Math.clamp(MINI_PX_PER_MM * box.getWidth(), 54, 88) / box.getWidth();
        var paper = new Paper(scale, look, false);
        root(paper, box, new Margins(1, 1, 1, 1), "mini", "");
        var sentences = sentences(damages);
        paper.raw(" role=\"img\" aria-label=\"" + escaped(sentences.isEmpty() ? "No damage" : sentences) + "\">");
        paper.shape(pattern.outline(), Pen.MINI_OUTLINE);
        for (var x : new double[] {-MINI_ZONE_MM / 2, MINI_ZONE_MM / 2}) {
            var upright = SHAPES.createLineString(new Coordinate[] {
                new Coordinate(pattern.wheelCentreMm() + x, box.getMinY()),
                new Coordinate(pattern.wheelCentreMm() + x, box.getMaxY())
            });
            paper.shape(Overlay.within(upright, pattern.outline()), Pen.MINI_ZONE);
        }
        for (var damage : damages) {
            var tone = damage.tone();
            var x = damage.shape().xMm();
            var y = damage.shape().yMm();
            openTone(paper, tone);
            var lines = damage.shape().lines();
            if (lines != null && paper.px(damage.shape().diameterMm()) > MINI_CRACK_PX) {
                paper.shape(lines, Pen.MINI_CRACK, tone, "");
            } else if (damage.kind() == DamageKind.CRACK) {
                paper.line(
                        Pen.MINI_CRACK,
                        tone,
                        x + paper.mm(-6),
                        y + paper.mm(-1.5),
                        x + paper.mm(-2),
                        y + paper.mm(1),
                        x + paper.mm(1.5),
                        y + paper.mm(-0.5),
                        x + paper.mm(6),
                        y + paper.mm(1.5));
            } else {
                var open = tone.equals("watch") || tone.equals("earlier-repair");
                paper.circle(open ? Pen.DOT_OPEN : Pen.DOT, tone, x, y, paper.mm(open ? 3 : 3.3));
            }
            paper.raw("</g>");
        }
        return paper.raw("</svg>").toString();
    }

    /** Room round the glass, px. */
    private record Margins(double left, double right, double top, double bottom) {}

    private static void root(Paper paper, Envelope box, Margins margins, String kind, String more) {
        // Whole px, since not every renderer reads others; what is over goes to the right and below.
        var widthPx = wholePx(paper.px(box.getWidth()) + margins.left + margins.right);
        var heightPx = wholePx(paper.px(box.getHeight()) + margins.top + margins.bottom);
        var inline = paper.look() == Look.INLINE;
        var left = Math.min(paper.x(box.getMinX()), paper.x(box.getMaxX())) - paper.mm(margins.left);
        paper.raw("<svg class=\"glass-drawing " + kind + "\""
                + (inline ? "" : " xmlns=\"http://www.w3.org/2000/svg\" font-family=\"" + FONT + "\"")
                + " viewBox=\"" + number(left) + " " + number(-box.getMaxY() - paper.mm(margins.top)) + " "
                + number(paper.mm(widthPx)) + " " + number(paper.mm(heightPx)) + "\" width=\"" + widthPx
                + "\" height=\""
                + heightPx + "\"" + more);
    }

    private static long wholePx(double px) {
        // A width that is whole but for its last binary digit stays as it is.
        return (long) Math.ceil(px - 1e-6);
    }

    static void openTone(Paper paper, String tone) {
        paper.raw(paper.look() == Look.INLINE ? "<g class=\"tone-" + Paper.toneToken(tone) + "\">" : "<g>");
    }

    private static String sentences(List<DrawnDamage> damages) {
        return String.join(
                ". ",
                damages.stream()
                        .map(damage -> damage.number() + ": " + damage.sentence())
                        .toList());
    }

    private String prefix() {
        return id != null
                ? escaped(id)
                : "glass-"
                        + Integer.toHexString(Objects.hash(
                                pattern.measurements(), damages, selected, zones, size, look, title, fromTheSeat));
    }

    /** The whole glass on its way to paper. */
    private final class Whole {
        private final Envelope box = pattern.outline().getEnvelopeInternal();
        private final boolean small = size == Size.S;
        private final Margins margins =
                pickable ? new Margins(8, 8, 6, 6) : small ? new Margins(42, 8, 8, 38) : new Margins(56, 20, 12, 40);
        private final Paper paper =
                new Paper((size.px() - margins.left - margins.right) / box.getWidth(), look, fromTheSeat);
        private final String prefix = prefix();
        private final List<Envelope> taken = new ArrayList<>();

        String draw() {
            open();
            patterns();
            ground();
            zones();
            lines();
            if (!pickable) {
                scales();
            }
            reserveRings();
            for (var damage : damages) {
                if (!isSelected(damage)) {
                    damage(damage);
                }
            }
            for (var damage : damages) {
                if (isSelected(damage)) {
                    damage(damage);
                    dimensions(damage);
                }
            }
            if (!pickable && !small) {
                labels();
            }
            if (pickable) {
                paper.raw("<g class=\"pick-marker\" visibility=\"hidden\"></g>");
            }
            return paper.raw("</svg>").toString();
        }

        private void open() {
            var linked = !pickable && damages.stream().anyMatch(damage -> damage.href() != null);
            var more = new StringBuilder();
            // Links inside an image cannot be reached, so a picture with links is a group.
            more.append(linked ? " role=\"group\"" : " role=\"img\"")
                    .append(" aria-labelledby=\"")
                    .append(prefix)
                    .append("-title\" aria-describedby=\"")
                    .append(prefix)
                    .append("-desc\"");
            if (pickable) {
                more.append(" data-glass-pick=\"\" data-min-x=\"")
                        .append(number(box.getMinX()))
                        .append("\" data-max-x=\"")
                        .append(number(box.getMaxX()))
                        .append("\" data-min-y=\"")
                        .append(number(box.getMinY()))
                        .append("\" data-max-y=\"")
                        .append(number(box.getMaxY()))
                        .append('"');
            }
            if (fromTheSeat) {
                more.append(" data-mirrored=\"\"");
            }
            root(
                    paper,
                    box,
                    margins,
                    pickable ? "whole glass-pick" : "whole",
                    more.append('>').toString());
            var sentences = sentences(damages);
            paper.raw("<title id=\"" + prefix + "-title\">" + escaped(title) + "</title><desc id=\"" + prefix
                    + "-desc\">" + escaped(sentences.isEmpty() ? "No damage is drawn." : sentences) + "</desc>");
        }

        private void patterns() {
            paper.raw("<defs>");
            Patterns.write(paper, prefix);
            paper.raw("</defs>");
        }

        private void ground() {
            paper.shape(pattern.outline(), Pen.GROUND);
            paper.shape(pattern.sweptArea(), Pen.SWEPT_GROUND);
        }

        private void zones() {
            for (var zone : zones) {
                if (zone.kind().equals(DrawnZone.EDGE_BAND)) {
                    paper.filled(zone.area(), prefix + "-stipple", zone.kind(), zone.label());
                }
            }
            if (permitted != null) {
                paper.filled(permitted, prefix + "-permitted", "permitted", Legend.PERMITTED);
                paper.shape(permitted, Pen.PERMITTED_LINE);
            }
            for (var zone : zones) {
                if (zone.kind().equals(DrawnZone.DRIVERS_ZONE)) {
                    var area = Overlay.shared(zone.area(), pattern.sweptArea());
                    paper.filled(area, prefix + "-uprights", zone.kind(), zone.label());
                    paper.shape(area, Pen.DRIVERS_LINE);
                } else if (!zone.kind().equals(DrawnZone.EDGE_BAND)) {
                    paper.shape(zone.area(), Pen.ZONE_LINE, "ink", " data-zone=\"" + escaped(zone.kind()) + "\"");
                }
            }
        }

        private void lines() {
            paper.shape(pattern.sweptArea(), Pen.SWEPT_LINE);
            var camera = pattern.cameraArea();
            if (camera != null) {
                paper.filled(camera, prefix + "-camera", "camera-area", "camera area");
                paper.shape(camera, Pen.CAMERA_LINE);
            }
            paper.shape(pattern.outline(), Pen.OUTLINE, "ink", " data-part=\"outline\"");
            if (size == Size.L) {
                paper.shape(pattern.outline().buffer(-14, 16), Pen.INNER_LINE);
            }
        }

        private void scales() {
            var figureStep = small ? 400 : 200;
            var tickStep = small ? 100 : 20;
            paper.raw("<g class=\"scales\" aria-hidden=\"true\">");
            var base = box.getMinY() - paper.mm(10);
            paper.line(Pen.TICK, "ink", box.getMinX(), base, box.getMaxX(), base);
            for (var x = ceil(box.getMinX(), tickStep); x <= box.getMaxX(); x += tickStep) {
                paper.line(Pen.TICK, "ink", x, base, x, base - paper.mm(tick(x, figureStep)));
                if (x % figureStep == 0) {
                    figure(paper.x(x), base - paper.mm(20), x, "middle");
                }
            }
            paper.polyline(
                    Pen.MIDDLE,
                    "ink",
                    true,
                    0,
                    base + paper.mm(1),
                    paper.mm(4),
                    base + paper.mm(8),
                    -paper.mm(4),
                    base + paper.mm(8));
            var left = Math.min(paper.x(box.getMinX()), paper.x(box.getMaxX()));
            var edge = left - paper.mm(small ? 6 : 14);
            paper.line(Pen.TICK, "ink", paper.x(edge), 0, paper.x(edge), box.getMaxY());
            for (double y = 0; y <= box.getMaxY(); y += tickStep) {
                var end = edge - paper.mm(tick(y, figureStep));
                paper.line(Pen.TICK, "ink", paper.x(edge), y, paper.x(end), y);
                if (y % figureStep == 0) {
                    figure(edge - paper.mm(small ? 9 : 14), y, y, "end");
                }
            }
            word(edge - paper.mm(small ? 9 : 14), base - paper.mm(20));
            paper.raw("</g>");
        }

        private void word(double paperX, double y) {
            paper.text(Pen.SCALE_FIGURE, null, "ink", Lettering.FIGURE.anchored("end"), paperX, y, "mm");
        }

        private void figure(double paperX, double y, double value, String anchor) {
            var figure = (value < 0 ? "−" : "") + Math.round(Math.abs(value));
            paper.text(Pen.SCALE_FIGURE, null, "ink", Lettering.FIGURE.anchored(anchor), paperX, y, figure);
        }

        private double tick(double at, int figureStep) {
            return at % figureStep == 0 ? (small ? 6 : 11) : at % 100 == 0 ? (small ? 3 : 7) : 3;
        }

        private static double ceil(double value, double step) {
            return Math.ceil(value / step) * step;
        }

        private boolean isSelected(DrawnDamage damage) {
            return selected != null && selected == damage.number();
        }

        private boolean ringless(DrawnDamage damage) {
            return damage.kind() == DamageKind.CRACK && paper.px(damage.shape().diameterMm()) > RINGLESS_PX;
        }

        /** The locator ring's radius, mm. */
        private double ring(DrawnDamage damage) {
            return Math.max(paper.mm(13), damage.shape().diameterMm() / 2 + paper.mm(5));
        }

        private void reserveRings() {
            for (var damage : damages) {
                var shape = damage.shape();
                var reach =
                        ringless(damage) ? shape.diameterMm() / 2 : ring(damage) + paper.mm(isSelected(damage) ? 9 : 2);
                var around = new Envelope(new Coordinate(paper.x(shape.xMm()), shape.yMm()));
                var lines = shape.lines();
                if (ringless(damage) && lines != null && !fromTheSeat) {
                    around = new Envelope(lines.getEnvelopeInternal());
                    reach = paper.mm(4);
                }
                around.expandBy(reach);
                taken.add(around);
            }
        }

        private void damage(DrawnDamage damage) {
            var shape = damage.shape();
            var tone = damage.tone();
            var radius = ring(damage);
            // Whoever picks a place picks it there too, and does not leave a form that is half filled in.
            var href = pickable ? null : damage.href();
            openTone(paper, tone);
            paper.raw(
                    href == null
                            ? "<g data-damage=\"" + damage.number() + "\">"
                            : "<a data-damage=\"" + damage.number() + "\" href=\"" + escaped(href) + "\" aria-label=\""
                                    + escaped(damage.sentence()) + "\">");
            paper.raw("<title>" + escaped(damage.sentence()) + "</title>");
            if (ringless(damage)) {
                var lines = shape.lines();
                if (lines != null) {
                    paper.shape(lines, Pen.RING_HALO);
                }
            } else {
                if (isSelected(damage)) {
                    paper.circle(Pen.RING_GROUND, tone, shape.xMm(), shape.yMm(), radius);
                }
                paper.circle(Pen.RING_HALO, tone, shape.xMm(), shape.yMm(), radius);
                var pen = isSelected(damage)
                        ? Pen.RING_SELECTED
                        : tone.equals("earlier-repair") ? Pen.RING_EARLIER : Pen.RING;
                paper.circle(pen, tone, shape.xMm(), shape.yMm(), radius);
                if (isSelected(damage)) {
                    for (int quarter = 0; quarter < 4; quarter++) {
                        var angle = quarter * Math.PI / 2;
                        var from = radius;
                        var to = radius + paper.mm(8);
                        paper.line(
                                Pen.RING_SELECTED,
                                tone,
                                shape.xMm() + from * Math.cos(angle),
                                shape.yMm() + from * Math.sin(angle),
                                shape.xMm() + to * Math.cos(angle),
                                shape.yMm() + to * Math.sin(angle));
                    }
                }
            }
            DamagePicture.draw(paper, damage, Pen.DAMAGE);
            if (!small) {
                tag(damage, radius);
            }
            paper.raw(href == null ? "</g></g>" : "</a></g>");
        }

        private void tag(DrawnDamage damage, double radius) {
            var shape = damage.shape();
            var tone = damage.tone();
            var words = Integer.toString(damage.number());
            var width = paper.mm(Math.max(18, Lettering.TAG.widthPx(words) + 10));
            var height = paper.mm(18);
            var away = ringless(damage) ? paper.mm(4) : radius * 0.55;
            var places = new double[][] {{1, 1}, {-1, 1}, {1, -1}, {-1, -1}};
            var lines = shape.lines();
            var end = ringless(damage) && lines != null
                    ? lines.getCoordinate()
                    : new Coordinate(shape.xMm(), shape.yMm());
            Envelope chosen = null;
            var chosenClear = false;
            for (var place : places) {
                var left = paper.x(end.x) + place[0] * away + (place[0] < 0 ? -width : 0);
                var bottom = end.y + place[1] * away + (place[1] < 0 ? -height : 0);
                var spot = new Envelope(left, left + width, bottom, bottom + height);
                // Its own ring does not count: the tag leans on it.
                var clear = free(spot, damage)
                        && !(ringless(damage) && lines != null && lines.intersects(unmirrored(spot)));
                if (chosen == null || (clear && !chosenClear)) {
                    chosenClear = clear;
                    chosen = spot;
                }
            }
            var spot = Objects.requireNonNull(chosen);
            taken.add(spot);
            var filled = isSelected(damage);
            paper.raw("<rect x=\"" + number(spot.getMinX()) + "\" y=\"" + number(-spot.getMaxY()) + "\" width=\""
                    + number(width) + "\" height=\"" + number(height) + "\" rx=\"" + number(paper.mm(2)) + "\""
                    + paper.ink(filled ? Pen.TAG_FILLED : Pen.TAG, tone) + "/>");
            paper.text(
                    filled ? Pen.TAG_TEXT_FILLED : Pen.TAG_TEXT,
                    null,
                    tone,
                    Lettering.TAG,
                    spot.centre().x,
                    spot.centre().y,
                    words);
        }

        /** This part of the paper in the glass frame. */
        private Geometry unmirrored(Envelope spot) {
            return SHAPES.toGeometry(
                    new Envelope(paper.x(spot.getMinX()), paper.x(spot.getMaxX()), spot.getMinY(), spot.getMaxY()));
        }

        private boolean free(Envelope spot, DrawnDamage owner) {
            var own = damages.indexOf(owner);
            for (int i = 0; i < taken.size(); i++) {
                if (i != own && taken.get(i).intersects(spot)) {
                    return false;
                }
            }
            return onPaper(spot);
        }

        private boolean free(Envelope spot) {
            return taken.stream().noneMatch(spot::intersects) && onPaper(spot);
        }

        /** 2 where nothing else stands, 1 where it covers something, 0 where it leaves the glass. */
        private int room(Envelope spot) {
            return free(spot) ? 2 : onPaper(spot) ? 1 : 0;
        }

        private boolean onPaper(Envelope spot) {
            var left = Math.min(paper.x(box.getMinX()), paper.x(box.getMaxX()));
            return new Envelope(left, left + box.getWidth(), box.getMinY(), box.getMaxY()).covers(spot);
        }

        private void dimensions(DrawnDamage damage) {
            openTone(paper, damage.tone());
            paper.raw("<g class=\"dimensions\">");
            toEdge(damage);
            var shape = damage.shape();
            var gap = damage.toDriversZone();
            if (gap != null) {
                var zoneSide = pattern.wheelCentreMm() < shape.xMm() ? -1 : 1;
                leader(damage, gap.text() + (small ? "" : " to driver’s zone"), zoneSide * (fromTheSeat ? -1 : 1), 1);
            }
            var diameter = damage.diameter();
            if (diameter != null && !small) {
                var side = gap != null && pattern.wheelCentreMm() > shape.xMm() ? -1 : 1;
                var words = damage.kind() == DamageKind.CRACK ? " long" : " across";
                leader(damage, diameter.text() + words, side * (fromTheSeat ? -1 : 1), -1);
            }
            paper.raw("</g></g>");
        }

        /** From the edge of the glass to the ring, along the shortest way. */
        private void toEdge(DrawnDamage damage) {
            var toEdge = damage.toEdge();
            if (toEdge == null) {
                return;
            }
            var shape = damage.shape();
            var lines = shape.lines();
            var body = lines != null ? lines : SHAPES.createPoint(new Coordinate(shape.xMm(), shape.yMm()));
            var nearest = DistanceOp.nearestPoints(body, pattern.outline().getExteriorRing());
            var from = nearest[0];
            var edge = nearest[1];
            var whole = from.distance(edge);
            if (whole == 0) {
                return;
            }
            var acrossX = (edge.x - from.x) / whole;
            var acrossY = (edge.y - from.y) / whole;
            var side = Math.abs(acrossY) >= Math.abs(acrossX)
                    ? (acrossY < 0 ? "lower" : "upper")
                    : (paper.x(acrossX) < 0 ? "left" : "right");
            var words = toEdge.text() + (small ? "" : " to " + side + " edge");
            var clear = ringless(damage) ? 0 : exit(damage, from, acrossX, acrossY);
            if (paper.px(whole - clear) < 14) {
                leader(damage, words, paper.x(acrossX) > 0 ? -1 : 1, acrossY < 0 ? 1 : -1);
                return;
            }
            from = new Coordinate(from.x + acrossX * clear, from.y + acrossY * clear);
            var stroke = paper.mm(5);
            for (var pen : new Pen[] {Pen.DIMENSION_HALO, Pen.DIMENSION}) {
                paper.line(pen, "ink", from.x, from.y, edge.x, edge.y);
                if (pen == Pen.DIMENSION) {
                    for (var end : new Coordinate[] {from, edge}) {
                        paper.line(
                                pen,
                                "ink",
                                end.x - acrossY * stroke,
                                end.y + acrossX * stroke,
                                end.x + acrossY * stroke,
                                end.y - acrossX * stroke);
                    }
                }
            }
            var measured =
                    new Envelope(new Coordinate(paper.x(from.x), from.y), new Coordinate(paper.x(edge.x), edge.y));
            var width = paper.mm(Lettering.DIMENSION.widthPx(words));
            // Away from the driver's zone, where most of the other lines are.
            var right = paper.x(shape.xMm() - pattern.wheelCentreMm()) > 0;
            Envelope chosen = null;
            for (var share : new double[] {0.5, 0.35, 0.65, 0.2, 0.8}) {
                var x = paper.x(from.x + (edge.x - from.x) * share);
                var y = from.y + (edge.y - from.y) * share;
                for (var spot : Math.abs(acrossY) >= Math.abs(acrossX)
                        ? List.of(
                                right ? words(x + paper.mm(9), y, width) : words(x - paper.mm(9) - width, y, width),
                                right ? words(x - paper.mm(9) - width, y, width) : words(x + paper.mm(9), y, width))
                        : List.of(
                                words(x - width / 2, y + paper.mm(14), width),
                                words(x - width / 2, y - paper.mm(14), width))) {
                    if (chosen == null || room(spot) > room(chosen)) {
                        chosen = spot;
                    }
                }
            }
            var spot = Objects.requireNonNull(chosen);
            taken.add(spot);
            measured.expandBy(paper.mm(2));
            taken.add(measured);
            paper.text(
                    Pen.DIMENSION_TEXT,
                    Pen.DIMENSION_TEXT_HALO,
                    "ink",
                    Lettering.DIMENSION,
                    spot.getMinX(),
                    spot.centre().y,
                    words);
        }

        /** How far one must go from here in this direction to leave the ring and its strokes. */
        private double exit(DrawnDamage damage, Coordinate from, double acrossX, double acrossY) {
            var reach = ring(damage) + paper.mm(10);
            var x = from.x - damage.shape().xMm();
            var y = from.y - damage.shape().yMm();
            var along = x * acrossX + y * acrossY;
            return -along + Math.sqrt(Math.max(0, along * along - (x * x + y * y) + reach * reach));
        }

        private Envelope words(double left, double middle, double width) {
            return new Envelope(left, left + width, middle - paper.mm(9), middle + paper.mm(9));
        }

        /** Whether a line on the paper runs through a tag, words or a ring other than the damage's own. */
        private boolean crossed(DrawnDamage owner, Coordinate from, Coordinate to) {
            var own = damages.indexOf(owner);
            return IntStream.range(0, taken.size())
                    .filter(i -> i != own)
                    .anyMatch(i -> new RectangleLineIntersector(taken.get(i)).intersects(from, to));
        }

        /** Words beside the ring with a bent line to it: to the right for side 1, above for up 1, or where there is room. */
        private void leader(DrawnDamage damage, String words, int side, int up) {
            var shape = damage.shape();
            var radius = ringless(damage) ? 0 : ring(damage);
            var middleX = paper.x(shape.xMm());
            var middleY = shape.yMm();
            var width = paper.mm(Lettering.DIMENSION.widthPx(words));
            var places = new double[][] {
                {side, up, 18, 40},
                {side, up, 30, 26},
                {side, up, 34, 62},
                {side, -up, 26, 6},
                {side, -up, 18, 40},
                {side, -up, 34, 62},
                {-side, -up, 26, 6},
                {-side, up, 18, 40},
                {-side, -up, 18, 40},
                {-side, up, 34, 62},
                {-side, -up, 34, 62},
                {side, up, 40, 90},
                {side, -up, 40, 90},
                {-side, up, 40, 90},
                {-side, -up, 40, 90},
                {side, up, 60, 130},
                {side, -up, 60, 130},
                {-side, up, 60, 130},
                {-side, -up, 60, 130}
            };
            double[] place = places[0];
            Envelope spot = null;
            var most = -1;
            for (var candidate : places) {
                var elbowX = middleX + candidate[0] * (radius + paper.mm(candidate[2]));
                var elbowY = middleY
                        + candidate[1]
                                * (Math.min(radius, paper.mm(30)) * 0.5 + paper.mm(candidate[3]) * (small ? 0.6 : 1));
                var left = candidate[0] > 0 ? elbowX + paper.mm(12) : elbowX - paper.mm(12) - width;
                var box = words(left, elbowY, width);
                var end = leaderEnd(damage, paper.x(elbowX), elbowY);
                var clear = !crossed(damage, new Coordinate(elbowX, elbowY), new Coordinate(paper.x(end.x), end.y));
                var worth = 2 * room(box) + (clear ? 1 : 0);
                if (worth > most) {
                    most = worth;
                    spot = box;
                    place = candidate;
                }
            }
            var chosen = Objects.requireNonNull(spot);
            taken.add(chosen);
            var textX = place[0] > 0 ? chosen.getMinX() : chosen.getMaxX();
            var elbowX = textX - place[0] * paper.mm(12);
            var elbowY = chosen.centre().y;
            var end = leaderEnd(damage, paper.x(elbowX), elbowY);
            for (var pen : new Pen[] {Pen.DIMENSION_HALO, Pen.DIMENSION}) {
                paper.line(
                        pen,
                        "ink",
                        paper.x(textX - place[0] * paper.mm(4)),
                        elbowY,
                        paper.x(elbowX),
                        elbowY,
                        end.x,
                        end.y);
            }
            paper.text(
                    Pen.DIMENSION_TEXT,
                    Pen.DIMENSION_TEXT_HALO,
                    "ink",
                    Lettering.DIMENSION.anchored(place[0] > 0 ? "start" : "end"),
                    textX,
                    elbowY,
                    words);
        }

        /** Where a leader from this elbow meets the ring, or the crack that has none. */
        private Coordinate leaderEnd(DrawnDamage damage, double elbowX, double elbowY) {
            var shape = damage.shape();
            var lines = shape.lines();
            var elbow = new Coordinate(elbowX, elbowY);
            if (ringless(damage)) {
                return lines == null
                        ? new Coordinate(shape.xMm(), shape.yMm())
                        : DistanceOp.nearestPoints(lines, SHAPES.createPoint(elbow))[0];
            }
            var angle = Math.atan2((elbowY - shape.yMm()) * 0.5, elbowX - shape.xMm());
            var reach = ring(damage) + paper.mm(3);
            return new Coordinate(shape.xMm() + reach * Math.cos(angle), shape.yMm() + reach * Math.sin(angle));
        }

        private void labels() {
            var camera = pattern.cameraArea();
            if (camera != null) {
                var area = camera.getEnvelopeInternal();
                var right = Math.max(paper.x(area.getMinX()), paper.x(area.getMaxX()));
                var half = paper.mm(Lettering.LABEL.widthPx("camera area")) / 2;
                label("camera area", new double[][] {
                    {right + half + paper.mm(8), area.getMinY() + area.getHeight() * 0.62},
                    {right - area.getWidth() - half - paper.mm(8), area.getMinY() + area.getHeight() * 0.62},
                    {right - area.getWidth() / 2, area.getMinY() - paper.mm(12)}
                });
            }
            for (var zone : zones) {
                var area = zone.area().getEnvelopeInternal();
                if (zone.area().isEmpty()) {
                    continue;
                }
                if (zone.kind().equals(DrawnZone.EDGE_BAND)) {
                    edgeLabel(zone);
                } else {
                    var x = paper.x(
                            Overlay.shared(zone.area(), pattern.sweptArea()).isEmpty()
                                    ? area.centre().x
                                    : zone.area().getCentroid().getX());
                    var low = area.getMinY();
                    label(zone.label(), new double[][] {
                        {x, low + area.getHeight() * 0.26},
                        {x, low + area.getHeight() * 0.4},
                        {x, low + area.getHeight() * 0.6},
                        {x, low + area.getHeight() * 0.14}
                    });
                }
            }
            var rest = pattern.sweptArea();
            for (var zone : zones) {
                rest = Overlay.outside(rest, zone.area());
            }
            if (camera != null) {
                rest = Overlay.outside(rest, camera);
            }
            if (!rest.isEmpty()) {
                var widest = rest.getInteriorPoint();
                var x = paper.x(widest.getX());
                label("swept area", new double[][] {
                    {x, widest.getY()},
                    {x, widest.getY() - paper.mm(40)},
                    {x, widest.getY() + paper.mm(40)},
                    {x + paper.mm(60), widest.getY()},
                    {x - paper.mm(60), widest.getY()}
                });
            }
        }

        private void label(String words, double[][] places) {
            var half = paper.mm(Lettering.LABEL.widthPx(words)) / 2;
            for (var place : places) {
                var spot = words(place[0] - half, place[1], 2 * half);
                if (free(spot)) {
                    taken.add(spot);
                    paper.text(Pen.LABEL, Pen.LABEL_HALO, "ink", Lettering.LABEL, place[0], place[1], words);
                    return;
                }
            }
        }

        /** Along the right edge, where the band is wide enough to hold it. */
        private void edgeLabel(DrawnZone zone) {
            var middle = box.centre().y;
            var across = SHAPES.createLineString(new Coordinate[] {
                new Coordinate(paper.x(0), middle), new Coordinate((fromTheSeat ? -1 : 1) * (box.getWidth()), middle)
            });
            var band = Overlay.within(across, zone.area()).getEnvelopeInternal();
            if (paper.px(band.getWidth()) < 18) {
                return;
            }
            var x = paper.x(band.centre().x);
            var half = paper.mm(Lettering.LABEL.widthPx(zone.label())) / 2;
            var spot = new Envelope(x - paper.mm(8), x + paper.mm(8), middle - half, middle + half);
            if (free(spot)) {
                taken.add(spot);
                paper.text(Pen.LABEL, Pen.LABEL_HALO, "ink", Lettering.LABEL.turnedDown(), x, middle, zone.label());
            }
        }
    }
}

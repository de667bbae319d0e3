package org.quarterlight.glass;

import java.util.Locale;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.locationtech.jts.geom.Coordinate;
import org.locationtech.jts.geom.Geometry;
import org.locationtech.jts.geom.LineString;
import org.locationtech.jts.geom.Polygon;
import org.locationtech.jts.simplify.DouglasPeuckerSimplifier;

/**
 * What a drawing is written on: takes places in millimetres with y up, writes SVG with y down, and knows how many px a
 * millimetre makes. Inside a page the pens are classes and strokes keep their px whatever the page does to the picture; in
 * a file of its own colours stand as attributes and strokes scale with it, which every renderer can do.
 */
final class Paper {
    /** A drawn line may leave the true one by this much, px. */
    private static final double LINE_ERROR_PX = 0.15;

    private final StringBuilder svg = new StringBuilder();
    private final double pxPerMm;
    private final GlassDrawing.Look look;
    private final boolean mirrored;

    Paper(double pxPerMm, GlassDrawing.Look look, boolean mirrored) {
        this.pxPerMm = pxPerMm;
        this.look = look;
        this.mirrored = mirrored;
    }

    /** So many px, in millimetres of this drawing. */
    double mm(double px) {
        return px / pxPerMm;
    }

    double px(double mm) {
        return mm * pxPerMm;
    }

    GlassDrawing.Look look() {
        return look;
    }

    /** Written as it is. */
    Paper raw(String text) {
        svg.append(text);
        return this;
    }

    /** Where this x of the glass frame stands on the paper. */
    double x(double xMm) {
        return mirrored ? -xMm : xMm;
    }

    void shape(Geometry shape, Pen pen, String tone, String more) {
        svg.append("<path d=\"")
                .append(data(shape))
                .append('"')
                .append(ink(pen, tone))
                .append(more)
                .append("/>");
    }

    void shape(Geometry shape, Pen pen) {
        shape(shape, pen, "ink", "");
    }

    /** An area filled with one of the drawing's patterns; a sentence shows when somebody points at it. */
    void filled(Geometry area, String patternId, String kind, String sentence) {
        svg.append("<path data-zone=\"")
                .append(escaped(kind))
                .append("\" fill=\"url(#")
                .append(patternId)
                .append(")\" d=\"")
                .append(data(area))
                .append("\"><title>")
                .append(escaped(sentence))
                .append("</title></path>");
    }

    void line(Pen pen, String tone, double... xy) {
        polyline(pen, tone, false, xy);
    }

    void polyline(Pen pen, String tone, boolean closed, double... xy) {
        svg.append("<path d=\"M");
        for (int i = 0; i < xy.length; i += 2) {
            svg.append(i == 0 ? "" : "L").append(number(x(xy[i]))).append(' ').append(number(-xy[i + 1]));
        }
        svg.append(closed ? "Z\"" : "\"").append(ink(pen, tone)).append("/>");
    }

    void circle(Pen pen, String tone, double xMm, double yMm, double radiusMm, String more) {
        svg.append("<circle cx=\"")
                .append(number(x(xMm)))
                .append("\" cy=\"")
                .append(number(-yMm))
                .append("\" r=\"")
                .append(number(radiusMm))
                .append('"')
                .append(ink(pen, tone))
                .append(more)
                .append("/>");
    }

    void circle(Pen pen, String tone, double xMm, double yMm, double radiusMm) {
        circle(pen, tone, xMm, yMm, radiusMm, "");
    }

    /** Words at a place of the paper (already turned over where it is mirrored), their middle line at y. */
    void text(Pen pen, @Nullable Pen halo, String tone, Lettering lettering, double paperX, double yMm, String words) {
        var size = mm(lettering.sizePx);
        var more = " x=\"%s\" y=\"%s\" font-size=\"%s\"%s%s%s"
                .formatted(
                        number(paperX),
                        number(-yMm + size * 0.35),
                        number(size),
                        lettering.bold ? " font-weight=\"600\"" : "",
                        lettering.anchor.equals("start") ? "" : " text-anchor=\"" + lettering.anchor + "\"",
                        lettering.turned
                                ? " transform=\"rotate(90 " + number(paperX) + " " + number(-yMm) + ")\""
                                : "");
        if (halo != null) {
            // The halo is a text of its own: not every renderer paints a stroke below its filling.
            svg.append("<text")
                    .append(ink(halo, tone))
                    .append(more)
                    .append(" stroke-width=\"")
                    .append(number(mm(lettering.haloPx)))
                    .append("\" stroke-linejoin=\"round\" aria-hidden=\"true\">")
                    .append(escaped(words))
                    .append("</text>");
        }
        svg.append("<text")
                .append(ink(pen, tone))
                .append(more)
                .append('>')
                .append(escaped(words))
                .append("</text>");
    }

    /** Attributes that ink a part. */
    String ink(Pen pen, String tone) {
        if (look == GlassDrawing.Look.INLINE) {
            return " class=\"" + pen.word() + "\"" + (pen.widthPx() > 0 ? " vector-effect=\"non-scaling-stroke\"" : "");
        }
        var ink = new StringBuilder();
        ink.append(" fill=\"").append(colour(pen.fill(), tone)).append('"');
        if (pen.stroke() != null) {
            ink.append(" stroke=\"").append(colour(pen.stroke(), tone)).append('"');
        }
        if (pen.widthPx() > 0) {
            ink.append(" stroke-width=\"").append(number(mm(pen.widthPx()))).append("\" stroke-linejoin=\"round\"");
        }
        var dash = pen.dashPx();
        if (dash != null) {
            ink.append(" stroke-dasharray=\"");
            for (var length : dash.split(" ", -1)) {
                ink.append(number(mm(Double.parseDouble(length)))).append(' ');
            }
            ink.setCharAt(ink.length() - 1, '"');
        }
        if (pen.opacity() < 1) {
            ink.append(pen.fill() == null ? " stroke-opacity=\"" : " fill-opacity=\"")
                    .append(number(pen.opacity()))
                    .append('"');
        }
        return ink.toString();
    }

    private String colour(@Nullable String token, String tone) {
        if (token == null) {
            return "none";
        }
        return look.colour(token.equals("tone") ? toneToken(tone) : token);
    }

    /** The stylesheet's token of a tone. */
    static String toneToken(String tone) {
        return switch (tone) {
            case "repair", "watch", "replace" -> tone;
            case "measure-again" -> "measure";
            case "stand-down" -> "stand";
            case "earlier-repair" -> "ink-2";
            default -> "ink";
        };
    }

    private String data(Geometry geometry) {
        var data = new StringBuilder();
        var drawn = DouglasPeuckerSimplifier.simplify(geometry, mm(LINE_ERROR_PX));
        for (int i = 0; i < drawn.getNumGeometries(); i++) {
            switch (drawn.getGeometryN(i)) {
                case Polygon empty when empty.isEmpty() -> {
                    // simplified away
                }
                case Polygon polygon -> {
                    ring(data, polygon.getExteriorRing());
                    for (int hole = 0; hole < polygon.getNumInteriorRing(); hole++) {
                        ring(data, polygon.getInteriorRingN(hole));
                    }
                }
                case LineString line -> points(data, line.getCoordinates(), line.getNumPoints());
                default -> {
                    // a point covers nothing that could be drawn
                }
            }
        }
        return data.toString();
    }

    private void ring(StringBuilder data, LineString ring) {
        points(data, ring.getCoordinates(), ring.getNumPoints() - 1);
        data.append('Z');
    }

    private void points(StringBuilder data, Coordinate[] points, int count) {
        for (int i = 0; i < count; i++) {
            data.append(i == 0 ? 'M' : 'L')
                    .append(number(x(points[i].x)))
                    .append(' ')
                    .append(number(-points[i].y));
        }
    }

    /** At most two digits behind the point, none that says nothing. */
    static String number(double value) {
        var hundredths = Math.round(value * 100);
        if (hundredths % 100 == 0) {
            return Long.toString(hundredths / 100);
        }
        var text = String.format(Locale.ROOT, "%.2f", hundredths / 100.0);
        return text.endsWith("0") ? text.substring(0, text.length() - 1) : text;
    }

    private static final Map<Character, String> ESCAPES =
            Map.of('<', "&lt;", '>', "&gt;", '&', "&amp;", '"', "&quot;", '\'', "&#39;");

    /** Text for between tags and inside attributes. */
    static String escaped(String text) {
        var escaped = new StringBuilder(text.length() + 16);
        text.codePoints().forEach(point -> {
            var escape = point < 128 ? ESCAPES.get((char) point) : null;
            if (escape != null) {
                escaped.append(escape);
            } else if (point >= 0x20 || point == '\t' || point == '\n' || point == '\r') {
                escaped.appendCodePoint(point);
            }
        });
        return escaped.toString();
    }

    @Override
    public String toString() {
        return svg.toString();
    }

    /** Size, weight and side of a text. */
    record Lettering(double sizePx, boolean bold, String anchor, double haloPx, boolean turned) {
        static final Lettering FIGURE = new Lettering(12, false, "middle", 0, false);
        static final Lettering LABEL = new Lettering(12, false, "middle", 5, false);
        static final Lettering DIMENSION = new Lettering(13, true, "start", 6, false);
        static final Lettering TAG = new Lettering(12, true, "middle", 0, false);

        Lettering anchored(String anchor) {
            return new Lettering(sizePx, bold, anchor, haloPx, turned);
        }

        Lettering turnedDown() {
            return new Lettering(sizePx, bold, anchor, haloPx, true);
        }

        /** About as wide as this, px; a little more rather than less. */
        double widthPx(String words) {
            return words.codePointCount(0, words.length()) * sizePx * (bold ? 0.56 : 0.53);
        }
    }
}

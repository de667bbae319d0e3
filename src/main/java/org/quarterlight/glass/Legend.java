package org.quarterlight.glass;

import java.util.LinkedHashMap;
import java.util.List;
import org.jspecify.annotations.Nullable;

/** Swatches of 30 × 16 px with the words for them. */
final class Legend {
    static final String PERMITTED = "a damage like this may be repaired here";

    private Legend() {}

    static String of(GlassPattern pattern, List<DrawnZone> zones, boolean permitted) {
        var words = new LinkedHashMap<String, String>();
        words.put("swept-area", "swept area");
        for (var zone : zones) {
            words.putIfAbsent(zone.kind(), word(zone));
        }
        if (pattern.cameraArea() != null) {
            words.put("camera-area", "camera area");
        }
        if (permitted) {
            words.put("permitted", PERMITTED);
        }
        var list = new StringBuilder("<ul class=\"legend\">");
        words.forEach((kind, word) -> list.append("<li>")
                .append(swatch(kind))
                .append(Paper.escaped(word))
                .append("</li>"));
        return list.append("</ul>").toString();
    }

    private static String word(DrawnZone zone) {
        return switch (zone.kind()) {
            case DrawnZone.DRIVERS_ZONE -> "driver’s zone";
            case DrawnZone.EDGE_BAND -> "edge band";
            default -> zone.label();
        };
    }

    private static String swatch(String kind) {
        var paper = new Paper(1, GlassDrawing.Look.INLINE, false);
        paper.raw("<svg class=\"glass-drawing sample\" viewBox=\"0 0 30 16\" width=\"30\" height=\"16\""
                + " aria-hidden=\"true\">");
        switch (kind) {
            case "swept-area" -> {
                ground(paper, Pen.SWEPT_GROUND);
                path(paper, Pen.SWEPT_LINE, "M0 2C12 2 24 6 29 16", null);
            }
            case DrawnZone.DRIVERS_ZONE -> {
                ground(paper, Pen.SWEPT_GROUND);
                path(paper, Pen.DRIVERS_LINE, "M2 0V16M28 0V16", null);
                path(paper, Pen.UPRIGHTS, "M10.5 0V16M19.5 0V16", "1");
            }
            case DrawnZone.EDGE_BAND -> {
                ground(paper, Pen.GROUND);
                for (double x = 2; x < 30; x += 3.5) {
                    for (double y = x % 7 == 2 ? 2 : 5.5; y < 16; y += 7) {
                        paper.circle(Pen.STIPPLE, "ink", x, -y, 0.9);
                    }
                }
            }
            case "camera-area" -> {
                ground(paper, Pen.GROUND);
                path(
                        paper,
                        Pen.CAMERA_HATCH,
                        "M0 8 8 0M0 16 16 0M8 16 24 0M16 16 30 2M24 16l6-6M0 8l8 8M0 0l16 16M8 0l16 16M16 0l14 14M24"
                                + " 0l6 6",
                        "0.9");
            }
            case "permitted" -> {
                ground(paper, Pen.SWEPT_GROUND);
                path(paper, Pen.PERMITTED_HATCH, "M0 9 9 0M4 16 20 0M15 16 30 1M26 16l4-4", "1");
                path(paper, Pen.PERMITTED_LINE, "M.5.5h29v15H.5z", null);
            }
            default -> {
                ground(paper, Pen.SWEPT_GROUND);
                path(paper, Pen.ZONE_LINE, "M1 1h28v14H1z", null);
            }
        }
        return paper.raw("</svg>").toString();
    }

    private static void ground(Paper paper, Pen pen) {
        path(paper, pen, "M0 0h30v16H0z", null);
    }

    private static void path(Paper paper, Pen pen, String data, @Nullable String width) {
        paper.raw("<path d=\"" + data + "\"" + paper.ink(pen, "ink")
                + (width == null ? "" : " stroke-width=\"" + width + "\"") + "/>");
    }
}

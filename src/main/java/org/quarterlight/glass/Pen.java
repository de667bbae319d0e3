package org.quarterlight.glass;

import java.util.Locale;
import org.jspecify.annotations.Nullable;

/**
 * How a part of a drawing is inked. Colours are the stylesheet's tokens, widths and dashes px on the screen. A width of 0
 * is given where the pen is used. The stylesheet {@code glass.css} says the same for drawings inside a page; a test keeps
 * the two alike.
 */
enum Pen {
    GROUND("glass", null, 0, null),
    SWEPT_GROUND("glass-clear", null, 0, null),
    OUTLINE(null, "glass-edge", 3, null),
    INNER_LINE(null, "glass-edge", 0.8, null),
    SWEPT_LINE(null, "glass-edge", 1.3, "9 5"),
    DRIVERS_LINE(null, "glass-edge", 1.5, null),
    CAMERA_LINE(null, "glass-edge", 1, null),
    ZONE_LINE(null, "glass-edge", 1, "2 3"),
    PERMITTED_LINE(null, "repair", 1, null),
    STIPPLE("hatch", null, 0, null),
    UPRIGHTS(null, "hatch", 0, null),
    CAMERA_HATCH(null, "glass-edge", 0, null),
    PERMITTED_HATCH(null, "repair", 0, null),
    TICK(null, "edge", 1, null),
    MIDDLE("ink", null, 0, null),
    SCALE_FIGURE("ink-2", null, 0, null),
    LABEL("ink", null, 0, null),
    LABEL_HALO("glass-clear", "glass-clear", 0, null),
    DIMENSION(null, "ink", 1.3, null),
    DIMENSION_HALO(null, "sheet", 4, null),
    DIMENSION_HELP(null, "ink", 1.3, "1.3 3"),
    DIMENSION_TEXT("ink", null, 0, null),
    DIMENSION_TEXT_HALO("sheet", "sheet", 0, null),
    RING_HALO(null, "sheet", 5.8, null),
    RING(null, "tone", 1.8, null),
    RING_SELECTED(null, "tone", 3, null),
    RING_EARLIER(null, "tone", 1.8, "3.5 2.5"),
    RING_GROUND("sheet", null, 0, null),
    DAMAGE(null, "ink", 1.3, null),
    DAMAGE_CLOSE(null, "ink", 2.2, null),
    CRACK(null, "ink", 2, null),
    PIT("ink", null, 0, null),
    TAG("sheet", "tone", 1.5, null),
    TAG_FILLED("tone", "tone", 1.5, null),
    TAG_TEXT("tone", null, 0, null),
    TAG_TEXT_FILLED("sheet", null, 0, null),
    ENCLOSING(null, "tone", 1.8, "5 3"),
    UNCERTAIN(null, "tone", 0, null),
    FRAME(null, "glass-edge", 1.5, null),
    MINI_OUTLINE("glass", "glass-edge", 1.2, null),
    MINI_ZONE(null, "glass-edge", 0.8, null),
    DOT("tone", "tone", 1.5, null),
    DOT_OPEN("sheet", "tone", 1.5, null),
    MINI_CRACK(null, "tone", 2, null);

    private final @Nullable String fill;
    private final @Nullable String stroke;
    private final double widthPx;
    private final @Nullable String dashPx;

    Pen(@Nullable String fill, @Nullable String stroke, double widthPx, @Nullable String dashPx) {
        this.fill = fill;
        this.stroke = stroke;
        this.widthPx = widthPx;
        this.dashPx = dashPx;
    }

    /** Its class in a stylesheet. */
    String word() {
        return name().toLowerCase(Locale.ROOT).replace('_', '-');
    }

    @Nullable
    String fill() {
        return fill;
    }

    @Nullable
    String stroke() {
        return stroke;
    }

    double widthPx() {
        return widthPx;
    }

    @Nullable
    String dashPx() {
        return dashPx;
    }

    /** How much of what lies below stays hidden, 0 to 1. */
    double opacity() {
        return switch (this) {
            case RING_GROUND -> 0.85;
            case UNCERTAIN -> 0.28;
            default -> 1;
        };
    }
}

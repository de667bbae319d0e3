package org.quarterlight.web;

import java.math.BigDecimal;
import java.math.MathContext;
import java.math.RoundingMode;
import org.jspecify.annotations.Nullable;

/**
 * How far a measured length lies from its limit, drawn on a rule with ten ticks in a box of 170 × 25: the limit as a
 * bar, the forbidden side hatched, the measured length as a triangle under the line, twice its standard uncertainty as a
 * soft bar. Paths are in the syntax of SVG.
 *
 * <p>The rule is as long as needed to show the length, and such that a limit other than 0 lies between an eighth and
 * three quarters of it. A length beyond the end is drawn at the end, pointing outwards.
 *
 * @param result yes, no or unclear: the finding's own, which gives the tone
 * @param words the same for somebody who does not see it
 */
public record MarginRule(
        String result,
        String words,
        String scale,
        String limit,
        @Nullable String forbidden,
        String pointer,
        double doubtX,
        double doubtWidth) {
    private static final double LEFT = 4;
    private static final double RIGHT = 166;
    private static final double LINE_Y = 11;
    private static final double[] LENGTHS = {1, 1.2, 1.5, 2, 2.5, 3, 4, 5, 6, 8};
    private static final double LIMIT_NEAR_START = 1 / 8.0;
    private static final double LIMIT_NEAR_END = 3 / 4.0;

    /** Draws a length against a limit; bound is {@code at-most}, {@code less-than}, {@code at-least} or {@code more-than}. */
    public static MarginRule of(
            double measuredMm, double standardUncertaintyMm, String bound, double limitMm, String result) {
        var allowedBelow = switch (bound) {
            case "at-most", "less-than" -> true;
            case "at-least", "more-than" -> false;
            default -> throw new IllegalArgumentException("not a bound: " + bound);
        };
        var axis = Axis.showing(measuredMm, 2 * standardUncertaintyMm, limitMm);
        var limitX = axis.x(limitMm);
        var doubtX = axis.x(measuredMm - 2 * standardUncertaintyMm);
        var doubtEndX = axis.x(measuredMm + 2 * standardUncertaintyMm);
        return new MarginRule(
                result,
                "%s ± %s mm, limit %s %s mm"
                        .formatted(
                                plain(measuredMm),
                                plain(standardUncertaintyMm),
                                bound.replace('-', ' '),
                                plain(limitMm)),
                ticks(),
                "M%s 1v%s".formatted(rounded(limitX), rounded(LINE_Y + 3)),
                allowedBelow ? hatch(limitX, RIGHT) : hatch(LEFT, limitX),
                pointer(axis, measuredMm),
                rounded(doubtX),
                rounded(doubtEndX - doubtX));
    }

    private static String ticks() {
        var path = new StringBuilder("M%s %sH%s".formatted(LEFT, LINE_Y, RIGHT));
        for (int tick = 0; tick <= 10; tick++) {
            var height = tick % 5 == 0 ? 5 : 3;
            path.append("M%s %sv-%d".formatted(rounded(LEFT + (RIGHT - LEFT) * tick / 10), LINE_Y, height));
        }
        return path.toString();
    }

    private static @Nullable String hatch(double from, double to) {
        var path = new StringBuilder();
        for (double x = from + 1; x + 4 <= to; x += 5) {
            path.append("M%s %sl4 -7".formatted(rounded(x), LINE_Y - 0.5));
        }
        return path.isEmpty() ? null : path.toString();
    }

    private static String pointer(Axis axis, double measuredMm) {
        if (measuredMm > axis.endMm()) {
            return "M%s 15.5l7 4.5 -7 4.5z".formatted(RIGHT - 4);
        }
        if (measuredMm < axis.startMm()) {
            return "M%s 15.5l-7 4.5 7 4.5z".formatted(LEFT + 4);
        }
        return "M%s 12l4.5 8h-9z".formatted(rounded(axis.x(measuredMm)));
    }

    private static double rounded(double px) {
        return BigDecimal.valueOf(px).setScale(1, RoundingMode.HALF_UP).doubleValue();
    }

    /** Short, for reading out; the exact length stands beside the rule. */
    private static String plain(double mm) {
        return new BigDecimal(mm)
                .round(new MathContext(4))
                .stripTrailingZeros()
                .toPlainString()
                .replace("-", "−");
    }

    /** The part of the number line that the rule shows. */
    record Axis(double startMm, double endMm) {
        static Axis showing(double measuredMm, double doubtMm, double limitMm) {
            if (limitMm == 0) {
                var reachMm = atLeast(Math.max(Math.abs(measuredMm) + doubtMm, 1) * 2);
                return measuredMm - doubtMm < 0 ? new Axis(-reachMm / 2, reachMm / 2) : new Axis(0, reachMm);
            }
            var shortestMm = atLeast(limitMm / LIMIT_NEAR_END);
            var longestMm = atMost(limitMm / LIMIT_NEAR_START);
            return new Axis(0, Math.clamp(atLeast(measuredMm + doubtMm), shortestMm, longestMm));
        }

        /** Where a length stands on the rule, in px; what lies beyond stands at the end. */
        double x(double mm) {
            return Math.clamp(LEFT + (mm - startMm) / (endMm - startMm) * (RIGHT - LEFT), LEFT, RIGHT);
        }

        private static double atLeast(double mm) {
            if (mm <= 0) {
                return LENGTHS[0];
            }
            var decade = Math.pow(10, Math.floor(Math.log10(mm)));
            for (var length : LENGTHS) {
                if (length * decade >= mm) {
                    return length * decade;
                }
            }
            return 10 * decade;
        }

        private static double atMost(double mm) {
            var decade = Math.pow(10, Math.floor(Math.log10(mm)));
            for (int i = LENGTHS.length - 1; i > 0; i--) {
                if (LENGTHS[i] * decade <= mm) {
                    return LENGTHS[i] * decade;
                }
            }
            return decade;
        }
    }
}

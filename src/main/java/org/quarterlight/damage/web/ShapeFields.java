package org.quarterlight.damage.web;

import jakarta.validation.constraints.DecimalMax;
import jakarta.validation.constraints.DecimalMin;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.quarterlight.damage.Corner;
import org.quarterlight.damage.Leg;
import org.quarterlight.damage.SeenDamage;
import org.quarterlight.kernel.Invalid;

/** How a damage runs, as a form holds it: a corner in each line, legs by length and hour. */
final class ShapeFields {
    private static final BigDecimal DEGREES_AN_HOUR = new BigDecimal("30");
    private static final String NUMBER = "([+\\-−]?\\d{1,6}(?:[.,]\\d{1,6})?)";
    private static final Pattern CORNER = Pattern.compile("\\s*" + NUMBER + "(?:\\s*[,;/]\\s*|\\s+)" + NUMBER + "\\s*");
    private static final Pattern LINES = Pattern.compile("\\R");
    private static final int LEGS_SHOWN = 6;

    private ShapeFields() {}

    /** A leg as it is typed; one without a number is none. */
    static class LegFields {
        @DecimalMin(value = "0", inclusive = false, message = "More than 0")
        @DecimalMax("500")
        @Nullable
        BigDecimal lengthMm;

        @DecimalMin("0")
        @DecimalMax("12")
        @Nullable
        BigDecimal hour;

        static LegFields of(Leg leg) {
            var fields = new LegFields();
            fields.lengthMm = leg.lengthMm();
            var hour = leg.directionDegrees()
                    .divide(DEGREES_AN_HOUR, 2, RoundingMode.HALF_UP)
                    .stripTrailingZeros();
            fields.hour = hour.signum() == 0
                    ? BigDecimal.valueOf(12)
                    : hour.setScale(Math.max(0, hour.scale()), RoundingMode.UNNECESSARY);
            return fields;
        }
    }

    static List<Leg> legs(List<LegFields> typed) {
        var legs = new ArrayList<Leg>();
        for (var each : typed) {
            if (each.lengthMm == null && each.hour == null) {
                continue;
            }
            if (each.lengthMm == null || each.hour == null) {
                throw new Invalid("legs", "A leg has both a length and the hour it points to, or neither");
            }
            legs.add(new Leg(each.lengthMm, each.hour.multiply(DEGREES_AN_HOUR).stripTrailingZeros()));
        }
        if (legs.size() > SeenDamage.MOST_LEGS) {
            throw new Invalid("legs", "At most " + SeenDamage.MOST_LEGS + " legs");
        }
        return legs;
    }

    /** Room for as many as a star usually has, and for two more than are known. */
    static int addEmptyLegs(List<LegFields> legs) {
        var wanted = Math.min(SeenDamage.MOST_LEGS, Math.max(LEGS_SHOWN, legs.size() + 2));
        while (legs.size() < wanted) {
            legs.add(new LegFields());
        }
        return legs.size();
    }

    static String course(List<Corner> corners) {
        return corners.stream()
                .map(corner -> corner.xMm().toPlainString() + " " + corner.yMm().toPlainString())
                .collect(Collectors.joining("\n"));
    }

    static List<Corner> course(@Nullable String typed) {
        var corners = new ArrayList<Corner>();
        var number = 0;
        for (var line : LINES.split(typed == null ? "" : typed, -1)) {
            number++;
            if (line.isBlank()) {
                continue;
            }
            var match = CORNER.matcher(line);
            if (!match.matches()) {
                throw new Invalid(
                        "course", "Line " + number + ": two numbers, across and up in mm, for example −120 340");
            }
            corners.add(new Corner(number(match.group(1)), number(match.group(2))));
        }
        if (corners.size() > SeenDamage.MOST_CORNERS) {
            throw new Invalid("course", "At most " + SeenDamage.MOST_CORNERS + " corners");
        }
        return corners;
    }

    private static BigDecimal number(String typed) {
        return new BigDecimal(typed.replace('−', '-').replace(',', '.'));
    }
}

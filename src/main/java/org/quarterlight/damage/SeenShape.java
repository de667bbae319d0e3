package org.quarterlight.damage;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.List;
import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.locationtech.jts.geom.Coordinate;
import org.quarterlight.glass.DamageShape;

/** The lengths that tell what a damage covers, however they were kept. In mm, as they were typed. */
public interface SeenShape {
    BigDecimal xMm();

    BigDecimal yMm();

    @Nullable
    BigDecimal toXMm();

    @Nullable
    BigDecimal toYMm();

    @Nullable
    BigDecimal diameterMm();

    @Nullable
    BigDecimal pitMm();

    @Nullable
    BigDecimal bodyMm();

    /** A crack's, from end to end; empty where nobody drew it. */
    List<Corner> course();

    /** A star's; empty where nobody measured them. */
    List<Leg> legs();

    /** Whether somebody said how it runs, so that more than its circle is known. */
    default boolean hasLines() {
        return !course().isEmpty() || !legs().isEmpty() || (toXMm() != null && toYMm() != null);
    }

    /** Whether a damage so large may still run as it was drawn. */
    default boolean stillRuns(BigDecimal sizeMm) {
        return hasLines() && Math.abs(shape().diameterMm() - sizeMm.doubleValue()) <= sameWithinMm(sizeMm);
    }

    /** How far a length may be from one that was drawn and be the same: a millimetre, and without a course a twentieth; ours. */
    default double sameWithinMm(BigDecimal lengthMm) {
        return course().isEmpty() ? Math.max(1, lengthMm.doubleValue() / 20) : 1;
    }

    /** As rules read it and drawings show it: the lines where somebody drew them, else the circle. */
    default DamageShape shape() {
        var place = new Coordinate(xMm().doubleValue(), yMm().doubleValue());
        if (!course().isEmpty()) {
            return DamageShape.crack(course().stream()
                    .map(corner -> new Coordinate(
                            corner.xMm().doubleValue(), corner.yMm().doubleValue()))
                    .toArray(Coordinate[]::new));
        }
        if (!legs().isEmpty()) {
            return DamageShape.star(
                    place,
                    legs().stream()
                            .map(leg -> new DamageShape.Leg(
                                    leg.lengthMm().doubleValue(),
                                    leg.directionDegrees().doubleValue()))
                            .toList(),
                    Math.max(number(bodyMm()), number(pitMm())));
        }
        var toX = toXMm();
        var toY = toYMm();
        if (toX != null && toY != null) {
            return DamageShape.crack(place, new Coordinate(toX.doubleValue(), toY.doubleValue()));
        }
        return DamageShape.round(
                place.x,
                place.y,
                Objects.requireNonNull(diameterMm(), "neither drawn nor measured")
                        .doubleValue());
    }

    /** Along a crack's course, null where nobody drew one. */
    default @Nullable BigDecimal courseLengthMm() {
        return course().isEmpty()
                ? null
                : BigDecimal.valueOf(Objects.requireNonNull(shape().lines()).getLength())
                        .setScale(1, RoundingMode.HALF_UP);
    }

    private static double number(@Nullable BigDecimal length) {
        return length == null ? 0 : length.doubleValue();
    }
}

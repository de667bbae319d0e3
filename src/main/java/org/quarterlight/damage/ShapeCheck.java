package org.quarterlight.damage;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.time.Instant;
import java.util.Objects;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import org.quarterlight.fleet.Glazing;
import org.quarterlight.glass.DamageKind;
import org.quarterlight.glass.DamageShape;
import org.quarterlight.glass.GlassPattern;
import org.quarterlight.kernel.Invalid;

/** Whether what was seen of a damage fits the glass, its kind and itself. The tolerances are ours. */
final class ShapeCheck {
    /** An end beyond the edge, by at most this, says that the crack reaches it. */
    private static final double BEYOND_EDGE_MM = 10;

    /** A course begins where the damage is said to be. */
    private static final double SAME_PLACE_MM = 1;

    /** Corners are whole millimetres, each as good as a tape's; of a length between two of them. */
    private static final double CORNERS_MM = Math.sqrt(2);

    private static final double SIZES_DIFFER_MM = 5;
    private static final double SIZES_DIFFER_SHARE = 0.1;

    private static final Set<DamageKind> WITH_COURSE = Set.of(DamageKind.CRACK, DamageKind.NOT_SURE);
    private static final Set<DamageKind> WITH_LEGS =
            Set.of(DamageKind.STAR_BREAK, DamageKind.COMBINATION_BREAK, DamageKind.NOT_SURE);
    private static final Set<DamageKind> WITH_BODY = Set.of(DamageKind.COMBINATION_BREAK, DamageKind.NOT_SURE);

    private ShapeCheck() {}

    /** What was said of a new damage, with its size, if it fits. */
    static SeenDamage sized(Glazing glazing, DamageKind kind, SeenDamage said, Instant seenAt) {
        var seen = said.sized();
        check(glazing, kind, seen, seenAt);
        checkLengths(kind, said);
        return seen;
    }

    /** The same of one that is known. What is only said again stays as it was kept. */
    static SeenDamage sized(
            Glazing glazing, DamageKind kind, SeenDamage said, Instant seenAt, @Nullable ObservationView before) {
        if (before == null || !said.repeats(before)) {
            return sized(glazing, kind, said, seenAt);
        }
        check(glazing, kind, said, seenAt);
        return said.withoutDrawnLength();
    }

    /** @param seen with its size */
    private static void check(Glazing glazing, DamageKind kind, SeenDamage seen, Instant seenAt) {
        var pattern = glazing.pattern();
        var sizeMm = Objects.requireNonNull(seen.diameterMm(), "how large");
        if (reachesBeyond(pattern, seen.xMm(), seen.yMm(), seen.course().isEmpty() ? 0 : BEYOND_EDGE_MM)) {
            throw invalid("xMm", "This place is not on the glass");
        }
        if ((seen.toXMm() == null) != (seen.toYMm() == null)) {
            throw invalid("toXMm", "Say both how far across and how far up the crack ends");
        }
        if (isLarger(seen.pitMm(), sizeMm)) {
            throw invalid("pitMm", "The pit is part of the damage, so it is not larger");
        }
        if (seen.bodyMm() != null && !WITH_BODY.contains(kind)) {
            throw invalid("bodyMm", "Only a combination break has a body and legs; leave this empty");
        }
        if (isLarger(seen.bodyMm(), sizeMm)) {
            throw invalid("bodyMm", "The body is part of the damage, so it is not larger");
        }
        checkCourse(pattern, kind, seen);
        checkLegs(pattern, kind, seen);
        checkSize(seen, sizeMm.doubleValue());
        var glass = pattern.outline().getEnvelopeInternal();
        if (sizeMm.doubleValue() > Math.hypot(glass.getWidth(), glass.getHeight()) + 2 * BEYOND_EDGE_MM) {
            throw invalid("diameterMm", "This is larger than the glass. Is it in millimetres?");
        }
        var day = seen.arisenOn();
        if (day != null && day.isAfter(seenAt.atZone(glazing.depot().zone()).toLocalDate())) {
            throw invalid("arisenOn", "It cannot have arisen after it was seen");
        }
    }

    private static void checkCourse(GlassPattern pattern, DamageKind kind, SeenDamage seen) {
        var course = seen.course();
        if (course.isEmpty()) {
            return;
        }
        if (!WITH_COURSE.contains(kind)) {
            throw invalid("course", "Only a crack has a course; leave this empty");
        }
        if (!seen.legs().isEmpty()) {
            throw invalid("legs", "Give the legs of a star or the course of a crack, not both");
        }
        if (seen.toXMm() != null) {
            throw invalid("toXMm", "The course says already where the crack ends");
        }
        var first = course.getFirst();
        if (Math.hypot(
                        first.xMm().subtract(seen.xMm()).doubleValue(),
                        first.yMm().subtract(seen.yMm()).doubleValue())
                > SAME_PLACE_MM) {
            throw invalid("course", "The course begins at the place above, at one end of the crack");
        }
        for (var i = 0; i < course.size(); i++) {
            var corner = course.get(i);
            var isEnd = i == 0 || i == course.size() - 1;
            if (reachesBeyond(pattern, corner.xMm(), corner.yMm(), isEnd ? BEYOND_EDGE_MM : 0)) {
                throw invalid("course", "Corner " + (i + 1) + " is not on the glass");
            }
        }
        if (seen.shape().diameterMm() == 0) {
            throw invalid("course", "All corners are one place");
        }
    }

    private static void checkLegs(GlassPattern pattern, DamageKind kind, SeenDamage seen) {
        if (seen.legs().isEmpty()) {
            return;
        }
        if (!WITH_LEGS.contains(kind)) {
            throw invalid("legs", "Only a star or combination break has legs; leave these empty");
        }
        var lines = Objects.requireNonNull(seen.shape().lines());
        for (var i = 0; i < seen.legs().size(); i++) {
            var ends = lines.getGeometryN(i).getCoordinates();
            var tip = ends[ends.length - 1];
            if (!pattern.holds(tip.x, tip.y)) {
                throw invalid("legs", "Leg " + (i + 1) + " runs off the glass");
            }
        }
    }

    /** What was measured and what was drawn speak of one damage. */
    private static void checkSize(SeenDamage seen, double sizeMm) {
        if (seen.legs().isEmpty()) {
            return;
        }
        var given = seen.diameterStandardUncertaintyMm();
        var doubtMm = Math.hypot(
                given == null ? seen.source().standardUncertaintyMm(sizeMm) : given.doubleValue(),
                SeenDamage.drawnStandardUncertaintyMm(seen.source()));
        var toleranceMm = Math.max(2 * doubtMm, Math.max(SIZES_DIFFER_MM, SIZES_DIFFER_SHARE * sizeMm));
        var drawnMm = seen.shape().diameterMm();
        if (Math.abs(drawnMm - sizeMm) > toleranceMm) {
            throw invalid(
                    "diameterMm",
                    "As drawn it is " + Math.round(drawnMm) + " mm across. Draw all of it, or leave the size empty");
        }
    }

    /** What is said of a crack's size and length agrees with how it runs, and both with each other. */
    private static void checkLengths(DamageKind kind, SeenDamage said) {
        var lengthMm = said.longestLegMm();
        var sizeMm = said.diameterMm();
        if (!said.course().isEmpty()) {
            var course = Objects.requireNonNull(said.shape().lines());
            checkDrawn("longestLegMm", "long", course.getLength(), lengthMm, said);
            checkDrawn("diameterMm", "across", said.shape().diameterMm(), sizeMm, said);
            return;
        }
        if (said.toXMm() != null && sizeMm != null) {
            var apartMm = said.shape().diameterMm();
            if (apartMm - sizeMm.doubleValue() > toleranceMm(sizeMm, said)) {
                throw invalid(
                        "diameterMm",
                        "Its ends are " + words(apartMm, sizeMm) + " mm apart, you say " + words(sizeMm)
                                + " across. Give its largest distance across, or leave this empty");
            }
        }
        if (kind == DamageKind.CRACK && lengthMm != null) {
            var acrossMm = sizeMm == null
                    ? BigDecimal.valueOf(said.shape().diameterMm()).setScale(1, RoundingMode.DOWN)
                    : sizeMm;
            if (lengthMm.compareTo(acrossMm) < 0) {
                throw invalid(
                        "longestLegMm",
                        "The crack is " + words(acrossMm) + " mm across, so it is at least as long; you say "
                                + words(lengthMm));
            }
        }
    }

    private static void checkDrawn(
            String field, String how, double drawnMm, @Nullable BigDecimal typedMm, SeenDamage said) {
        if (typedMm != null && Math.abs(drawnMm - typedMm.doubleValue()) > toleranceMm(typedMm, said)) {
            throw invalid(
                    field,
                    "The line drawn is " + words(drawnMm, typedMm) + " mm " + how + ", you say " + words(typedMm)
                            + ". Draw it anew, or leave this empty");
        }
    }

    /** Twice the standard uncertainty of both, so that one in twenty that agree is refused. */
    private static double toleranceMm(BigDecimal typedMm, SeenDamage said) {
        var given = said.diameterStandardUncertaintyMm();
        return 2
                * Math.hypot(
                        given == null
                                ? said.source().standardUncertaintyMm(typedMm.doubleValue())
                                : given.doubleValue(),
                        CORNERS_MM);
    }

    private static String words(BigDecimal mm) {
        return mm.stripTrailingZeros().toPlainString();
    }

    /** To the millimetre, unless what is typed is said more exactly. */
    private static String words(double mm, BigDecimal typedMm) {
        var digits = typedMm.stripTrailingZeros().scale() > 0 ? 1 : 0;
        return words(BigDecimal.valueOf(mm).setScale(digits, RoundingMode.HALF_UP));
    }

    private static boolean reachesBeyond(GlassPattern pattern, BigDecimal xMm, BigDecimal yMm, double toleranceMm) {
        var x = xMm.doubleValue();
        var y = yMm.doubleValue();
        return !pattern.holds(x, y)
                && (toleranceMm == 0 || -pattern.distanceToEdgeMm(DamageShape.round(x, y, 0)) > toleranceMm);
    }

    private static boolean isLarger(@Nullable BigDecimal part, BigDecimal whole) {
        return part != null && part.compareTo(whole) > 0;
    }

    private static Invalid invalid(String field, String message) {
        return new Invalid("observation." + field, message);
    }
}

package org.quarterlight.damage;

import jakarta.validation.Valid;
import jakarta.validation.constraints.DecimalMax;
import jakarta.validation.constraints.DecimalMin;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.time.LocalDate;
import java.util.Collections;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.quarterlight.eligibility.Condition;
import org.quarterlight.eligibility.Grade;
import org.quarterlight.eligibility.Layers;
import org.quarterlight.eligibility.Seen;
import org.quarterlight.kernel.Invalid;

/**
 * What was seen of a damage, lengths as they were typed, in the glass frame; x is negative left of the middle seen from
 * outside. What is missing, nobody looked at. {@code found} is an inspector's own grade of what it does to the view.
 *
 * <p>How it runs: a crack by its {@code course} from end to end, beginning at its place, or by its other end alone
 * ({@code toXMm}, {@code toYMm}); an end up to 10 mm beyond the edge says that the crack reaches it. A star by its {@code
 * legs}, all of them. The size may be left out then, and follows from the drawing; a course tells the crack's length
 * ({@code longestLegMm}) and size, and what is typed besides has to agree with it. {@code bodyMm} is a combination break
 * without its legs, {@code arisenOn} the day since which it is known to be there; left out later on, what was known stays.
 */
public record SeenDamage(
        @NotNull @DecimalMin("-3000") @DecimalMax("3000") BigDecimal xMm,
        @NotNull @DecimalMin("-500") @DecimalMax("3000") BigDecimal yMm,
        @DecimalMin("-3000") @DecimalMax("3000") @Nullable BigDecimal toXMm,
        @DecimalMin("-500") @DecimalMax("3000") @Nullable BigDecimal toYMm,

        @DecimalMin(value = "0", inclusive = false) @DecimalMax("4000") @Nullable
        BigDecimal diameterMm,

        @DecimalMin("0") @DecimalMax("500") @Nullable BigDecimal diameterStandardUncertaintyMm,
        @DecimalMin("0") @DecimalMax("200") @Nullable BigDecimal pitMm,
        @DecimalMin("0") @DecimalMax("4000") @Nullable BigDecimal longestLegMm,
        @Nullable Layers layers,
        @Nullable Condition condition,
        @NotNull Seen source,
        @Nullable Grade found,
        @Size(max = 1000) @Nullable String note,
        @Size(max = MOST_CORNERS) List<@NotNull @Valid Corner> course,
        @Size(max = MOST_LEGS) List<@NotNull @Valid Leg> legs,

        @DecimalMin(value = "0", inclusive = false) @DecimalMax("500") @Nullable
        BigDecimal bodyMm,

        @Nullable LocalDate arisenOn)
        implements SeenShape {
    public static final int MOST_CORNERS = 50;
    public static final int MOST_LEGS = 24;

    @SuppressWarnings(
            "NullAway") // what a caller leaves out arrives as null, and what it writes as null is refused by name
    public SeenDamage {
        course = course == null ? List.of() : Collections.unmodifiableList(course);
        legs = legs == null ? List.of() : Collections.unmodifiableList(legs);
    }

    /** Known by its circle, or by both ends of a crack. */
    public SeenDamage(
            BigDecimal xMm,
            BigDecimal yMm,
            @Nullable BigDecimal toXMm,
            @Nullable BigDecimal toYMm,
            BigDecimal diameterMm,
            @Nullable BigDecimal diameterStandardUncertaintyMm,
            @Nullable BigDecimal pitMm,
            @Nullable BigDecimal longestLegMm,
            @Nullable Layers layers,
            @Nullable Condition condition,
            Seen source,
            @Nullable Grade found,
            @Nullable String note) {
        this(
                xMm,
                yMm,
                toXMm,
                toYMm,
                diameterMm,
                diameterStandardUncertaintyMm,
                pitMm,
                longestLegMm,
                layers,
                condition,
                source,
                found,
                note,
                List.of(),
                List.of(),
                null,
                null);
    }

    /**
     * The same with its size. A course tells it, and how long the crack is, whatever was typed besides; legs or both ends
     * tell it where nobody measured it. Either as well as the ends are known.
     */
    SeenDamage sized() {
        if (course.size() == 1) {
            throw new Invalid(
                    "observation.course",
                    "A course has at least two corners: where the crack begins, and where it ends");
        }
        if (course.isEmpty() && diameterMm != null) {
            return this;
        }
        if (!hasLines()) {
            throw new Invalid("observation.diameterMm", "Give its largest distance across, in mm, or draw how it runs");
        }
        var drawnMm = BigDecimal.valueOf(shape().diameterMm()).setScale(1, RoundingMode.HALF_UP);
        return with(
                drawnMm.signum() == 0 ? new BigDecimal("0.1") : drawnMm,
                course.isEmpty() ? longestLegMm : null,
                diameterStandardUncertaintyMm != null
                        ? diameterStandardUncertaintyMm
                        : BigDecimal.valueOf(drawnStandardUncertaintyMm(source)).setScale(1, RoundingMode.HALF_UP),
                arisenOn);
    }

    /** Of a length between two places on the glass. */
    static double drawnStandardUncertaintyMm(Seen source) {
        return Math.sqrt(2) * source.positionStandardUncertaintyMm();
    }

    SeenDamage arisenOn(@Nullable LocalDate day) {
        return with(diameterMm, longestLegMm, diameterStandardUncertaintyMm, day);
    }

    /** Whether it says again, to the digit, how large it was and how it ran: somebody found it unchanged. */
    boolean repeats(ObservationView before) {
        return course.equals(before.course())
                && isSame(diameterMm, before.diameterMm())
                && isSame(longestLegMm, before.longestLegMm());
    }

    /** A length that was read off the course is as sure as the course is, so it is not kept as if it were measured. */
    SeenDamage withoutDrawnLength() {
        return isSame(longestLegMm, courseLengthMm())
                ? with(diameterMm, null, diameterStandardUncertaintyMm, arisenOn)
                : this;
    }

    private static boolean isSame(@Nullable BigDecimal one, @Nullable BigDecimal other) {
        return one == null ? other == null : other != null && one.compareTo(other) == 0;
    }

    private SeenDamage with(
            @Nullable BigDecimal sizeMm,
            @Nullable BigDecimal lengthMm,
            @Nullable BigDecimal standardUncertaintyMm,
            @Nullable LocalDate since) {
        return new SeenDamage(
                xMm,
                yMm,
                toXMm,
                toYMm,
                sizeMm,
                standardUncertaintyMm,
                pitMm,
                lengthMm,
                layers,
                condition,
                source,
                found,
                note,
                course,
                legs,
                bodyMm,
                since);
    }
}

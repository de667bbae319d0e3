package org.quarterlight.repair;

import jakarta.validation.constraints.DecimalMax;
import jakarta.validation.constraints.DecimalMin;
import jakarta.validation.constraints.NotNull;
import java.math.BigDecimal;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.eligibility.Condition;
import org.quarterlight.eligibility.Grade;
import org.quarterlight.eligibility.Layers;
import org.quarterlight.eligibility.Seen;

/**
 * What the look over found of one finished repair, lengths in mm; what is left out, nobody looked at. A job's {@code asked}
 * says what its sheets read.
 *
 * @param damage of the job's brief
 * @param pitMm the finished pit
 * @param lengthMm what is left to be seen of a leg or a crack
 * @param acrossMm what is left to be seen, across
 * @param source how the lengths were taken; by gauge where it is left out
 * @param standardUncertaintyMm of each length; that of the source where it is left out
 * @param view what it does to the view, as a grade
 * @param level whether it is level with the glass
 * @param clearOutside whether it is clear, hardly to be found, seen from outside
 * @param clearInside the same from inside
 * @param xMm where it lies, measured again; the place in the brief where it is left out
 */
public record FinishedRepair(
        @NotNull UUID damage,
        @DecimalMin("0") @DecimalMax("200") @Nullable BigDecimal pitMm,
        @DecimalMin("0") @DecimalMax("4000") @Nullable BigDecimal lengthMm,
        @DecimalMin("0") @DecimalMax("4000") @Nullable BigDecimal acrossMm,
        @Nullable Seen source,
        @DecimalMin("0") @DecimalMax("500") @Nullable BigDecimal standardUncertaintyMm,
        @Nullable Grade view,
        @Nullable Boolean level,
        @Nullable Boolean clearOutside,
        @Nullable Boolean clearInside,
        @Nullable Layers layers,
        @Nullable Condition condition,
        @DecimalMin("-3000") @DecimalMax("3000") @Nullable BigDecimal xMm,
        @DecimalMin("-500") @DecimalMax("3000") @Nullable BigDecimal yMm) {
    /** Clear from both sides; null where it is not known of one and not denied of the other. */
    @Nullable
    Boolean clear() {
        if (Boolean.FALSE.equals(clearOutside) || Boolean.FALSE.equals(clearInside)) {
            return false;
        }
        return clearOutside == null || clearInside == null ? null : Boolean.TRUE;
    }

    /** Whether somebody looked and found it good to look at, as far as anybody looked. */
    boolean looksGood() {
        return !Boolean.FALSE.equals(level) && !Boolean.FALSE.equals(clear()) && (view == null || view == Grade.NONE);
    }
}

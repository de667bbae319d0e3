package org.quarterlight.damage;

import jakarta.validation.constraints.DecimalMax;
import jakarta.validation.constraints.DecimalMin;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import java.math.BigDecimal;
import org.jspecify.annotations.Nullable;
import org.quarterlight.eligibility.Condition;
import org.quarterlight.eligibility.Grade;
import org.quarterlight.eligibility.Layers;
import org.quarterlight.eligibility.Seen;

/**
 * What was seen of a damage, lengths as they were typed, in the glass frame; x is negative left of the middle seen from
 * outside. What is missing, nobody looked at. A crack may say where it ends. {@code found} is an inspector's own grade of
 * what it does to the view.
 */
public record SeenDamage(
        @NotNull @DecimalMin("-3000") @DecimalMax("3000") BigDecimal xMm,
        @NotNull @DecimalMin("-500") @DecimalMax("3000") BigDecimal yMm,
        @DecimalMin("-3000") @DecimalMax("3000") @Nullable BigDecimal toXMm,
        @DecimalMin("-500") @DecimalMax("3000") @Nullable BigDecimal toYMm,

        @NotNull @DecimalMin(value = "0", inclusive = false) @DecimalMax("4000")
        BigDecimal diameterMm,

        @DecimalMin("0") @DecimalMax("500") @Nullable BigDecimal diameterStandardUncertaintyMm,
        @DecimalMin("0") @DecimalMax("200") @Nullable BigDecimal pitMm,
        @DecimalMin("0") @DecimalMax("4000") @Nullable BigDecimal longestLegMm,
        @Nullable Layers layers,
        @Nullable Condition condition,
        @NotNull Seen source,
        @Nullable Grade found,
        @Size(max = 1000) @Nullable String note) {}

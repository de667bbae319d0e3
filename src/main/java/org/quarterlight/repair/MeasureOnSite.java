package org.quarterlight.repair;

import jakarta.validation.constraints.DecimalMax;
import jakarta.validation.constraints.DecimalMin;
import jakarta.validation.constraints.NotNull;
import java.math.BigDecimal;
import java.time.Instant;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.eligibility.Condition;
import org.quarterlight.eligibility.Layers;

/**
 * What a technician measured of a damage at the vehicle, with a gauge, lengths in mm. Where it lies stays as the job's brief
 * says; what is left out was not measured.
 *
 * @param damage of the job's brief
 * @param occurredAt now where it is left out
 */
public record MeasureOnSite(
        @NotNull UUID damage,

        @NotNull @DecimalMin(value = "0", inclusive = false) @DecimalMax("4000")
        BigDecimal diameterMm,

        @DecimalMin("0") @DecimalMax("500") @Nullable BigDecimal diameterStandardUncertaintyMm,
        @DecimalMin("0") @DecimalMax("200") @Nullable BigDecimal pitMm,
        @DecimalMin("0") @DecimalMax("4000") @Nullable BigDecimal longestLegMm,
        @Nullable Layers layers,
        @Nullable Condition condition,
        @Nullable Instant occurredAt) {}

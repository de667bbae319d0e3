package org.quarterlight.repair;

import jakarta.validation.constraints.DecimalMax;
import jakarta.validation.constraints.DecimalMin;
import jakarta.validation.constraints.NotNull;
import java.math.BigDecimal;
import java.time.LocalDate;
import org.jspecify.annotations.Nullable;

/** What a meter showed at this distance; today where no day is named. Hours: what the lamp has burnt by then. */
public record ReadLamp(
        @NotNull @DecimalMin("0.001") @DecimalMax("100000") BigDecimal irradianceMwPerCm2,
        @NotNull @DecimalMin("1") @DecimalMax("2000") BigDecimal distanceMm,
        @Nullable LocalDate readOn,
        @DecimalMin("0") @DecimalMax("100000") @Nullable BigDecimal hours) {}

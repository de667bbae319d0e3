package org.quarterlight.rulebook;

import jakarta.validation.constraints.Max;
import jakarta.validation.constraints.Min;
import jakarta.validation.constraints.NotNull;

/** Says what a repair and a replacement cost, in the smallest unit of the currency. */
public record SaveCostRates(
        @NotNull @Min(0) @Max(100_000_000) Long repairMinor,
        @NotNull @Min(0) @Max(100_000_000) Long replacementMinor,

        @NotNull String currency) {}

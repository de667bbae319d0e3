package org.quarterlight.agreement;

import jakarta.validation.constraints.Max;
import jakarta.validation.constraints.Min;
import jakarta.validation.constraints.NotNull;
import java.time.LocalDate;
import org.jspecify.annotations.Nullable;

/**
 * Prices from a day on, in the smallest unit of the currency.
 *
 * @param replacementMinor left out where new glass is quoted each time
 */
public record SavePrices(
        @NotNull LocalDate validFrom,
        @NotNull String currency,
        @NotNull @Min(0) @Max(100_000_000) Long repairMinor,
        @NotNull @Min(0) @Max(100_000_000) Long furtherMinor,
        @NotNull @Min(0) @Max(100_000_000) Long callOutMinor,

        @Min(0) @Max(100_000_000) @Nullable Long replacementMinor) {}

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
 * @param warrantyMonths how long a repair is made good for nothing; left out as long as the glass is fitted
 */
public record SavePrices(
        @NotNull LocalDate validFrom,
        @NotNull String currency,
        @NotNull @Min(0) @Max(100_000_000) Long repairMinor,
        @NotNull @Min(0) @Max(100_000_000) Long furtherMinor,
        @NotNull @Min(0) @Max(100_000_000) Long callOutMinor,

        @Min(0) @Max(100_000_000) @Nullable Long replacementMinor,

        @Min(1) @Max(240) @Nullable Integer warrantyMonths) {}

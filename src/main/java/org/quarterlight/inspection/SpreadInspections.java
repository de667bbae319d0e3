package org.quarterlight.inspection;

import jakarta.validation.constraints.Max;
import jakarta.validation.constraints.Min;
import jakarta.validation.constraints.NotNull;
import java.time.LocalDate;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/**
 * Spreads what is due at a depot over days.
 *
 * @param to the last day; what falls due later is left alone
 * @param mostPerDay together with what is planned already
 * @param again whether what is planned in these days already is planned anew
 * @param keep whether the days are kept; else they are only proposed
 */
public record SpreadInspections(
        @NotNull UUID depot,
        @NotNull LocalDate from,
        @NotNull LocalDate to,
        @NotNull @Min(1) @Max(500) Integer mostPerDay,
        @Nullable Boolean again,
        @Nullable Boolean keep) {}

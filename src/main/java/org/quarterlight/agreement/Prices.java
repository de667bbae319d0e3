package org.quarterlight.agreement;

import java.util.UUID;
import org.jspecify.annotations.Nullable;

/**
 * Prices that hold on some day, in the smallest unit of one currency.
 *
 * @param agreement that they stand in
 * @param furtherMinor each further chip on the same visit
 * @param callOutMinor once a visit
 * @param replacementMinor null where new glass is quoted each time
 * @param warrantyMonths null where a repair is made good as long as the glass is fitted
 */
public record Prices(
        UUID agreement,
        String currency,
        long repairMinor,
        long furtherMinor,
        long callOutMinor,
        @Nullable Long replacementMinor,
        @Nullable Integer warrantyMonths) {}

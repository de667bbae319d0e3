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
 */
public record Prices(
        UUID agreement,
        String currency,
        long repairMinor,
        long furtherMinor,
        long callOutMinor,
        @Nullable Long replacementMinor) {}

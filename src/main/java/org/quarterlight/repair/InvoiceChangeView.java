package org.quarterlight.repair;

import java.time.Instant;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/**
 * An invoice whose number was corrected, or whose charges were released.
 *
 * @param newNumber null where its charges are on no invoice any more
 * @param charges how many
 */
public record InvoiceChangeView(
        UUID id,
        UUID fleet,
        String fleetName,
        UUID performer,
        String performerName,
        String oldNumber,
        @Nullable String newNumber,
        int charges,
        String reason,
        Instant changedAt,
        String changedBy) {}

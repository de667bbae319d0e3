package org.quarterlight.repair;

import java.math.BigDecimal;
import java.time.Instant;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/**
 * One change of what lies in a place. It is never changed itself.
 *
 * @param change less than nothing where something went out
 * @param left what lay there afterwards
 * @param otherPlace that it went to or came from
 */
public record StockMovement(
        UUID id,
        UUID lot,
        String lotNumber,
        LotKind kind,
        StockMove move,
        BigDecimal change,
        BigDecimal left,
        @Nullable UUID job,
        @Nullable UUID otherPlace,
        @Nullable String otherPlaceName,
        String reason,
        Instant movedAt,
        String movedBy) {}

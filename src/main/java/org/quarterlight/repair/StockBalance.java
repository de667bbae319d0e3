package org.quarterlight.repair;

import java.math.BigDecimal;
import java.time.LocalDate;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/**
 * How much of a lot lies in a place.
 *
 * @param quantity in the unit of its kind
 */
public record StockBalance(
        UUID place,
        String placeName,
        UUID lot,
        String lotNumber,
        LotKind kind,
        String material,
        @Nullable LocalDate expiresOn,
        boolean recalled,
        BigDecimal quantity,
        LotKind.Unit unit) {}

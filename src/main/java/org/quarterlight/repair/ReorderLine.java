package org.quarterlight.repair;

import java.math.BigDecimal;
import java.util.UUID;

/**
 * A place that holds less of a kind than it should; what has expired or is recalled does not count.
 *
 * @param missing up to its level
 */
public record ReorderLine(
        UUID place,
        String placeName,
        LotKind kind,
        LotKind.Unit unit,
        BigDecimal usable,
        BigDecimal atLeast,
        BigDecimal missing) {}

package org.quarterlight.repair;

import jakarta.validation.constraints.DecimalMin;
import jakarta.validation.constraints.Digits;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import java.math.BigDecimal;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/**
 * Somebody has counted what lies there.
 *
 * @param seen what stood written when they began; where it moved meanwhile, it is counted again
 * @param reason why it differs from what stood written
 */
public record CountStock(
        @NotNull UUID lot,
        @NotNull @DecimalMin("0") @Digits(integer = 6, fraction = 2) BigDecimal quantity,
        @Digits(integer = 6, fraction = 2) @Nullable BigDecimal seen,
        @Size(max = 500) @Nullable String reason) {}

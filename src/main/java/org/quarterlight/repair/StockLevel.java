package org.quarterlight.repair;

import jakarta.validation.constraints.DecimalMin;
import jakarta.validation.constraints.Digits;
import jakarta.validation.constraints.NotNull;
import java.math.BigDecimal;

/** How much of a kind a place should hold at least, in its unit; nothing where it is 0. */
public record StockLevel(
        @NotNull LotKind kind,
        @NotNull @DecimalMin("0") @Digits(integer = 6, fraction = 2) BigDecimal atLeast) {}

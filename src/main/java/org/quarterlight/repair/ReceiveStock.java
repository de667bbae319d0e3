package org.quarterlight.repair;

import jakarta.validation.constraints.DecimalMin;
import jakarta.validation.constraints.Digits;
import jakarta.validation.constraints.NotNull;
import java.math.BigDecimal;
import java.util.UUID;

/** Something of a lot is delivered. In the unit of its kind. */
public record ReceiveStock(
        @NotNull UUID lot,

        @NotNull @DecimalMin(value = "0", inclusive = false) @Digits(integer = 6, fraction = 2) BigDecimal quantity) {}

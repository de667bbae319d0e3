package org.quarterlight.repair;

import jakarta.validation.constraints.DecimalMin;
import jakarta.validation.constraints.Digits;
import jakarta.validation.constraints.NotNull;
import java.math.BigDecimal;
import java.util.UUID;

/** Something of a lot is taken to another place. */
public record TransferStock(
        @NotNull UUID lot,
        @NotNull UUID to,

        @NotNull @DecimalMin(value = "0", inclusive = false) @Digits(integer = 6, fraction = 2) BigDecimal quantity) {}

package org.quarterlight.damage;

import jakarta.validation.constraints.DecimalMax;
import jakarta.validation.constraints.DecimalMin;
import jakarta.validation.constraints.NotNull;
import java.math.BigDecimal;

/** A place on a crack's course, mm in the glass frame. */
public record Corner(
        @NotNull @DecimalMin("-3000") @DecimalMax("3000") BigDecimal xMm,
        @NotNull @DecimalMin("-500") @DecimalMax("3000") BigDecimal yMm) {}

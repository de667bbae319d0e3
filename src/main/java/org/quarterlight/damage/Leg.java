package org.quarterlight.damage;

import jakarta.validation.constraints.DecimalMax;
import jakarta.validation.constraints.DecimalMin;
import jakarta.validation.constraints.NotNull;
import java.math.BigDecimal;

/**
 * A leg of a star, straight from the impact; the direction clockwise from straight up as seen from outside, so that three
 * o'clock is 90.
 */
public record Leg(
        @NotNull @DecimalMin(value = "0", inclusive = false) @DecimalMax("500")
        BigDecimal lengthMm,

        @NotNull @DecimalMin("0") @DecimalMax("360") BigDecimal directionDegrees) {}

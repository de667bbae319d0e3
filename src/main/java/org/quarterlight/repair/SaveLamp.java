package org.quarterlight.repair;

import jakarta.validation.constraints.DecimalMax;
import jakarta.validation.constraints.DecimalMin;
import jakarta.validation.constraints.Max;
import jakarta.validation.constraints.Min;
import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import java.math.BigDecimal;
import org.jspecify.annotations.Nullable;

/**
 * A lamp that resin is cured with.
 *
 * @param wavelengthNm of its strongest line
 * @param hours it has burnt
 * @param readEveryDays how long a reading holds; half a year where nobody says otherwise
 */
public record SaveLamp(
        @NotBlank @Size(max = 120) String name,
        @NotNull @DecimalMin("300") @DecimalMax("450") BigDecimal wavelengthNm,
        @DecimalMin("0") @DecimalMax("100000") @Nullable BigDecimal hours,
        @Min(1) @Max(3650) @Nullable Integer readEveryDays) {}

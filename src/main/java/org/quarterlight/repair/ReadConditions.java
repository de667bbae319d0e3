package org.quarterlight.repair;

import jakarta.validation.constraints.DecimalMax;
import jakarta.validation.constraints.DecimalMin;
import jakarta.validation.constraints.NotNull;
import java.math.BigDecimal;
import java.time.Instant;
import org.jspecify.annotations.Nullable;
import org.quarterlight.bench.Conditions;
import org.quarterlight.bench.Light;

/**
 * What was read beside the vehicle.
 *
 * @param bearingDegrees where its front points, from north over east
 * @param deviceClock what the device's clock says while it sends this, where it was read without a network
 */
public record ReadConditions(
        @NotNull @DecimalMin("-40") @DecimalMax("60") BigDecimal airCelsius,
        @NotNull @DecimalMin("-40") @DecimalMax("90") BigDecimal glassCelsius,
        @NotNull @DecimalMin("1") @DecimalMax("100") BigDecimal relativeHumidityPercent,
        @NotNull Light light,
        @NotNull Boolean rain,
        @NotNull Boolean glassDry,
        @DecimalMin("0") @DecimalMax("360") @Nullable BigDecimal bearingDegrees,
        @Nullable Instant occurredAt,
        @Nullable Instant deviceClock) {
    /** At a time that no device has measured. */
    public ReadConditions(
            BigDecimal airCelsius,
            BigDecimal glassCelsius,
            BigDecimal relativeHumidityPercent,
            Light light,
            Boolean rain,
            Boolean glassDry,
            @Nullable BigDecimal bearingDegrees,
            @Nullable Instant occurredAt) {
        this(
                airCelsius,
                glassCelsius,
                relativeHumidityPercent,
                light,
                rain,
                glassDry,
                bearingDegrees,
                occurredAt,
                null);
    }

    Conditions conditions() {
        return new Conditions(
                airCelsius.doubleValue(),
                glassCelsius.doubleValue(),
                relativeHumidityPercent.doubleValue(),
                light,
                rain,
                glassDry,
                bearingDegrees == null ? null : bearingDegrees.doubleValue());
    }
}

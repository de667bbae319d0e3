package org.quarterlight.repair;

import jakarta.validation.constraints.DecimalMin;
import jakarta.validation.constraints.Digits;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import java.math.BigDecimal;
import java.time.Instant;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/**
 * Something of a lot goes into a job. {@code amount} with its unit, as it was measured.
 *
 * @param place that it was taken from, where stock is kept
 * @param deviceClock what the device's clock says while it sends this, where it measured the time without a network
 * @param quantity that leaves the stock of this place, all that this job took of the lot, in the unit of its kind
 */
public record UseLot(
        @NotNull UUID lot,
        @Size(max = 60) @Nullable String amount,
        @Nullable Instant occurredAt,
        @Nullable UUID place,

        @DecimalMin("0") @Digits(integer = 6, fraction = 2) @Nullable
        BigDecimal quantity,

        @Nullable Instant deviceClock) {
    /** At a time that no device has measured. */
    public UseLot(
            UUID lot,
            @Nullable String amount,
            @Nullable Instant occurredAt,
            @Nullable UUID place,
            @Nullable BigDecimal quantity) {
        this(lot, amount, occurredAt, place, quantity, null);
    }

    /** Without any stock being kept of it. */
    public UseLot(UUID lot, @Nullable String amount, @Nullable Instant occurredAt) {
        this(lot, amount, occurredAt, null, null);
    }
}

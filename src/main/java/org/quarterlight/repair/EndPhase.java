package org.quarterlight.repair;

import jakarta.validation.constraints.Size;
import java.time.Instant;
import org.jspecify.annotations.Nullable;

/**
 * Stops the clock of a phase; now, where no time is told.
 *
 * @param reading what a gauge showed, with its unit
 * @param clearOfAir whether the break was, at the end of a vacuum
 * @param deviceClock what the device's clock says while it sends this, where it measured the time without a network
 */
public record EndPhase(
        @Size(max = 60, message = "A reading has up to 60 characters") @Nullable
        String reading,

        @Nullable Boolean clearOfAir,
        @Nullable Instant occurredAt,
        @Nullable Instant deviceClock) {
    /** Now, and nothing else is to be told. */
    public static final EndPhase NOW = new EndPhase(null, null, null, null);
}

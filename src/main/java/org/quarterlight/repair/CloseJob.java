package org.quarterlight.repair;

import jakarta.validation.constraints.Size;
import java.time.Instant;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/**
 * Ends a job: how it came out, in words too, with which resin, and for new glass its marking.
 * Where one of the first two is missing, that is told with all else that is.
 *
 * @param deviceClock what the device's clock says while it sends this, where it measured the time without a network
 */
public record CloseJob(
        @Nullable Result result,
        @Size(max = 4000) @Nullable String notes,
        @Nullable UUID resinLot,
        @Size(max = 120) @Nullable String glassMarking,
        @Nullable Instant occurredAt,
        @Nullable Instant deviceClock) {
    /** At a time that no device has measured. */
    public CloseJob(
            @Nullable Result result,
            @Nullable String notes,
            @Nullable UUID resinLot,
            @Nullable String glassMarking,
            @Nullable Instant occurredAt) {
        this(result, notes, resinLot, glassMarking, occurredAt, null);
    }
}

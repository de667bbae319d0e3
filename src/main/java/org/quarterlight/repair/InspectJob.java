package org.quarterlight.repair;

import jakarta.validation.Valid;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import java.time.Instant;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * The look over of finished work. Whoever looks may fail it, with a reason; where they pass it, the sheets of the brief judge
 * what they found of each repair, and may say otherwise.
 *
 * @param found of each damage of the brief; of new glass, and where no sheet was chosen, nothing
 * @param deviceClock what the device's clock says while it sends this, where it measured the time without a network
 */
public record InspectJob(
        @NotNull Boolean passed,
        @Size(max = 500) @Nullable String reason,
        @Size(max = 100) List<@NotNull @Valid FinishedRepair> found,
        @Nullable Instant occurredAt,
        @Nullable Instant deviceClock) {
    /** At a time that no device has measured. */
    public InspectJob(
            Boolean passed, @Nullable String reason, List<FinishedRepair> found, @Nullable Instant occurredAt) {
        this(passed, reason, found, occurredAt, null);
    }

    @SuppressWarnings("NullAway") // what a caller leaves out arrives as null
    public InspectJob {
        found = found == null ? List.of() : java.util.Collections.unmodifiableList(found);
    }
}

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
 */
public record InspectJob(
        @NotNull Boolean passed,
        @Size(max = 500) @Nullable String reason,
        @Size(max = 100) List<@NotNull @Valid FinishedRepair> found,
        @Nullable Instant occurredAt) {
    @SuppressWarnings("NullAway") // what a caller leaves out arrives as null
    public InspectJob {
        found = found == null ? List.of() : java.util.Collections.unmodifiableList(found);
    }
}

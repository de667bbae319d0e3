package org.quarterlight.repair;

import java.time.Instant;
import java.util.List;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/**
 * A job as whoever plans days needs it.
 *
 * @param endedAt when it was closed or given up
 * @param cures under the lamp, as they were recorded
 */
public record PlannedJob(
        UUID id,
        int number,
        Work work,
        JobState state,
        @Nullable UUID technician,
        @Nullable Instant startedAt,
        @Nullable Instant endedAt,
        List<Cure> cures,
        JobBrief brief) {
    public PlannedJob {
        cures = List.copyOf(cures);
    }

    /** Resin under the lamp; without an end it is there now. */
    public record Cure(Instant startedAt, @Nullable Instant endedAt) {}
}

package org.quarterlight.repair;

import java.util.UUID;
import org.jspecify.annotations.Nullable;

/** A job as whoever plans days needs it. */
public record PlannedJob(
        UUID id,
        int number,
        Work work,
        JobState state,
        @Nullable UUID technician,
        JobBrief brief) {}

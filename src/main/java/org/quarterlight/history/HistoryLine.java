package org.quarterlight.history;

import java.time.Instant;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/** One thing that was done: at, by whom, what, to what. */
public record HistoryLine(
        UUID id,
        Instant at,
        String who,
        String action,
        String subject,
        @Nullable UUID subjectId,
        String detail) {}

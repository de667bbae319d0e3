package org.quarterlight.repair;

import java.time.Instant;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.bench.PhaseKind;

/** A step as it was recorded. */
public record JobPhase(
        UUID id,
        PhaseKind kind,
        Instant startedAt,
        @Nullable Instant endedAt,
        String note,
        String recordedBy) {}

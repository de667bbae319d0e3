package org.quarterlight.repair;

import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import java.time.Instant;
import org.jspecify.annotations.Nullable;
import org.quarterlight.bench.PhaseKind;

/** A phase that began, and may have ended already. Without a start it begins now. */
public record RecordPhase(
        @NotNull PhaseKind kind,
        @Nullable Instant startedAt,
        @Nullable Instant endedAt,
        @Size(max = 1000) @Nullable String note) {}

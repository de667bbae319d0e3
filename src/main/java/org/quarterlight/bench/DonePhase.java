package org.quarterlight.bench;

import java.time.Duration;
import java.time.Instant;
import org.jspecify.annotations.Nullable;

/**
 * A phase as it was recorded.
 *
 * @param endedAt null while its clock runs
 * @param requiredSeconds what was worked out for this lamp when it began; null where the method's least time holds
 * @param clear whether the break was clear of air at the end of a vacuum; null where nobody said
 */
public record DonePhase(
        PhaseKind kind,
        Instant startedAt,
        @Nullable Instant endedAt,
        @Nullable Integer requiredSeconds,
        @Nullable Boolean clear) {
    /** One of which nobody said whether it left air. */
    public DonePhase(PhaseKind kind, Instant startedAt, @Nullable Instant endedAt, @Nullable Integer requiredSeconds) {
        this(kind, startedAt, endedAt, requiredSeconds, null);
    }

    Duration length() {
        return endedAt == null ? Duration.ZERO : Duration.between(startedAt, endedAt);
    }
}

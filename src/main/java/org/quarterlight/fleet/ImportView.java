package org.quarterlight.fleet;

import java.time.Duration;
import java.time.Instant;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/**
 * A list that somebody sent, and what became of it; of a preview, what would become of it.
 *
 * @param done how many of {@code total} rows have been gone through
 * @param problem why it was refused, empty where it was not
 */
public record ImportView(
        UUID id,
        ImportState state,
        ImportMode mode,
        String fileName,
        ImportDefaults defaults,
        @Nullable ListReading reading,
        int total,
        int done,
        int added,
        int changed,
        int same,
        int bad,
        int doubtful,
        String problem,
        String madeBy,
        Instant madeAt,
        @Nullable Instant endedAt) {
    /** How long it will still take if it goes on as it did; null where nothing tells yet. */
    public @Nullable Long secondsLeft(Instant now) {
        var gone = Duration.between(madeAt, now).toMillis();
        return done == 0 || gone < 1000 ? null : Math.ceilDiv(gone * Math.max(0, total - done), done * 1000L);
    }
}

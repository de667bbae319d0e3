package org.quarterlight.kernel;

import java.time.Duration;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import org.jspecify.annotations.Nullable;

/** When something happened that somebody tells of. */
public final class OccurredAt {
    /** A device's clock may be this far ahead. */
    private static final Duration CLOCKS_DIFFER = Duration.ofMinutes(5);

    private OccurredAt() {}

    /**
     * The time of a command: now if none is given, never in the future, to the microsecond as the database keeps it.
     *
     * @throws Invalid where the time has not come yet
     */
    public static Instant of(@Nullable Instant given, Instant now) {
        if (given != null && given.isAfter(now.plus(CLOCKS_DIFFER))) {
            throw new Invalid("occurredAt", "This time has not come yet");
        }
        return (given == null || given.isAfter(now) ? now : given).truncatedTo(ChronoUnit.MICROS);
    }
}

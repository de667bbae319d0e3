package org.quarterlight.kernel;

import java.time.Duration;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import org.jspecify.annotations.Nullable;

/** When something happened that somebody tells of. */
public final class OccurredAt {
    /** A device's clock may be this far ahead. */
    public static final Duration CLOCKS_DIFFER = Duration.ofMinutes(5);

    /** Whatever is told of so long ago is a slip: records begin with what a fleet still has on paper. */
    private static final Duration LONGEST_AGO = Duration.ofDays(5 * 366);

    private OccurredAt() {}

    /**
     * Kept from lying before what has to come before it. What two clocks may differ by is put right; more is refused.
     *
     * @throws Invalid for {@code field}, with these words
     */
    public static Instant notBefore(Instant told, @Nullable Instant bound, String field, String words) {
        if (bound == null || !told.isBefore(bound)) {
            return told;
        }
        if (told.isBefore(bound.minus(CLOCKS_DIFFER))) {
            throw new Invalid(field, words);
        }
        return bound;
    }

    /**
     * The time of a command: now if none is given, never in the future, to the microsecond as the database keeps it.
     *
     * @throws Invalid where the time has not come yet, or lies more than five years back
     */
    public static Instant of(@Nullable Instant given, Instant now) {
        if (given != null && given.isAfter(now.plus(CLOCKS_DIFFER))) {
            throw new Invalid("occurredAt", "This time has not come yet");
        }
        if (given != null && given.isBefore(now.minus(LONGEST_AGO))) {
            throw new Invalid("occurredAt", "This is more than five years ago");
        }
        return (given == null || given.isAfter(now) ? now : given).truncatedTo(ChronoUnit.MICROS);
    }
}

package org.quarterlight.repair;

import java.time.Duration;
import java.time.Instant;
import org.jspecify.annotations.Nullable;

/**
 * What was told so long after it had happened that somebody else answers for it. A device without a network measures its times
 * and may send them at the end of the day; what is typed is believed for a quarter of an hour. Both bounds are ours.
 */
final class Lateness {
    /** With the times that a device measured. */
    static final Duration MEASURED = Duration.ofHours(12);

    /** Typed by hand. */
    static final Duration TYPED = Duration.ofMinutes(15);

    private Lateness() {}

    static boolean isLate(Instant at, @Nullable Instant arrivedAt, @Nullable Integer offsetSeconds) {
        return arrivedAt != null
                && Duration.between(at, arrivedAt).compareTo(offsetSeconds == null ? TYPED : MEASURED) > 0;
    }

    /** In words, where it matters; else null. */
    static @Nullable String told(Instant at, @Nullable Instant arrivedAt, @Nullable Integer offsetSeconds) {
        return arrivedAt != null && isLate(at, arrivedAt, offsetSeconds)
                ? "told " + spoken(Duration.between(at, arrivedAt)) + " later"
                : null;
    }

    static String spoken(Duration length) {
        var minutes = length.toMinutes();
        return minutes < 120
                ? minutes + " min"
                : length.toHours() < 48 ? length.toHours() + " h" : length.toDays() + " days";
    }
}

package org.quarterlight.repair;

import java.time.Duration;
import java.time.Instant;
import org.jspecify.annotations.Nullable;

/**
 * What was told so long after it had happened that somebody else answers for it. A device without a network measures its times
 * and may send them at the end of the day, where {@link KeptOffline} bears that out; everything else is believed for a quarter of
 * an hour. Both bounds are ours.
 */
final class Lateness {
    /** Kept by a device for want of a network. */
    static final Duration QUEUED = Duration.ofHours(12);

    /** Typed by hand, or told by a clock that nothing bears out. */
    static final Duration TYPED = Duration.ofMinutes(15);

    private Lateness() {}

    /** Records from before this was asked: a device's clock was enough. */
    static boolean queued(@Nullable Boolean queued, @Nullable Integer offsetSeconds) {
        return queued == null ? offsetSeconds != null : queued;
    }

    static boolean isLate(Instant at, @Nullable Instant arrivedAt, boolean queued) {
        return arrivedAt != null && Duration.between(at, arrivedAt).compareTo(queued ? QUEUED : TYPED) > 0;
    }

    /** In words, where it matters; else null. */
    static @Nullable String told(Instant at, @Nullable Instant arrivedAt, boolean queued) {
        return arrivedAt != null && isLate(at, arrivedAt, queued)
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

package org.quarterlight.repair;

import java.time.Duration;
import java.time.Instant;
import org.jspecify.annotations.Nullable;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.kernel.OccurredAt;

/**
 * When something is told to have happened, by the service's clock, and when the service heard of it.
 *
 * @param offsetSeconds by whole seconds, as it is kept: how far the clock of the device that measured the time was ahead; null where nobody measured it
 * @param queued a device had to keep it for want of a network, as far as the service can tell
 */
record Told(Instant at, Instant arrivedAt, @Nullable Integer offsetSeconds, boolean queued) {
    /** Clocks that differ by more tell nothing. */
    private static final Duration CLOCK_TOO_FAR_OFF = Duration.ofDays(1);

    /**
     * A device may tell what its clock says while it sends this: its time is corrected by how far that is off.
     *
     * @throws Invalid where the time has not come yet or is too long ago, or the clock is more than a day off
     */
    static Told of(@Nullable Instant given, @Nullable Instant deviceClock, Instant now) {
        if (deviceClock == null || given == null) {
            return new Told(OccurredAt.of(given, now), now, null, false);
        }
        var ahead = Duration.between(now, deviceClock);
        if (ahead.abs().compareTo(CLOCK_TOO_FAR_OFF) > 0) {
            throw new Invalid("deviceClock", "This clock is more than a day off; set it, and give the times anew");
        }
        var seconds = Math.round(ahead.toMillis() / 1000.0);
        return new Told(OccurredAt.of(given.minusSeconds(seconds), now), now, (int) seconds, false);
    }

    /** What is only named with something that is told late is named now. */
    Told orNow() {
        return Lateness.isLate(at, arrivedAt, queued) ? new Told(arrivedAt, arrivedAt, offsetSeconds, queued) : this;
    }

    /** Not before what has to come before it. */
    Told notBefore(@Nullable Instant bound, String field, String words) {
        return new Told(OccurredAt.notBefore(at, bound, field, words), arrivedAt, offsetSeconds, queued);
    }

    Told queued(boolean kept) {
        return new Told(at, arrivedAt, offsetSeconds, kept);
    }
}

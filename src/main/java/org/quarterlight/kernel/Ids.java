package org.quarterlight.kernel;

import java.security.SecureRandom;
import java.time.Instant;
import java.util.Collection;
import java.util.UUID;
import java.util.stream.Collectors;

/**
 * Makes UUIDs of version 7 (RFC 9562): they sort by the time they were made, so indexes grow at one end. Within a process
 * each is greater than the one before: the twelve bits after the time count on within a millisecond (RFC 9562, section
 * 6.2, method 1), and when they are used up, or a clock is set back a little, the time stays ahead until it is caught up.
 */
public final class Ids {
    /** Further back than clocks are set: a time that was told, such as that of a story loaded from files. */
    private static final long SET_BACK_AT_MOST_MS = 10_000;

    private static final int COUNTER_BITS = 12;
    private static final int COUNTER_END = 1 << COUNTER_BITS;
    private static final SecureRandom RANDOM = new SecureRandom();

    private static long last;
    private static int counter;

    private Ids() {}

    /** A new id made at this instant. */
    public static UUID next(Instant now) {
        long low = RANDOM.nextLong();
        return new UUID(timeAndCounter(now.toEpochMilli()), (low & 0x3FFFFFFFFFFFFFFFL) | 0x8000000000000000L);
    }

    /**
     * As PostgreSQL writes an array, for {@code in (select unnest(cast(:ids as uuid[])))}: a statement has 65 535 parameters
     * at most, and a fleet may have more of anything.
     */
    public static String array(Collection<UUID> ids) {
        return ids.stream().map(UUID::toString).collect(Collectors.joining(",", "{", "}"));
    }

    private static synchronized long timeAndCounter(long nowMs) {
        if (nowMs > last || last - nowMs > SET_BACK_AT_MOST_MS) {
            last = nowMs;
            counter = start();
        } else if (++counter == COUNTER_END) {
            last++;
            counter = start();
        }
        return (last << 16) | 0x7000L | counter;
    }

    /** In the lower half, so that there is room to count on. */
    private static int start() {
        return RANDOM.nextInt(COUNTER_END / 2);
    }
}

package org.quarterlight.kernel;

import java.security.SecureRandom;
import java.time.Instant;
import java.util.UUID;

/** Makes UUIDs of version 7 (RFC 9562): they sort by the time they were made, so indexes grow at one end. */
public final class Ids {
    private static final SecureRandom RANDOM = new SecureRandom();

    private Ids() {}

    /** A new id made at this instant. */
    public static UUID next(Instant now) {
        long high = RANDOM.nextLong();
        long low = RANDOM.nextLong();
        return new UUID(
                (now.toEpochMilli() << 16) | 0x7000L | (high & 0x0FFFL),
                (low & 0x3FFFFFFFFFFFFFFFL) | 0x8000000000000000L);
    }
}

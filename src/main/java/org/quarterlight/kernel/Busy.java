package org.quarterlight.kernel;

import java.time.Duration;

/** As much is under way of one kind as the service can do at once; later it can be asked again. Becomes 503. */
public final class Busy extends RuntimeException {
    private final Duration patience;

    public Busy(String message, Duration patience) {
        super(message);
        this.patience = patience;
    }

    /** After how long it is worth asking again. */
    public Duration patience() {
        return patience;
    }
}

package org.quarterlight.web;

import java.time.Duration;
import org.springframework.security.core.AuthenticationException;

/** Somebody asks more often than people do. Becomes 429 with the time to wait; thrown before anything is looked up. */
public final class TooManyRequests extends AuthenticationException {
    private final Duration wait;

    public TooManyRequests(Duration wait) {
        super("Too many requests. Try again in " + minutes(wait) + " min.");
        this.wait = wait;
    }

    /** How long until it may go on, up to whole seconds. */
    public Duration patience() {
        return Duration.ofSeconds(wait.plusSeconds(1).minusNanos(1).toSeconds());
    }

    /** Up to whole minutes: who comes as told is let in. */
    static long minutes(Duration wait) {
        return Math.max(1, wait.plusMinutes(1).minusNanos(1).toMinutes());
    }
}

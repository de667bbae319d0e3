package org.quarterlight.web;

import java.time.Duration;
import org.springframework.security.core.AuthenticationException;

/** Somebody asks more often than people do. Becomes 429 with the time to wait; thrown before anything is looked up. */
public final class TooManyRequests extends AuthenticationException {
    private final Duration wait;

    public TooManyRequests(Duration wait) {
        super("Too many requests. Wait " + wait.toMinutes() + " minutes.");
        this.wait = wait;
    }

    /** How long until it may go on. */
    public Duration patience() {
        return wait;
    }
}

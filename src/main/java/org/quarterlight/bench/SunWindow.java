package org.quarterlight.bench;

import java.time.Instant;

/** From when to when direct sun falls on a pane, to the minute. */
public record SunWindow(Instant from, Instant to) {
    public boolean holds(Instant at) {
        return !at.isBefore(from) && at.isBefore(to);
    }
}

package org.quarterlight.damage;

import java.time.Duration;
import org.quarterlight.eligibility.Outcome;

/**
 * How many damages with this verdict are open.
 *
 * @param week seen first less than 7 days ago
 * @param month 7 to 30 days ago
 * @param older longer ago
 */
public record OpenByAge(Outcome outcome, long week, long month, long older) {
    static final Duration WEEK = Duration.ofDays(7);
    static final Duration MONTH = Duration.ofDays(30);

    public long all() {
        return week + month + older;
    }
}

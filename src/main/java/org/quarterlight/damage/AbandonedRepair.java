package org.quarterlight.damage;

import java.time.Instant;

/**
 * A repair that was begun and given up.
 *
 * @param job its number
 */
public record AbandonedRepair(int job, String by, String because, Instant at) {
    String words() {
        return "repair abandoned in job " + job + " by " + by + ": " + because;
    }
}

package org.quarterlight.fleet;

import java.time.Instant;
import java.util.UUID;
import org.quarterlight.glass.KnownLength;

/** A picture to trace over; sizes in points as it is shown. */
public record PatternPicture(UUID id, int width, int height, Instant addedAt, String addedBy) {
    boolean holds(KnownLength length) {
        return holds(length.fromXPx(), length.fromYPx()) && holds(length.toXPx(), length.toYPx());
    }

    private boolean holds(double xPx, double yPx) {
        return xPx >= 0 && xPx <= width && yPx >= 0 && yPx <= height;
    }
}

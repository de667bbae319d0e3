package org.quarterlight.repair;

import java.time.Instant;
import org.jspecify.annotations.Nullable;

/**
 * A try to set the camera behind new glass again. What was written before these were asked for has words alone, and closes
 * nothing any more.
 *
 * @param passed null where only words were kept
 * @param tool what it was done with, or the firm that did it
 * @param words figures, or why it failed
 */
public record Calibration(
        String words,
        Instant at,
        String by,
        @Nullable Boolean passed,
        @Nullable Manner manner,
        @Nullable String tool,
        @Nullable Instant arrivedAt) {
    /** Standing before a target, or driving. */
    public enum Manner {
        STATIC,
        DYNAMIC,
        BOTH
    }
}

package org.quarterlight.history;

import java.util.UUID;
import org.jspecify.annotations.Nullable;

/**
 * A place where a history is not what was written.
 *
 * @param number of the line in the chain; null for one that is in no chain
 * @param line its id, where known
 */
public record ChainFault(
        Kind kind, @Nullable Long number, @Nullable UUID line, String sentence) {
    /** What was done to it. */
    public enum Kind {
        CHANGED,
        DELETED,
        INSERTED,
        REORDERED,
        CUT_OFF,
        WRITTEN_ANEW,
        SEAL_FORGED
    }
}

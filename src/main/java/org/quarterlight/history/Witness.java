package org.quarterlight.history;

import java.util.List;
import java.util.UUID;

/** Answers for what lines of the history name: whether it is still there, and as it was. */
public interface Witness {
    /** What of this organisation is not as its history says. */
    List<ChainFault> faults(UUID organisation);
}

package org.quarterlight.repair;

import java.util.List;
import org.quarterlight.kernel.Refused;

/** The record is not complete; every gap is named. */
public class ClosingBlocked extends Refused {
    private final List<String> gaps;

    ClosingBlocked(List<String> gaps) {
        super("closing-blocked", "It cannot be closed yet. " + String.join(" ", gaps));
        this.gaps = List.copyOf(gaps);
    }

    /** What is missing, each as a sentence. */
    public List<String> gaps() {
        return gaps;
    }
}

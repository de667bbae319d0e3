package org.quarterlight.repair;

import java.util.List;
import java.util.stream.Collectors;
import org.quarterlight.kernel.Refused;

/** The record is not complete; every gap is named. */
public class ClosingBlocked extends Refused {
    private final List<ClosingGap> gaps;

    ClosingBlocked(List<ClosingGap> gaps) {
        super(
                "closing-blocked",
                "It cannot be closed yet. "
                        + gaps.stream().map(ClosingGap::sentence).collect(Collectors.joining(" ")));
        this.gaps = List.copyOf(gaps);
    }

    /** What is missing, each with the place where it is mended. */
    public List<ClosingGap> gaps() {
        return gaps;
    }
}

package org.quarterlight.repair;

import java.util.UUID;

/**
 * One thing that keeps a job from being closed.
 *
 * @param link the part of the page where it is mended
 * @param overridable a dispatcher or manager of the performer may answer for it with a reason
 */
public record ClosingGap(Gap gap, String sentence, String link, boolean overridable) {
    static ClosingGap of(UUID job, Gap gap, String sentence) {
        return new ClosingGap(gap, sentence, "/jobs/" + job + "/run#" + gap.part(), gap.overridable());
    }
}

package org.quarterlight.overview;

import java.time.LocalDate;
import java.util.Comparator;
import java.util.List;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.quarterlight.damage.DamageRow;
import org.quarterlight.repair.JobRow;

/** What falls due, whether a damage to be looked at again or a job: one of the two is there. */
record WorkAtHand(
        LocalDate by, @Nullable DamageRow damage, @Nullable JobRow job) {
    /** The next few of both, in the order in which they fall due. */
    static List<WorkAtHand> of(List<DamageRow> toWatch, List<JobRow> jobs, int most) {
        return Stream.concat(
                        toWatch.stream().map(damage -> new WorkAtHand(damage.actBy(), damage, null)),
                        jobs.stream().map(job -> new WorkAtHand(job.actBy(), null, job)))
                .sorted(Comparator.comparing(WorkAtHand::by))
                .limit(most)
                .toList();
    }
}

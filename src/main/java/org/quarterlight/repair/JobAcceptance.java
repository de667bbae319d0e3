package org.quarterlight.repair;

import java.time.Instant;
import java.util.List;
import java.util.UUID;
import org.quarterlight.eligibility.Acceptance;
import org.quarterlight.eligibility.Result;

/**
 * What the look over found of a job's finished repairs, and whether they are good enough by the sheets of its brief.
 *
 * @param result the worst of all its damages
 */
public record JobAcceptance(Instant at, String by, Result result, List<OfDamage> damages) {
    public JobAcceptance {
        damages = List.copyOf(damages);
    }

    /** One repair, as it was found and judged. */
    public record OfDamage(UUID damage, int number, FinishedRepair found, Acceptance acceptance) {
        /** What the rules said, as lines of a page. */
        public List<FindingLine> lines() {
            return acceptance.findings().stream().map(FindingLine::of).toList();
        }
    }

    /** What speaks against it, or what to measure, damage by damage. */
    String sentence() {
        return String.join(
                " ",
                damages.stream()
                        .filter(each -> each.acceptance().answer().result() == result)
                        .map(each -> (damages.size() == 1 ? "" : "Damage " + each.number() + ": ")
                                + each.acceptance().sentence())
                        .toList());
    }
}

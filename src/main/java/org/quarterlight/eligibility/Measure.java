package org.quarterlight.eligibility;

import com.fasterxml.jackson.annotation.JsonInclude;
import org.jspecify.annotations.Nullable;

/**
 * What to measure so that a question can be answered, and how well.
 *
 * @param quantity the length, or the fact that nobody looked at
 * @param where the zone that the rule speaks of
 * @param readingMm as it is known now, null where nobody measured it
 * @param standardUncertaintyMm of that reading
 * @param neededStandardUncertaintyMm the largest that makes the answer certain where the reading stays; null where nobody
 *     measured it, or where none does
 * @param onTheLimit the reading lies on the limit, so that no uncertainty but none at all decides
 * @param sentence the same in words
 */
@JsonInclude(JsonInclude.Include.NON_NULL)
public record Measure(
        Quantity quantity,
        @Nullable String where,
        @Nullable Double readingMm,
        @Nullable Double standardUncertaintyMm,
        @Nullable Double neededStandardUncertaintyMm,
        boolean onTheLimit,
        String sentence) {
    /** What would settle a finding that is unclear. */
    static Measure of(Finding finding, double acceptedRisk) {
        var reading = finding.measuredMm();
        var marginMm = finding.marginMm();
        if (reading == null || marginMm == null) {
            return new Measure(
                    finding.quantity(),
                    finding.where(),
                    null,
                    null,
                    null,
                    false,
                    Sentences.measure(finding, null, false));
        }
        var needed = Conformity.neededStandardUncertaintyMm(marginMm, acceptedRisk);
        var doubt = finding.standardUncertaintyMm();
        if (needed > 0 && doubt != null && doubt <= needed) {
            // The length is known well enough: what is not is whether the rule speaks of such a kind.
            return new Measure(
                    finding.quantity(), finding.where(), reading, doubt, null, false, "Say what kind of damage it is.");
        }
        var onTheLimit = needed == 0;
        return new Measure(
                finding.quantity(),
                finding.where(),
                reading,
                finding.standardUncertaintyMm(),
                onTheLimit ? null : needed,
                onTheLimit,
                Sentences.measure(finding, needed, onTheLimit));
    }
}

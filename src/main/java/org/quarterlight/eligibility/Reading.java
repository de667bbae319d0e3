package org.quarterlight.eligibility;

import java.util.List;
import org.jspecify.annotations.Nullable;

/** What was read for a rule, and whether that keeps it. The readings without length leave the lengths null. */
record Reading(
        Quantity quantity,
        @Nullable Double measuredMm,
        @Nullable Double standardUncertaintyMm,
        Bound bound,
        @Nullable Double limitMm,
        @Nullable Double marginMm,
        @Nullable String seen,
        @Nullable List<String> allowed,
        @Nullable Double conformity,
        Result result) {
    static Reading ofLength(
            Quantity quantity, double mm, double standardUncertaintyMm, Bound bound, double limitMm, double risk) {
        var marginMm = bound.margin(mm, limitMm);
        var conformity = Conformity.of(bound, marginMm, standardUncertaintyMm);
        return new Reading(
                quantity,
                mm,
                standardUncertaintyMm,
                bound,
                limitMm,
                marginMm,
                null,
                null,
                conformity,
                Conformity.result(conformity, risk));
    }

    /** A length that nobody measured. */
    static Reading notMeasured(Quantity quantity, Bound bound, double limitMm) {
        return new Reading(quantity, null, null, bound, limitMm, null, null, null, null, Result.UNCLEAR);
    }

    static Reading ofFact(Quantity quantity, @Nullable String seen, Bound bound, List<String> allowed, Result result) {
        return new Reading(quantity, null, null, bound, null, null, seen, allowed, null, result);
    }

    /** Whether this keeps its rule with more certainty than the other. */
    boolean isSurerThan(Reading other) {
        var byResult = result.compareTo(other.result);
        if (byResult != 0 || conformity == null || other.conformity == null) {
            return byResult < 0;
        }
        return conformity > other.conformity;
    }

    Reading onlySuspected() {
        return result == Result.NO
                ? new Reading(
                        quantity,
                        measuredMm,
                        standardUncertaintyMm,
                        bound,
                        limitMm,
                        marginMm,
                        seen,
                        allowed,
                        conformity,
                        Result.UNCLEAR)
                : this;
    }
}

package org.quarterlight.eligibility;

import org.apache.commons.numbers.gamma.Erfc;
import org.apache.commons.numbers.gamma.InverseErfc;

/** The probability that a rule is kept, from one measurement (JCGM 106:2012, 7.2 and 7.3: one limit, normal). */
final class Conformity {
    private static final double ROOT_OF_TWO = Math.sqrt(2);

    private Conformity() {}

    /** Φ(margin / u); without uncertainty the plain comparison, 0 or 1. */
    static double of(Bound bound, double marginMm, double standardUncertaintyMm) {
        if (standardUncertaintyMm == 0) {
            return bound.holdsAt(marginMm) ? 1 : 0;
        }
        return normal(marginMm / standardUncertaintyMm);
    }

    /** Yes and no are said only where the chance of being wrong is at most the accepted risk. */
    static Result result(double conformity, double acceptedRisk) {
        if (conformity >= 1 - acceptedRisk) {
            return Result.YES;
        }
        return conformity <= acceptedRisk ? Result.NO : Result.UNCLEAR;
    }

    /**
     * The largest standard uncertainty at which this margin decides: the margin's amount over the normal quantile of 1 − r
     * (JCGM 106:2012, 8.3, solved for u). 0 on the limit itself, and where no risk is accepted.
     */
    static double neededStandardUncertaintyMm(double marginMm, double acceptedRisk) {
        return acceptedRisk == 0 ? 0 : Math.abs(marginMm) / (ROOT_OF_TWO * InverseErfc.value(2 * acceptedRisk));
    }

    /** The standard normal distribution function; by erfc, which keeps small probabilities exact. */
    static double normal(double z) {
        return Erfc.value(-z / ROOT_OF_TWO) / 2;
    }
}

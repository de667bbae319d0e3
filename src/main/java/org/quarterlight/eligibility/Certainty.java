package org.quarterlight.eligibility;

/**
 * From which margin on, in standard uncertainties, a result is certain at one accepted risk: what {@link Conformity} says,
 * asked once instead of for each length. Next to where the result changes it is asked itself.
 */
final class Certainty {
    private static final double NEAR = 1e-9;

    private final double acceptedRisk;
    private final double yesFrom;
    private final double noUpTo;

    Certainty(double acceptedRisk) {
        this.acceptedRisk = acceptedRisk;
        yesFrom = turn(Result.YES);
        noUpTo = turn(Result.NO);
    }

    /** Where the result turns into this one or out of it, by halving. */
    private double turn(Result result) {
        var without = result == Result.YES ? -40.0 : 40.0;
        var with = -without;
        while (Math.abs(with - without) > NEAR / 10) {
            var middle = (with + without) / 2;
            if (Conformity.result(Conformity.normal(middle), acceptedRisk) == result) {
                with = middle;
            } else {
                without = middle;
            }
        }
        return with;
    }

    Result of(Bound bound, double marginMm, double standardUncertaintyMm) {
        if (standardUncertaintyMm == 0) {
            return bound.holdsAt(marginMm) ? Result.YES : Result.NO;
        }
        var z = marginMm / standardUncertaintyMm;
        if (z > yesFrom + NEAR) {
            return Result.YES;
        }
        if (z < noUpTo - NEAR) {
            return Result.NO;
        }
        return z < yesFrom - NEAR && z > noUpTo + NEAR
                ? Result.UNCLEAR
                : Conformity.result(Conformity.of(bound, marginMm, standardUncertaintyMm), acceptedRisk);
    }
}

package org.quarterlight.eligibility;

import java.util.Map;
import java.util.Set;
import org.quarterlight.glass.VehicleCategory;

/**
 * What an organisation decides for itself: the risk it accepts of being wrong (a probability, apart for safety and for
 * repair), how small a pit may be to be left alone, whether to replace what cannot be repaired although it may be
 * driven, for which categories a major grade stands the vehicle down, and the days each outcome leaves.
 */
public record Choices(
        double acceptedRiskForSafety,
        double acceptedRiskForRepair,
        double leaveAlonePitMm,
        boolean replaceWhatCannotBeRepaired,
        Set<VehicleCategory> majorStandsDownFor,
        Map<Outcome, Integer> daysByOutcome) {
    public Choices {
        if (!(acceptedRiskForSafety >= 0 && acceptedRiskForSafety < 0.5)
                || !(acceptedRiskForRepair >= 0 && acceptedRiskForRepair < 0.5)) {
            throw new IllegalArgumentException("an accepted risk is at least 0 and under 0.5");
        }
        if (!(leaveAlonePitMm >= 0)) {
            throw new IllegalArgumentException("a pit to be left alone has no negative size");
        }
        majorStandsDownFor = Set.copyOf(majorStandsDownFor);
        daysByOutcome = Map.copyOf(daysByOutcome);
        if (!daysByOutcome.keySet().containsAll(Set.of(Outcome.values()))) {
            throw new IllegalArgumentException("every outcome needs its days");
        }
    }

    /** Where an organisation starts. The figures are ours. */
    public static Choices standard() {
        return new Choices(
                0.05,
                0.05,
                3,
                false,
                Set.of(VehicleCategory.M2, VehicleCategory.M3),
                Map.of(
                        Outcome.STAND_DOWN, 0,
                        Outcome.REPLACE, 14,
                        Outcome.MEASURE_AGAIN, 3,
                        Outcome.REPAIR, 14,
                        Outcome.WATCH, 90));
    }

    double acceptedRisk(Question question) {
        return question == Question.ROADWORTHY ? acceptedRiskForSafety : acceptedRiskForRepair;
    }

    int days(Outcome outcome) {
        return daysByOutcome.getOrDefault(outcome, 0);
    }
}

package org.quarterlight.damage;

import java.time.Instant;
import java.time.ZoneId;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import org.quarterlight.eligibility.Growth;
import org.quarterlight.glass.DamageKind;
import org.quarterlight.glass.Measured;

/** How what was seen of one damage grew: a crack's length, else the overall diameter. */
record Trend(Growth growth) {
    /** @param seen oldest first */
    static Optional<Trend> of(List<Observation> seen) {
        if (seen.size() < 2) {
            return Optional.empty();
        }
        var crack = isCrack(seen);
        return Growth.of(seen.stream()
                        .map(each -> reading(each, crack))
                        .map(each ->
                                new Growth.Length(each.seenAt(), new Measured(each.mm(), each.standardUncertaintyMm())))
                        .toList())
                .map(Trend::new);
    }

    /** As it was called last. */
    static boolean isCrack(List<Observation> seen) {
        return !seen.isEmpty() && seen.getLast().kind() == DamageKind.CRACK;
    }

    static GrowthView.Reading reading(Observation seen, boolean crack) {
        var facts = seen.facts(false, ZoneId.of("UTC"));
        var length = crack
                ? Objects.requireNonNullElse(facts.longestLeg(), facts.overallDiameter())
                : facts.overallDiameter();
        return new GrowthView.Reading(seen.id(), seen.seenAt(), length.mm(), length.standardUncertaintyMm());
    }

    double expectedMm(Instant at) {
        return growth.mmAt(at);
    }

    /** The upper end of the interval. */
    double possibleMm(Instant at) {
        return growth.mmAt(at) + growth.halfIntervalMmAt(at);
    }
}

package org.quarterlight.eligibility;

import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
import java.util.Arrays;

/** A damage on its glass while it is judged; remembers its distances, for several rules ask for the same. */
final class Spot {
    final DamageFacts facts;
    final Place place;
    /** Days since it arose. */
    final int ageDays;

    private final double besideStandardUncertaintyMm;
    private final double[] distancesMm;

    Spot(DamageFacts facts, double outlineStandardUncertaintyMm, int areas, LocalDate on) {
        this.facts = facts.onGlassKnownTo(outlineStandardUncertaintyMm);
        besideStandardUncertaintyMm = facts.distanceStandardUncertaintyMm();
        ageDays = Math.toIntExact(Math.max(0, ChronoUnit.DAYS.between(facts.since(), on)));
        place = Place.of(facts.shape());
        distancesMm = new double[areas];
        Arrays.fill(distancesMm, Double.NaN);
    }

    double distanceMm(Area area) {
        var known = distancesMm[area.index()];
        if (Double.isNaN(known)) {
            known = area.signedDistanceMm(place);
            distancesMm[area.index()] = known;
        }
        return known;
    }

    double gapMm(Spot other) {
        return place.gapMm(other.place);
    }

    double gapStandardUncertaintyMm(Spot other) {
        return Math.hypot(besideStandardUncertaintyMm, other.besideStandardUncertaintyMm);
    }

    /** Of where it lies beside other damages, which is the same wherever the edge of the glass may be. */
    double besideStandardUncertaintyMm() {
        return besideStandardUncertaintyMm;
    }

    boolean isUnder(Rule rule) {
        return rule.speaksOf(facts.kind());
    }
}

package org.quarterlight.eligibility;

import static org.quarterlight.eligibility.Standing.DANGEROUS;
import static org.quarterlight.eligibility.Standing.MAJOR;
import static org.quarterlight.eligibility.Standing.MINOR;
import static org.quarterlight.eligibility.Standing.NONE;
import static org.quarterlight.eligibility.Standing.UNCLEAR;

import java.util.EnumSet;
import java.util.List;
import java.util.Set;
import org.quarterlight.glass.DamageKind;

/** One row of the table that turns answers into an outcome. The first row that fits decides. */
record Row(Set<Standing> roadworthy, Set<Result> repairable, Set<Standing> asRepaired, Also also, Outcome outcome) {
    private static final Set<Standing> ANY = EnumSet.allOf(Standing.class);
    private static final Set<Result> EITHER = EnumSet.allOf(Result.class);

    static final List<Row> TABLE = List.of(
            new Row(Set.of(DANGEROUS), EITHER, ANY, Also.ALWAYS, Outcome.STAND_DOWN),
            new Row(Set.of(UNCLEAR), EITHER, ANY, Also.ALWAYS, Outcome.MEASURE_AGAIN),
            new Row(Set.of(MAJOR), Set.of(Result.NO), ANY, Also.ALWAYS, Outcome.REPLACE),
            new Row(Set.of(MAJOR), EITHER, Set.of(MAJOR, DANGEROUS), Also.ALWAYS, Outcome.REPLACE),
            new Row(
                    Set.of(MAJOR),
                    Set.of(Result.UNCLEAR),
                    Set.of(NONE, MINOR, UNCLEAR),
                    Also.ALWAYS,
                    Outcome.MEASURE_AGAIN),
            new Row(Set.of(MAJOR), Set.of(Result.YES), Set.of(NONE, MINOR), Also.ALWAYS, Outcome.REPAIR),
            new Row(Set.of(MAJOR), Set.of(Result.YES), Set.of(UNCLEAR), Also.ALWAYS, Outcome.MEASURE_AGAIN),
            new Row(Set.of(NONE, MINOR), Set.of(Result.YES), ANY, Also.SMALL_ENOUGH_TO_LEAVE_ALONE, Outcome.WATCH),
            new Row(Set.of(NONE, MINOR), Set.of(Result.YES), ANY, Also.ALWAYS, Outcome.REPAIR),
            new Row(Set.of(NONE, MINOR), Set.of(Result.UNCLEAR), ANY, Also.ALWAYS, Outcome.MEASURE_AGAIN),
            new Row(Set.of(NONE, MINOR), Set.of(Result.NO), ANY, Also.CRACK_OR_CHOSEN, Outcome.REPLACE),
            new Row(Set.of(NONE, MINOR), Set.of(Result.NO), ANY, Also.ALWAYS, Outcome.WATCH));

    /** The row that decides, counted from 0. */
    static int deciding(
            Standing roadworthy, Result repairable, Standing asRepaired, DamageFacts facts, Choices choices) {
        for (var i = 0; i < TABLE.size(); i++) {
            if (TABLE.get(i).fits(roadworthy, repairable, asRepaired, facts, choices)) {
                return i;
            }
        }
        throw new IllegalStateException("no row for " + roadworthy + ", " + repairable + ", " + asRepaired);
    }

    private boolean fits(Standing road, Result repair, Standing repaired, DamageFacts facts, Choices choices) {
        return roadworthy.contains(road)
                && repairable.contains(repair)
                && asRepaired.contains(repaired)
                && also.holds(facts, choices);
    }

    /** What a row asks besides the answers. */
    enum Also {
        ALWAYS,
        SMALL_ENOUGH_TO_LEAVE_ALONE,
        CRACK_OR_CHOSEN;

        boolean holds(DamageFacts facts, Choices choices) {
            return switch (this) {
                case ALWAYS -> true;
                case SMALL_ENOUGH_TO_LEAVE_ALONE ->
                    facts.kind() == DamageKind.PIT && facts.overallDiameter().mm() <= choices.leaveAlonePitMm();
                case CRACK_OR_CHOSEN -> facts.kind() == DamageKind.CRACK || choices.replaceWhatCannotBeRepaired();
            };
        }
    }
}

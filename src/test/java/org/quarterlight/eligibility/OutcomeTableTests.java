package org.quarterlight.eligibility;

import static org.assertj.core.api.Assertions.assertThat;
import static org.quarterlight.eligibility.Cases.damage;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.quarterlight.glass.DamageKind;

class OutcomeTableTests {
    private record Combination(
            Standing road,
            Result repair,
            Standing repaired,
            DamageKind kind,
            double diameterMm,
            boolean replaceChosen) {}

    static Stream<Combination> combinations() {
        var all = new ArrayList<Combination>();
        for (var road : Standing.values()) {
            for (var repair : Result.values()) {
                for (var repaired : Standing.values()) {
                    for (var kind : DamageKind.values()) {
                        for (var diameterMm : List.of(3.0, 3.01)) {
                            all.add(new Combination(road, repair, repaired, kind, diameterMm, false));
                            all.add(new Combination(road, repair, repaired, kind, diameterMm, true));
                        }
                    }
                }
            }
        }
        return all.stream();
    }

    @Test
    void hasARowForEveryCombinationOfAnswersAndUsesEveryRow() {
        var used = new HashSet<Integer>();
        combinations().forEach(combination -> {
            var row = row(combination);
            used.add(row);
            assertThat(Row.TABLE.get(row).outcome()).as(combination.toString()).isEqualTo(expected(combination));
        });
        assertThat(used).hasSize(12).hasSameSizeAs(Row.TABLE);
    }

    private static int row(Combination combination) {
        var standard = Choices.standard();
        var choices = new Choices(
                0.05, 0.05, 3, combination.replaceChosen(), standard.majorStandsDownFor(), standard.daysByOutcome());
        var facts = damage(combination.kind(), 0, 300, combination.diameterMm()).facts();
        return Row.deciding(combination.road(), combination.repair(), combination.repaired(), facts, choices);
    }

    /** The same in other words: first what the road says, then what a repair would bring. */
    private static Outcome expected(Combination c) {
        return switch (c.road()) {
            case DANGEROUS -> Outcome.STAND_DOWN;
            case UNCLEAR -> Outcome.MEASURE_AGAIN;
            case MAJOR -> {
                var stillFails = c.repaired() == Standing.MAJOR || c.repaired() == Standing.DANGEROUS;
                if (c.repair() == Result.NO || stillFails) {
                    yield Outcome.REPLACE;
                }
                yield c.repair() == Result.YES && c.repaired() != Standing.UNCLEAR
                        ? Outcome.REPAIR
                        : Outcome.MEASURE_AGAIN;
            }
            case NONE, MINOR ->
                switch (c.repair()) {
                    case YES -> c.kind() == DamageKind.PIT && c.diameterMm() <= 3 ? Outcome.WATCH : Outcome.REPAIR;
                    case UNCLEAR -> Outcome.MEASURE_AGAIN;
                    case NO -> c.kind() == DamageKind.CRACK || c.replaceChosen() ? Outcome.REPLACE : Outcome.WATCH;
                };
        };
    }

    private record Example(
            int row, Standing road, Result repair, Standing repaired, DamageKind kind, Outcome outcome) {}

    /** One line for each row as the design page prints them, counted from 1. */
    static Stream<Example> rows() {
        return Stream.of(
                new Example(
                        1, Standing.DANGEROUS, Result.YES, Standing.NONE, DamageKind.STAR_BREAK, Outcome.STAND_DOWN),
                new Example(2, Standing.UNCLEAR, Result.NO, Standing.MAJOR, DamageKind.CRACK, Outcome.MEASURE_AGAIN),
                new Example(3, Standing.MAJOR, Result.NO, Standing.NONE, DamageKind.STAR_BREAK, Outcome.REPLACE),
                new Example(4, Standing.MAJOR, Result.UNCLEAR, Standing.MAJOR, DamageKind.PIT, Outcome.REPLACE),
                new Example(5, Standing.MAJOR, Result.UNCLEAR, Standing.NONE, DamageKind.PIT, Outcome.MEASURE_AGAIN),
                new Example(6, Standing.MAJOR, Result.YES, Standing.MINOR, DamageKind.PIT, Outcome.REPAIR),
                new Example(7, Standing.MAJOR, Result.YES, Standing.UNCLEAR, DamageKind.PIT, Outcome.MEASURE_AGAIN),
                new Example(8, Standing.MINOR, Result.YES, Standing.NONE, DamageKind.PIT, Outcome.WATCH),
                new Example(9, Standing.MINOR, Result.YES, Standing.NONE, DamageKind.STAR_BREAK, Outcome.REPAIR),
                new Example(10, Standing.NONE, Result.UNCLEAR, Standing.NONE, DamageKind.PIT, Outcome.MEASURE_AGAIN),
                new Example(11, Standing.MINOR, Result.NO, Standing.NONE, DamageKind.CRACK, Outcome.REPLACE),
                new Example(12, Standing.MINOR, Result.NO, Standing.NONE, DamageKind.STAR_BREAK, Outcome.WATCH));
    }

    @ParameterizedTest(name = "{0}")
    @MethodSource("rows")
    void decidesByTheFirstRowThatFits(Example example) {
        var row = row(new Combination(example.road(), example.repair(), example.repaired(), example.kind(), 3, false));
        assertThat(row + 1).isEqualTo(example.row());
        assertThat(Row.TABLE.get(row).outcome()).isEqualTo(example.outcome());
    }
}

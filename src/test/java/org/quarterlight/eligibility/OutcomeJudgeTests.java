package org.quarterlight.eligibility;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Objects;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.locationtech.jts.geom.Coordinate;
import org.quarterlight.glass.DamageKind;
import org.quarterlight.glass.DamageShape;
import org.quarterlight.glass.SteeringSide;
import org.quarterlight.glass.VehicleCategory;

/** Outcomes found quickly are those of the full judgement. */
class OutcomeJudgeTests {
    private static final int GLASSES = 100;
    private static final int ON_EACH = 100;

    @ParameterizedTest(name = "seed {0}")
    @ValueSource(longs = {20261125, 4})
    void isTheSameAsTheFullJudgementOnDamagesOfEveryKind(long seed) {
        var random = new Random(seed);
        for (var i = 0; i < GLASSES; i++) {
            var glazing = anyGlazing(random);
            var sheets = some(random);
            var choices = anyChoices(random);
            var full = Eligibility.on(glazing, sheets, choices);
            var quick = OutcomeJudge.on(glazing, sheets, choices);
            for (var j = 0; j < ON_EACH; ) {
                var damages = onOneGlass(random, glazing);
                var verdicts = full.judge(damages, Cases.NOW);
                var outcomes = quick.outcomes(damages, Cases.NOW);
                assertThat(outcomes.keySet()).isEqualTo(verdicts.keySet());
                for (var facts : damages) {
                    if (!facts.finishedRepair()) {
                        assertThat(outcomes.get(facts.damage()))
                                .as("seed %d, glass %d, %s by %s", seed, i, damages, sheets)
                                .isEqualTo(Objects.requireNonNull(verdicts.get(facts.damage()))
                                        .outcome());
                    }
                }
                j += damages.size();
            }
        }
    }

    @Test
    void agreesWhereALengthLiesExactlyAtALimitOrAWidthBesideIt() {
        var sheets = List.of(Cases.sheet("common-practice-roadworthiness"), Cases.sheet("bs-au-242b-2022"));
        var full = Eligibility.on(Cases.car(), sheets, Choices.standard());
        var quick = OutcomeJudge.on(Cases.car(), sheets, Choices.standard());
        for (var x = -560.0; x <= -130; x += 0.5) {
            for (var diameter : new double[] {19.999999999, 20, 20.000000001, 40, 40.000000001}) {
                for (var uncertainty : new double[] {0, 0.3, 3}) {
                    var damages = List.of(Cases.damage(DamageKind.STAR_BREAK, x, 420, diameter)
                            .uncertain(uncertainty, uncertainty)
                            .facts());
                    assertThat(quick.outcomes(damages, Cases.NOW).values())
                            .containsExactlyElementsOf(full.judge(damages, Cases.NOW).values().stream()
                                    .map(Verdict::outcome)
                                    .toList());
                }
            }
        }
    }

    @Test
    void aCertaintyIsWhatTheConformitySaysAtAndAroundItsTurns() {
        for (var risk : new double[] {0, 0.001, 0.05, 0.3, 0.49}) {
            var certainty = new Certainty(risk);
            for (var z = -9.0; z <= 9; z += 0.001) {
                assertThat(certainty.of(Bound.AT_MOST, z, 1))
                        .as("risk %f at %f", risk, z)
                        .isEqualTo(Conformity.result(Conformity.normal(z), risk));
            }
        }
    }

    static Choices anyChoices(Random random) {
        var standard = Choices.standard();
        return new Choices(
                random.nextInt(4) == 0 ? 0 : random.nextDouble(0.3),
                random.nextInt(4) == 0 ? 0 : random.nextDouble(0.3),
                3,
                random.nextBoolean(),
                standard.majorStandsDownFor(),
                standard.daysByOutcome());
    }

    static Glazing anyGlazing(Random random) {
        var categories = VehicleCategory.values();
        var category = categories[random.nextInt(categories.length)];
        var massKg = random.nextDouble(1500, 20000);
        return random.nextInt(4) == 0
                ? Cases.glazing(category, massKg)
                : Cases.generic(category, SteeringSide.values()[random.nextInt(2)], massKg);
    }

    static List<Sheet> some(Random random) {
        var sheets = new ArrayList<>(Sheets.shipped());
        Collections.shuffle(sheets, random);
        return List.copyOf(sheets.subList(0, 1 + random.nextInt(6)));
    }

    static List<DamageFacts> onOneGlass(Random random, Glazing glazing) {
        var damages = new ArrayList<DamageFacts>();
        var many = random.nextInt(4) == 0 ? 1 + random.nextInt(4) : 1;
        for (var number = 0; number < many; number++) {
            damages.add(any(random, glazing, number));
        }
        return damages;
    }

    static DamageFacts any(Random random, Glazing glazing, int number) {
        var kinds = DamageKind.values();
        var glass = glazing.pattern().outline().getEnvelopeInternal();
        var x = random.nextDouble(glass.getMinX(), glass.getMaxX());
        var y = random.nextDouble(glass.getMinY(), glass.getMaxY());
        var kind = kinds[random.nextInt(kinds.length)];
        var diameter = kind == DamageKind.CRACK ? random.nextDouble(20, 400) : random.nextDouble(1, 60);
        var damage = Cases.damage(kind, x, y, diameter)
                .numbered(number)
                .uncertain(
                        random.nextInt(3) == 0 ? 0 : random.nextDouble(3),
                        random.nextInt(3) == 0 ? 0 : random.nextDouble(8))
                .pit(random.nextBoolean() ? null : (Double) random.nextDouble(8))
                .leg(random.nextBoolean() ? null : (Double) random.nextDouble(diameter))
                .layers(random.nextInt(8) == 0 ? null : random.nextInt(8) == 0 ? Layers.THROUGH : Layers.OUTER)
                .condition(
                        random.nextInt(8) == 0 ? null : random.nextInt(8) == 0 ? Condition.WET : Condition.CLEAN_DRY);
        if (random.nextInt(10) == 0) {
            damage.found(Grade.values()[random.nextInt(Grade.values().length)]);
        }
        if (random.nextInt(12) == 0 && number > 0) {
            damage.repaired();
        }
        if (kind == DamageKind.CRACK && random.nextInt(3) == 0) {
            return damage.shaped(DamageShape.crack(
                            new Coordinate(x, y),
                            new Coordinate(
                                    Math.clamp(x + random.nextDouble(-300, 300), glass.getMinX(), glass.getMaxX()),
                                    Math.clamp(y + random.nextDouble(-300, 300), glass.getMinY(), glass.getMaxY()))))
                    .facts();
        }
        return damage.facts();
    }
}

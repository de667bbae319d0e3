package org.quarterlight.eligibility;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.quarterlight.eligibility.Cases.damage;
import static org.quarterlight.eligibility.Cases.sheet;

import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.quarterlight.glass.DamageKind;
import org.quarterlight.glass.GlassPattern;
import org.quarterlight.glass.OutlineCorner;
import org.quarterlight.glass.TracedOutline;

/** The plain glass of {@link Cases}, its outline traced instead of measured by a tape. */
class TracedGlassTests {
    private static final List<OutlineCorner> RECTANGLE = List.of(
            new OutlineCorner(-800, 0),
            new OutlineCorner(800, 0),
            new OutlineCorner(800, 800),
            new OutlineCorner(-800, 800));

    private static Glazing traced(double standardUncertaintyMm) {
        var car = Cases.car();
        return new Glazing(
                GlassPattern.of(
                        car.pattern().measurements().traced(new TracedOutline(RECTANGLE, standardUncertaintyMm))),
                car.reference(),
                car.vehicle());
    }

    @Test
    void isJudgedAsTheSameGlassMeasuredByATape() {
        var random = new Random(11);
        var sheets = new Sheet[] {
            sheet("common-practice-repair"), sheet("common-practice-roadworthiness"), sheet("bs-au-242b-2022")
        };
        for (var i = 0; i < 200; i++) {
            var facts = damage(
                            DamageKind.STAR_BREAK,
                            random.nextDouble(-790, 790),
                            random.nextDouble(10, 790),
                            random.nextDouble(3, 40))
                    .uncertain(0.5, 2)
                    .pit(3.0)
                    .facts();
            assertThat(Cases.judge(traced(0), facts, sheets)).isEqualTo(Cases.judge(Cases.car(), facts, sheets));
        }
    }

    @Test
    void mayBeRepairedWhereTheSameRulesAllow() { // common practice, no source: 100 mm, 290 mm, 20 mm
        var permitted = Eligibility.permitted(
                        traced(9), DamageKind.BULLSEYE, 20, List.of(), List.of(sheet("common-practice-repair")))
                .places();
        // 110 mm off each edge, without the band within the swept area, 10 mm wider on each side.
        assertThat(permitted.getArea()).isCloseTo(1380.0 * 580 - (290 + 20) * (690.0 - 110), within(1.0));
    }

    @Test
    void whatIsReadToItsEdgeHasTheDoubtOfTheTraceToo() {
        var facts = damage(DamageKind.BULLSEYE, 300, 130, 20).uncertain(0, 3).facts();
        var finding = Cases.judge(traced(4), facts, sheet("common-practice-repair")).findings().stream()
                .filter(each -> each.quantity() == Quantity.DISTANCE_TO_EDGE)
                .findFirst()
                .orElseThrow();
        assertThat(finding.measuredMm()).isEqualTo(120.0);
        assertThat(finding.standardUncertaintyMm()).isEqualTo(5.0);
    }

    @Test
    void outcomesAloneAgreeWithTheVerdict() {
        var random = new Random(12);
        var glazing = traced(6);
        var sheets = List.of(sheet("common-practice-repair"), sheet("common-practice-roadworthiness"));
        var judge = OutcomeJudge.on(glazing, sheets, Choices.standard());
        for (var i = 0; i < 500; i++) {
            var facts = damage(
                            DamageKind.BULLSEYE,
                            random.nextDouble(-790, 790),
                            random.nextDouble(10, 790),
                            random.nextDouble(3, 25))
                    .uncertain(0.5, 2)
                    .facts();
            var verdicts = Eligibility.judge(glazing, List.of(facts), sheets, Choices.standard(), Cases.NOW);
            assertThat(judge.outcomes(List.of(facts), Cases.NOW).values())
                    .containsExactly(verdicts.values().iterator().next().outcome());
        }
    }
}

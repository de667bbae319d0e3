package org.quarterlight.eligibility;

import static java.util.Objects.requireNonNull;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.quarterlight.eligibility.Cases.car;
import static org.quarterlight.eligibility.Cases.damage;
import static org.quarterlight.eligibility.Cases.glazing;
import static org.quarterlight.eligibility.Cases.judge;
import static org.quarterlight.eligibility.Cases.judgeAll;
import static org.quarterlight.eligibility.Cases.sheet;

import java.util.List;
import java.util.Map;
import java.util.Set;
import org.junit.jupiter.api.Test;
import org.locationtech.jts.geom.Coordinate;
import org.quarterlight.glass.DamageKind;
import org.quarterlight.glass.DamageShape;
import org.quarterlight.glass.VehicleCategory;

class EligibilityTests {
    private static final Sheet UK_CARS = sheet("uk-cars-roadworthiness");
    private static final Sheet UK_HEAVY = sheet("uk-goods-and-passenger-roadworthiness");
    private static final Sheet BRITISH_REPAIR = sheet("bs-au-242b-2022");
    private static final Sheet ROAD = sheet("common-practice-roadworthiness");
    private static final Sheet REPAIR = sheet("common-practice-repair");

    @Test
    void replacesWhatMayBeRepairedAndWouldStillFailTheRoadTest() {
        var verdict =
                judge(car(), damage(DamageKind.BULLSEYE, Cases.WHEEL_X, 300, 15).facts(), UK_CARS, BRITISH_REPAIR);
        assertThat(verdict.answers().roadworthy()).isEqualTo(new Answer(Result.NO, Grade.MAJOR, null));
        assertThat(verdict.answers().repairable().result()).isEqualTo(Result.YES);
        assertThat(verdict.answers().asRepaired().grade()).isEqualTo(Grade.MAJOR);
        assertThat(verdict.outcome()).isEqualTo(Outcome.REPLACE);
        assertThat(verdict.sentence())
                .isEqualTo("A repair would not help: it is 15 mm across, at most 10 mm is allowed in the driver's zone,"
                        + " and a repair counts too.");
    }

    @Test
    void repairsTheStarOfTheDesignAndSaysHowCloseItLies() {
        var coach = glazing(VehicleCategory.M3, 18000.0);
        var star = damage(DamageKind.STAR_BREAK, Cases.WHEEL_X + 250 + 4.2 + 12.3, 300, 24.6)
                .uncertain(0.5, 0.65)
                .pit(3.1)
                .leg(12.1)
                .facts();
        var verdict = judge(coach, star, UK_HEAVY, BRITISH_REPAIR);
        assertThat(verdict.outcome()).isEqualTo(Outcome.REPAIR);
        assertThat(verdict.sentence()).isEqualTo("All rules allow it. It lies 4 mm from the driver's zone.");
        assertThat(verdict.by()).isEqualTo(Cases.TODAY.plusDays(14));
        assertThat(verdict.answers().roadworthy().grade()).isEqualTo(Grade.MINOR);
        assertThat(verdict.answers().asRepaired().grade()).isEqualTo(Grade.NONE);
        assertThat(verdict.nearestLimit()).hasValueSatisfying(near -> {
            assertThat(near.quantity()).isEqualTo(Quantity.DISTANCE_TO_ZONE);
            assertThat(near.marginMm()).isCloseTo(4.2, within(1e-9));
            assertThat(near.standardUncertaintyMm()).isCloseTo(Math.hypot(0.65, 0.25), within(1e-12));
        });
        assertThat(verdict.findings())
                .filteredOn(finding -> finding.question() == Question.REPAIRABLE)
                .extracting(Finding::rule)
                .containsExactly("size-in-drivers-zone", "size-outside-drivers-zone", "outside-camera-area", "layers");
    }

    @Test
    void putsARepairOfWhatFailsOnTheRoadFirstInLine() {
        var forgetful = Cases.edited(
                "uk-cars-roadworthiness", "\"countsFinishedRepairs\": true", "\"countsFinishedRepairs\": false");
        var verdict =
                judge(car(), damage(DamageKind.BULLSEYE, Cases.WHEEL_X, 300, 15).facts(), forgetful, BRITISH_REPAIR);
        assertThat(verdict.outcome()).isEqualTo(Outcome.REPAIR);
        assertThat(verdict.firstInLine()).isTrue();
        assertThat(verdict.sentence()).contains("15 mm across").contains("first in line");
    }

    @Test
    void standsTheVehicleDownWhenTheInnerLayerIsBrokenInTheSweptArea() {
        var verdict = judge(
                car(),
                damage(DamageKind.STAR_BREAK, 200, 300, 15)
                        .layers(Layers.THROUGH)
                        .facts(),
                ROAD,
                REPAIR);
        assertThat(verdict.outcome()).isEqualTo(Outcome.STAND_DOWN);
        assertThat(verdict.sentence()).isEqualTo("It must not be driven: the interlayer or the inner glass is broken.");
        assertThat(Eligibility.forDriver(verdict, VehicleCategory.M1, Choices.standard()))
                .startsWith("Do not drive on.");
    }

    @Test
    void tellsTheDriverNotToDriveOnWhereItMayBeDangerous() {
        var unseen = damage(DamageKind.STAR_BREAK, 200, 300, 15).layers(null).facts();
        var verdict = judge(car(), unseen, ROAD, REPAIR);
        assertThat(verdict.outcome()).isEqualTo(Outcome.MEASURE_AGAIN);
        assertThat(verdict.answers().roadworthy()).isEqualTo(new Answer(Result.UNCLEAR, Grade.MINOR, Grade.DANGEROUS));
        assertThat(Eligibility.forDriver(verdict, VehicleCategory.M1, Choices.standard()))
                .isEqualTo("Do not drive on until somebody has measured it. It may be dangerous.");
    }

    @Test
    void letsACrackDrawnFromSideToSideOfTheDriversZoneStandTheVehicleDown() {
        var across = Cases.crack(-520, 300, -180, 330);
        var upAndDown = Cases.crack(-350, 40, -340, 800);
        var half = Cases.crack(-520, 300, -300, 330);
        assertThat(judge(car(), across, ROAD, REPAIR).outcome()).isEqualTo(Outcome.STAND_DOWN);
        assertThat(judge(car(), upAndDown, ROAD, REPAIR).outcome()).isEqualTo(Outcome.STAND_DOWN);
        assertThat(judge(car(), half, ROAD, REPAIR).outcome()).isEqualTo(Outcome.REPLACE);
    }

    @Test
    void knowsThatACrackLiesInAZoneThatNoneOfItsEndsLiesIn() {
        var across = damage(DamageKind.CRACK, -350, 315, 341)
                .uncertain(0, 10)
                .shaped(DamageShape.crack(new Coordinate(-520, 300), new Coordinate(-180, 330)))
                .facts();
        assertThat(judge(car(), across, UK_CARS, REPAIR).findings())
                .filteredOn(finding -> finding.rule().equals("outside-drivers-zone"))
                .singleElement()
                .satisfies(finding -> {
                    assertThat(finding.result()).isEqualTo(Result.NO);
                    assertThat(finding.measuredMm()).isCloseTo(-145, within(2.5));
                });
    }

    @Test
    void asksToMeasureALongCrackWhoseCourseNobodyDrew() {
        var verdict = judge(car(), damage(DamageKind.CRACK, -350, 300, 400).facts(), ROAD, REPAIR);
        assertThat(verdict.outcome()).isEqualTo(Outcome.MEASURE_AGAIN);
        assertThat(verdict.sentence())
                .isEqualTo("Not sure enough for the road: the crack may cross the driver's zone. Draw how the crack"
                        + " runs.");
    }

    @Test
    void letsAnInspectorMakeAGradeWorseAndNeverBetter() {
        var small = damage(DamageKind.BULLSEYE, Cases.WHEEL_X, 300, 8);
        assertThat(judge(car(), small.found(Grade.DANGEROUS).facts(), UK_CARS, BRITISH_REPAIR)
                        .outcome())
                .isEqualTo(Outcome.STAND_DOWN);
        var raised = judge(car(), small.found(Grade.MAJOR).facts(), UK_CARS, BRITISH_REPAIR);
        assertThat(raised.outcome()).isEqualTo(Outcome.REPAIR);
        assertThat(raised.findings().getFirst().rule()).isEqualTo("inspectors-finding");
        var large = damage(DamageKind.BULLSEYE, Cases.WHEEL_X, 300, 15).found(Grade.MINOR);
        assertThat(judge(car(), large.facts(), UK_CARS, BRITISH_REPAIR)
                        .answers()
                        .roadworthy()
                        .grade())
                .isEqualTo(Grade.MAJOR);
    }

    @Test
    void countsDoubtOnlyWhereItCouldMakeACertainGradeWorse() {
        // Sure to be major by its size, and perhaps outside the swept area, where it would be minor or nothing.
        var major = damage(DamageKind.BULLSEYE, 300, 300, 60).uncertain(0.3, 1);
        assertThat(judge(car(), major.facts(), UK_CARS, BRITISH_REPAIR)
                        .answers()
                        .roadworthy())
                .isEqualTo(new Answer(Result.NO, Grade.MAJOR, null));
        // Unsure whether it reaches the swept area at all: minor at the worst, so it may be driven.
        var border = damage(DamageKind.BULLSEYE, 300, 45, 10).uncertain(0.3, 1);
        var verdict = judge(car(), border.facts(), UK_CARS, BRITISH_REPAIR);
        assertThat(verdict.findings())
                .filteredOn(finding -> finding.rule().equals("outside-swept-area"))
                .extracting(Finding::result)
                .containsExactly(Result.UNCLEAR);
        assertThat(verdict.answers().roadworthy()).isEqualTo(new Answer(Result.YES, Grade.MINOR, null));
        // A sure major beside a possible danger is unclear.
        var danger = damage(DamageKind.BULLSEYE, 300, 300, 60).layers(null);
        assertThat(judge(car(), danger.facts(), UK_CARS, ROAD, BRITISH_REPAIR)
                        .answers()
                        .roadworthy())
                .isEqualTo(new Answer(Result.UNCLEAR, Grade.MAJOR, Grade.DANGEROUS));
    }

    @Test
    void measuresAgainWhatLiesTooCloseToItsLimit() {
        var verdict = judge(
                car(),
                damage(DamageKind.BULLSEYE, 300, 300, 19.8).uncertain(0.3, 1).facts(),
                UK_CARS,
                REPAIR);
        assertThat(verdict.outcome()).isEqualTo(Outcome.MEASURE_AGAIN);
        assertThat(verdict.sentence())
                .isEqualTo("Not sure enough for a repair: it is 19.8 ± 0.3 mm across against at most 20 mm."
                        + " Measure its size to ± 0.1 mm or better.");
        var measure = requireNonNull(verdict.measure()).getFirst();
        assertThat(measure.quantity()).isEqualTo(Quantity.OVERALL_DIAMETER);
        assertThat(measure.neededStandardUncertaintyMm())
                .as("0.2 mm of margin over the 95 % quantile, 1.6449")
                .isCloseTo(0.2 / 1.6448536269514722, within(1e-12));
        assertThat(measureWith(19.8, 0.1215).outcome()).isEqualTo(Outcome.REPAIR);
        assertThat(measureWith(19.8, 0.1217).outcome()).isEqualTo(Outcome.MEASURE_AGAIN);
    }

    @Test
    void leavesASmallPitAlone() {
        var verdict = judge(car(), damage(DamageKind.PIT, 300, 300, 3).facts(), UK_CARS, REPAIR);
        assertThat(verdict.outcome()).isEqualTo(Outcome.WATCH);
        assertThat(judge(car(), damage(DamageKind.PIT, 300, 300, 3.01).facts(), UK_CARS, REPAIR)
                        .outcome())
                .isEqualTo(Outcome.REPAIR);
    }

    @Test
    void measuresNeighboursByOneCircle() {
        var pits = List.of(
                damage(DamageKind.PIT, Cases.WHEEL_X, 300, 4).numbered(1).facts(),
                damage(DamageKind.PIT, Cases.WHEEL_X + 8, 300, 4).numbered(2).facts());
        var verdict = judgeAll(car(), pits, UK_CARS, BRITISH_REPAIR);
        assertThat(verdict.answers().roadworthy().grade()).isEqualTo(Grade.MAJOR);
        assertThat(verdict.findings().getFirst().measuredMm()).isEqualTo(12);
        var apart = List.of(
                pits.getFirst(),
                damage(DamageKind.PIT, Cases.WHEEL_X + 14.1, 300, 4).numbered(2).facts());
        assertThat(judgeAll(car(), apart, UK_CARS, BRITISH_REPAIR)
                        .answers()
                        .roadworthy()
                        .grade())
                .isEqualTo(Grade.MINOR);
    }

    @Test
    void countsAnEarlierRepairAsDamageWhereTheSheetSaysSo() {
        var both = List.of(
                damage(DamageKind.PIT, Cases.WHEEL_X, 300, 4).numbered(1).facts(),
                damage(DamageKind.PIT, Cases.WHEEL_X + 8, 300, 4)
                        .numbered(2)
                        .repaired()
                        .facts());
        var verdicts = Eligibility.judge(car(), both, List.of(UK_CARS, BRITISH_REPAIR), Choices.standard(), Cases.NOW);
        assertThat(verdicts).hasSize(1);
        assertThat(verdicts.values().iterator().next().answers().roadworthy().grade())
                .isEqualTo(Grade.MAJOR);
        var american = List.of(
                damage(DamageKind.STAR_BREAK, 300, 300, 10).numbered(1).facts(),
                damage(DamageKind.STAR_BREAK, 340, 300, 10)
                        .numbered(2)
                        .repaired()
                        .facts());
        var truck = glazing(VehicleCategory.N3, null);
        assertThat(judgeAll(truck, american, sheet("us-49-cfr-393-60"), REPAIR)
                        .answers()
                        .roadworthy()
                        .grade())
                .isEqualTo(Grade.NONE);
    }

    @Test
    void suspectsWhereTheKindIsNotSure() {
        var truck = glazing(VehicleCategory.N3, null);
        var verdict =
                judge(truck, damage(DamageKind.NOT_SURE, 300, 300, 30).facts(), sheet("us-49-cfr-393-60"), REPAIR);
        assertThat(verdict.answers().roadworthy()) // 30 mm is too much for a star, and nothing for a lone crack
                .isEqualTo(new Answer(Result.UNCLEAR, Grade.NONE, Grade.MAJOR));
    }

    private static Verdict measureWith(double mm, double uncertaintyMm) {
        return judge(
                car(),
                damage(DamageKind.BULLSEYE, 300, 300, mm)
                        .uncertain(uncertaintyMm, 0)
                        .facts(),
                UK_CARS,
                REPAIR);
    }

    @Test
    void saysThatNothingDecidesWhatLiesOnTheLimit() {
        var verdict = measureWith(20, 0.3);
        assertThat(verdict.sentence()).endsWith("That lies on the limit, so no measurement decides it.");
        var measure = requireNonNull(verdict.measure()).getFirst();
        assertThat(measure.onTheLimit()).isTrue();
        assertThat(measure.neededStandardUncertaintyMm()).isNull();
        assertThat(measureWith(19.99, 0.3).sentence())
                .endsWith("That lies so close to the limit that no gauge decides it.");
        assertThat(measureWith(15, 0.3).measure()).isNull();
    }

    @Test
    void asksWithTheRiskOfItsOwnQuestion() { // 20 ∓ z × 0.3: repair at 5 % and at 30 %
        var facts =
                damage(DamageKind.BULLSEYE, 300, 300, 19.8).uncertain(0.3, 0).facts();
        var careful = Choices.standard();
        var bold = new Choices(
                careful.acceptedRiskForSafety(),
                0.3,
                careful.leaveAlonePitMm(),
                careful.replaceWhatCannotBeRepaired(),
                careful.majorStandsDownFor(),
                careful.daysByOutcome());
        var verdict = requireNonNull(Eligibility.judge(car(), List.of(facts), List.of(UK_CARS, REPAIR), bold, Cases.NOW)
                .get(facts.damage()));
        assertThat(verdict.answers().repairable().result()).isEqualTo(Result.YES);
        var boldOnTheRoad = new Choices(
                0.3,
                careful.acceptedRiskForRepair(),
                careful.leaveAlonePitMm(),
                careful.replaceWhatCannotBeRepaired(),
                careful.majorStandsDownFor(),
                careful.daysByOutcome());
        var other = requireNonNull(
                Eligibility.judge(car(), List.of(facts), List.of(UK_CARS, REPAIR), boldOnTheRoad, Cases.NOW)
                        .get(facts.damage()));
        assertThat(other.answers().repairable().result()).isEqualTo(Result.UNCLEAR);
    }

    @Test
    void knowsAPitNobodyMeasuredByTheWholeThatHoldsIt() {
        var german = sheet("de-repair-1986");
        var small = judge(car(), damage(DamageKind.BULLSEYE, 300, 300, 5).facts(), ROAD, german);
        assertThat(small.answers().repairable().result()).isEqualTo(Result.YES);
        var larger = judge(car(), damage(DamageKind.BULLSEYE, 300, 300, 12).facts(), ROAD, german);
        assertThat(larger.answers().repairable().result()).isEqualTo(Result.UNCLEAR);
        assertThat(larger.sentence())
                .isEqualTo("Not sure enough for a repair: the pit was not measured. Measure its pit.");
    }

    @Test
    void standsDownCoachesAtMajorUntilTheOrganisationChoosesOtherwise() {
        var coach = glazing(VehicleCategory.M3, 18000.0);
        var verdict =
                judge(coach, damage(DamageKind.BULLSEYE, Cases.WHEEL_X, 300, 15).facts(), UK_HEAVY, REPAIR);
        assertThat(verdict.outcome()).isEqualTo(Outcome.REPLACE);
        assertThat(verdict.sentence()).endsWith("The vehicle must not be driven until somebody clears it.");
        assertThat(Eligibility.standsDown(verdict, VehicleCategory.M3, Choices.standard()))
                .isTrue();
        assertThat(Eligibility.standsDown(verdict, VehicleCategory.N3, Choices.standard()))
                .isFalse();
        var never =
                new Choices(0.05, 0.05, 3, false, Set.of(), Choices.standard().daysByOutcome());
        assertThat(Eligibility.standsDown(verdict, VehicleCategory.M3, never)).isFalse();
    }

    @Test
    void saysGenericGlassWhereNobodyHasDrawnTheVehiclesOwn() {
        var generic = new Glazing(
                Cases.pattern(),
                new PatternReference("generic-car", 1, true),
                new VehicleFacts(VehicleCategory.M1, null));
        var verdict = judge(generic, damage(DamageKind.BULLSEYE, 300, 300, 15).facts(), UK_CARS, REPAIR);
        assertThat(verdict.findings())
                .filteredOn(finding -> finding.quantity() == Quantity.DISTANCE_TO_EDGE)
                .extracting(Finding::glass)
                .containsExactly("generic");
    }

    @Test
    void answersNothingForVehiclesThatNoSheetIsFor() {
        var verdict = judge(car(), damage(DamageKind.BULLSEYE, 300, 300, 15).facts(), UK_HEAVY, REPAIR);
        assertThat(verdict.outcome()).isEqualTo(Outcome.MEASURE_AGAIN);
        assertThat(verdict.sentence()).isEqualTo("Not sure enough for the road: no sheet speaks of such a vehicle.");
    }

    @Test
    void acceptsARepairByTheAcceptanceSheetsOnly() {
        var sheet = Sheets.read("own", Cases.acceptanceSheet());
        var repair = damage(DamageKind.PIT, 300, 300, 6).repaired().pit(4.0).facts();
        var judge = Eligibility.on(car(), List.of(UK_CARS, REPAIR, sheet), Choices.standard());
        assertThat(judge.accept(repair.damage(), List.of(repair)))
                .hasValueSatisfying(
                        acceptance -> assertThat(acceptance.answer().result()).isEqualTo(Result.NO));
        var without = Eligibility.on(car(), List.of(UK_CARS, REPAIR), Choices.standard());
        assertThat(without.accept(repair.damage(), List.of(repair))).isEmpty();
    }

    @Test
    void letsTheWorstDamageSpeakForTheVehicle() {
        var verdicts = Eligibility.judge(
                car(),
                List.of(
                        damage(DamageKind.PIT, 300, 300, 2).numbered(1).facts(),
                        damage(DamageKind.BULLSEYE, -350, 500, 30).numbered(2).facts(),
                        damage(DamageKind.BULLSEYE, 500, 500, 15).numbered(3).facts()),
                List.of(UK_CARS, BRITISH_REPAIR),
                Choices.standard(),
                Cases.NOW);
        assertThat(verdicts.values())
                .extracting(Verdict::outcome)
                .containsExactly(Outcome.WATCH, Outcome.REPLACE, Outcome.REPAIR);
        assertThat(Eligibility.worst(verdicts.values())).contains(Outcome.REPLACE);
        assertThat(Eligibility.worst(Map.<String, Verdict>of().values())).isEmpty();
    }
}

package org.quarterlight.eligibility;

import static org.assertj.core.api.Assertions.assertThat;
import static org.quarterlight.eligibility.Cases.damage;
import static org.quarterlight.eligibility.Cases.glazing;
import static org.quarterlight.eligibility.Cases.judge;
import static org.quarterlight.eligibility.Cases.judgeAll;
import static org.quarterlight.eligibility.Cases.sheet;
import static org.quarterlight.eligibility.Result.NO;
import static org.quarterlight.eligibility.Result.YES;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.function.DoubleFunction;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.quarterlight.eligibility.Cases.Damage;
import org.quarterlight.glass.DamageKind;
import org.quarterlight.glass.VehicleCategory;

/**
 * Every shipped limit just under, at and just over its boundary. The expected values are written here, with where they
 * come from and how well that is known; they are not read from the sheets.
 */
class ShippedLimitsTests {
    private static final double HAIR = 0.01;
    private static final double WHEEL_X = Cases.WHEEL_X;

    /** A limit of a document, the damage that measures so much against it, and what is expected below, at and above it. */
    private record Limit(
            String source,
            String sheet,
            String rule,
            VehicleCategory category,
            @Nullable Double massKg,
            double limitMm,
            DoubleFunction<List<DamageFacts>> damages,
            Result under,
            Result at,
            Result over) {
        @Override
        public String toString() {
            return source + " [" + sheet + " " + rule + ", " + category + "]";
        }
    }

    private static List<DamageFacts> one(Damage damage) {
        return List.of(damage.facts());
    }

    private static Damage star(double xMm, double yMm, double diameterMm) {
        return damage(DamageKind.STAR_BREAK, xMm, yMm, diameterMm);
    }

    /** A 22 mm star whose nearest point keeps this distance to the right of the wheel's centre line. */
    private static List<DamageFacts> besideWheel(double mm, double diameterMm) {
        return one(star(WHEEL_X + mm + diameterMm / 2, 300, diameterMm));
    }

    private static Limit atMost(
            String source,
            String sheet,
            String rule,
            VehicleCategory category,
            @Nullable Double massKg,
            double limitMm,
            DoubleFunction<List<DamageFacts>> damages) {
        return new Limit(source, sheet, rule, category, massKg, limitMm, damages, YES, YES, NO);
    }

    private static Limit atLeast(
            String source,
            String sheet,
            String rule,
            VehicleCategory category,
            @Nullable Double massKg,
            double limitMm,
            DoubleFunction<List<DamageFacts>> damages) {
        return new Limit(source, sheet, rule, category, massKg, limitMm, damages, NO, YES, YES);
    }

    private static Limit moreThan(
            String source,
            String sheet,
            String rule,
            VehicleCategory category,
            @Nullable Double massKg,
            double limitMm,
            DoubleFunction<List<DamageFacts>> damages) {
        return new Limit(source, sheet, rule, category, massKg, limitMm, damages, NO, NO, YES);
    }

    static Stream<Limit> limits() {
        return Stream.of(ukCars(), ukHeavy(), unitedStates(), britishRepair(), germanRepair(), commonPractice())
                .flatMap(List::stream);
    }

    private static List<Limit> ukCars() {
        var sheet = "uk-cars-roadworthiness";
        var inZone = "size-in-drivers-zone";
        var rest = "size-outside-drivers-zone";
        var limits = new ArrayList<Limit>();
        for (var category : List.of(VehicleCategory.M1, VehicleCategory.N1, VehicleCategory.M2)) {
            var massKg = category == VehicleCategory.M2 ? 3500.0 : null;
            limits.add(atMost(
                    "MOT manual s. 3.2, zone A: more than 10 mm (secondary)",
                    sheet,
                    inZone,
                    category,
                    massKg,
                    10,
                    mm -> one(star(WHEEL_X, 300, mm))));
            limits.add(atMost(
                    "MOT manual s. 3.2, rest of the swept area: more than 40 mm (secondary)",
                    sheet,
                    rest,
                    category,
                    massKg,
                    40,
                    mm -> one(star(300, 300, mm))));
            limits.add(moreThan(
                    "MOT manual s. 3.2, zone A is 290 mm wide (seen in the 2012 text)",
                    sheet,
                    inZone,
                    category,
                    massKg,
                    145,
                    mm -> besideWheel(mm, 22)));
        }
        limits.add(moreThan(
                "MOT manual s. 3.2, zone A ends at the swept area (seen in the 2012 text)",
                sheet,
                inZone,
                VehicleCategory.M1,
                null,
                0,
                mm -> one(star(WHEEL_X, 39 - mm, 22))));
        limits.add(moreThan(
                "MOT manual s. 3.2 (a)(i), a mark in the swept area is minor (memory)",
                sheet,
                "outside-swept-area",
                VehicleCategory.M1,
                null,
                0,
                mm -> one(star(300, 47 - mm, 6))));
        limits.add(atMost(
                "MOT manual, marks close together are one circle (secondary); how close is ours: 10 mm",
                sheet,
                inZone,
                VehicleCategory.M1,
                null,
                10,
                mm -> List.of( // two pits of 2 mm, 5 mm from the middle of one to that of the other, and more
                        damage(DamageKind.PIT, WHEEL_X, 300, 2).numbered(1).facts(),
                        damage(DamageKind.PIT, WHEEL_X + mm - 2, 300, 2)
                                .numbered(2)
                                .facts())));
        return limits;
    }

    private static List<Limit> ukHeavy() {
        var sheet = "uk-goods-and-passenger-roadworthiness";
        var inZone = "size-in-drivers-zone";
        return List.of(
                atMost(
                        "DfT advice, zone A: within a 10 mm circle (secondary)",
                        sheet,
                        inZone,
                        VehicleCategory.N3,
                        18000.0,
                        10,
                        mm -> one(star(WHEEL_X, 300, mm))),
                atMost(
                        "DfT advice, zone B: within a 40 mm circle (secondary)",
                        sheet,
                        "size-outside-drivers-zone",
                        VehicleCategory.N3,
                        18000.0,
                        40,
                        mm -> one(star(300, 300, mm))),
                moreThan(
                        "DfT advice, zone A is 350 mm wide over 3.5 t (secondary)",
                        sheet,
                        inZone,
                        VehicleCategory.M3,
                        12000.0,
                        175,
                        mm -> besideWheel(mm, 22)),
                moreThan(
                        "DfT advice, zone A is 350 mm wide over 3.5 t, from 3501 kg (secondary)",
                        sheet,
                        inZone,
                        VehicleCategory.M2,
                        3501.0,
                        175,
                        mm -> besideWheel(mm, 22)),
                moreThan(
                        "DfT advice, zone A is 290 mm wide up to 3.5 t (secondary)",
                        sheet,
                        inZone,
                        VehicleCategory.M2,
                        3500.0,
                        145,
                        mm -> besideWheel(mm, 22)),
                moreThan(
                        "HGV manual, a mark in the swept area is minor (memory)",
                        sheet,
                        "outside-swept-area",
                        VehicleCategory.N2,
                        7500.0,
                        0,
                        mm -> one(star(300, 47 - mm, 6))));
    }

    private static List<Limit> unitedStates() {
        var sheet = "us-49-cfr-393-60";
        var size = "size-of-damage";
        var category = VehicleCategory.N3;
        return List.of(
                atMost(
                        "49 CFR 393.60(c)(3), a circle of 19 mm (seen)",
                        sheet,
                        size,
                        category,
                        null,
                        19,
                        mm -> one(star(300, 300, mm))),
                atLeast(
                        "49 CFR 393.60(c)(3), 76 mm to the next (seen)",
                        sheet,
                        "distance-between-damages",
                        category,
                        null,
                        76,
                        mm -> List.of(
                                star(300, 300, 10).numbered(1).facts(),
                                star(310 + mm, 300, 10).numbered(2).facts())),
                moreThan(
                        "49 CFR 393.60(c)(2), a crack that meets no other (secondary)",
                        sheet,
                        "crack-alone",
                        category,
                        null,
                        0,
                        mm -> List.of(
                                damage(DamageKind.CRACK, 300, 300, 60)
                                        .numbered(1)
                                        .facts(),
                                damage(DamageKind.CRACK, 360 + mm, 300, 60)
                                        .numbered(2)
                                        .facts())),
                moreThan(
                        "49 CFR 393.60(c), the top border of 51 mm is left out (seen)",
                        sheet,
                        size,
                        category,
                        null,
                        749,
                        mm -> one(star(300, mm + 15, 30))),
                moreThan(
                        "49 CFR 393.60(c), side borders of 25 mm are left out (seen)",
                        sheet,
                        size,
                        category,
                        null,
                        775,
                        mm -> one(star(mm + 15, 300, 30))),
                moreThan(
                        "49 CFR 393.60(c), side borders of 25 mm are left out on the left too (seen)",
                        sheet,
                        size,
                        category,
                        null,
                        775,
                        mm -> one(star(-mm - 15, 300, 30))),
                new Limit(
                        "49 CFR 393.60(c), the area starts at the top of the steering wheel (seen)",
                        sheet,
                        size,
                        category,
                        null,
                        Cases.WHEEL_TOP_Y,
                        mm -> one(star(300, mm - 15, 30)),
                        YES,
                        NO,
                        NO));
    }

    private static List<Limit> britishRepair() {
        var sheet = "bs-au-242b-2022";
        var inZone = "size-in-drivers-zone";
        return List.of(
                atMost(
                        "BS AU 242b:2022, zone A: 20 mm circle (secondary)",
                        sheet,
                        inZone,
                        VehicleCategory.M1,
                        null,
                        20,
                        mm -> one(star(WHEEL_X, 300, mm))),
                atMost(
                        "BS AU 242b:2022, zone B: 40 mm circle (secondary)",
                        sheet,
                        "size-outside-drivers-zone",
                        VehicleCategory.M1,
                        null,
                        40,
                        mm -> one(star(300, 300, mm))),
                moreThan(
                        "BS AU 242b:2022, zone A is 400 mm wide (secondary)",
                        sheet,
                        inZone,
                        VehicleCategory.M1,
                        null,
                        200,
                        mm -> besideWheel(mm, 30)),
                moreThan(
                        "BS AU 242b:2022, zone A is 400 mm wide in a light van too (secondary)",
                        sheet,
                        inZone,
                        VehicleCategory.N1,
                        null,
                        200,
                        mm -> besideWheel(mm, 30)),
                moreThan(
                        "BS AU 242b:2022, zone A is 500 mm wide in a goods vehicle (secondary)",
                        sheet,
                        inZone,
                        VehicleCategory.N2,
                        7500.0,
                        250,
                        mm -> besideWheel(mm, 30)),
                moreThan(
                        "BS AU 242b:2022, zone A is 500 mm wide in a coach (secondary)",
                        sheet,
                        inZone,
                        VehicleCategory.M3,
                        18000.0,
                        250,
                        mm -> besideWheel(mm, 30)),
                moreThan(
                        "BS AU 242b:2022, camera areas are excluded (secondary)",
                        sheet,
                        "outside-camera-area",
                        VehicleCategory.M1,
                        null,
                        75,
                        mm -> one(star(mm + 5, 720, 10))));
    }

    private static List<Limit> germanRepair() {
        var sheet = "de-repair-1986";
        return List.of(
                atMost(
                        "Verkehrsblatt 1986 no. 55, crater at most 5 mm (secondary)",
                        sheet,
                        "crater",
                        VehicleCategory.M1,
                        null,
                        5,
                        mm -> one(star(300, 300, 20).pit(mm))),
                atMost(
                        "Verkehrsblatt 1986 no. 55, each crack from the impact at most 50 mm (secondary)",
                        sheet,
                        "legs-from-impact",
                        VehicleCategory.M1,
                        null,
                        50,
                        mm -> one(star(300, 300, 60).leg(mm))),
                atMost(
                        "Verkehrsblatt 1986 no. 55, each crack at most 50 mm (secondary)",
                        sheet,
                        "crack-from-impact",
                        VehicleCategory.M1,
                        null,
                        50,
                        mm -> one(damage(DamageKind.CRACK, 300, 300, 60).leg(mm))),
                moreThan(
                        "Verkehrsblatt 1986 no. 55, the crack's end stays in sight, off the edge cover (secondary)",
                        sheet,
                        "crack-end-in-sight",
                        VehicleCategory.M1,
                        null,
                        0,
                        // the printed border is 20 mm wide
                        mm -> one(
                                damage(DamageKind.CRACK, 300, 20 + 25 + mm, 50).leg(40.0))),
                moreThan(
                        "Verkehrsblatt 1986 no. 55, band of 29 cm in cars (secondary)",
                        sheet,
                        "outside-far-view-band",
                        VehicleCategory.M1,
                        null,
                        145,
                        mm -> besideWheel(mm, 20)),
                moreThan(
                        "Verkehrsblatt 1986 no. 55, square of 29 cm in goods vehicles, sideways (secondary)",
                        sheet,
                        "outside-far-view-square",
                        VehicleCategory.N3,
                        null,
                        145,
                        mm -> one(star(WHEEL_X + mm + 10, 400, 20))),
                moreThan(
                        "Verkehrsblatt 1986 no. 55, square of 29 cm in goods vehicles, upwards (secondary)",
                        sheet,
                        "outside-far-view-square",
                        VehicleCategory.N3,
                        null,
                        145,
                        // longer by 1 / sin 60°, the rake; zones are drawn on a grid of a millionth
                        mm -> one(star(WHEEL_X, 400 + mm / Math.sin(Math.toRadians(60)) + 10 - 2e-6, 20))));
    }

    private static List<Limit> commonPractice() {
        var repair = "common-practice-repair";
        return List.of(
                atMost(
                        "common practice, no source: 20 mm overall",
                        repair,
                        "size",
                        VehicleCategory.M1,
                        null,
                        20,
                        mm -> one(star(300, 300, mm))),
                atLeast(
                        "common practice, no source: 100 mm from the edge",
                        repair,
                        "distance-to-edge",
                        VehicleCategory.M1,
                        null,
                        100,
                        mm -> one(star(300, mm + 5, 10))),
                moreThan(
                        "common practice, no source: outside the driver's field of view, 290 mm",
                        repair,
                        "outside-drivers-zone",
                        VehicleCategory.M1,
                        null,
                        145,
                        mm -> besideWheel(mm, 10)),
                moreThan(
                        "common practice, no source: outside the driver's field of view, 350 mm over 3.5 t",
                        repair,
                        "outside-drivers-zone",
                        VehicleCategory.N3,
                        null,
                        175,
                        mm -> besideWheel(mm, 10)),
                moreThan(
                        "common practice, no source: a mark in the swept area is minor",
                        "common-practice-roadworthiness",
                        "outside-swept-area",
                        VehicleCategory.M1,
                        null,
                        0,
                        mm -> one(star(300, 47 - mm, 6))));
    }

    @ParameterizedTest(name = "{0}")
    @MethodSource("limits")
    void holdsJustUnderAtAndJustOverItsBoundary(Limit limit) {
        assertThat(result(limit, limit.limitMm() - HAIR)).as("just under").isEqualTo(limit.under());
        assertThat(result(limit, limit.limitMm())).as("at the limit").isEqualTo(limit.at());
        assertThat(result(limit, limit.limitMm() + HAIR)).as("just over").isEqualTo(limit.over());
    }

    /** Everything tried here, to be tried on a sheet that says something else. */
    static List<EveryNumberTests.Tried> cases() {
        var cases = new ArrayList<EveryNumberTests.Tried>();
        limits().forEach(limit -> {
            for (var mm : List.of(limit.limitMm() - HAIR, limit.limitMm(), limit.limitMm() + HAIR)) {
                cases.add(new EveryNumberTests.Tried(limit.sheet(), limit.rule(), sheet -> result(limit, mm, sheet)));
            }
        });
        facts().forEach(fact -> cases.add(new EveryNumberTests.Tried(
                fact.sheet(),
                fact.rule(),
                sheet -> found(
                        judge(glazing(VehicleCategory.M1, null), fact.damage(), sheet)
                                .findings(),
                        fact.rule()))));
        return cases;
    }

    private static Result result(Limit limit, double mm) {
        return result(limit, mm, sheet(limit.sheet()));
    }

    private static Result result(Limit limit, double mm, Sheet sheet) {
        var glazing = glazing(limit.category(), limit.massKg());
        var verdict = judgeAll(glazing, limit.damages().apply(mm), sheet);
        return found(verdict.findings(), limit.rule());
    }

    private static Result found(List<Finding> findings, String rule) {
        return findings.stream()
                .filter(finding -> finding.rule().equals(rule))
                .map(Finding::result)
                .findFirst()
                .orElse(YES); // a rule that has nothing to say is kept
    }

    /** A rule about a fact that is no length. */
    private record Fact(String source, String sheet, String rule, DamageFacts damage, Result expected) {
        @Override
        public String toString() {
            return source + ": " + expected;
        }
    }

    static Stream<Fact> facts() {
        var german = "de-repair-1986";
        var british = "bs-au-242b-2022";
        var road = "common-practice-roadworthiness";
        var layers = "inner-layer-in-swept-area";
        var star = DamageKind.STAR_BREAK;
        return Stream.of(
                new Fact(
                        "1986 no. 55, outer glass only (secondary), outer",
                        german,
                        "layers",
                        damage(star, 300, 300, 10).facts(),
                        YES),
                new Fact(
                        "1986 no. 55, outer glass only (secondary), through",
                        german,
                        "layers",
                        damage(star, 300, 300, 10).layers(Layers.THROUGH).facts(),
                        NO),
                new Fact(
                        "1986 no. 55, outer glass only (secondary), nobody looked",
                        german,
                        "layers",
                        damage(star, 300, 300, 10).layers(null).facts(),
                        Result.UNCLEAR),
                new Fact(
                        "1986 no. 55, no moisture (secondary)",
                        german,
                        "clean-and-dry",
                        damage(star, 300, 300, 10).condition(Condition.WET).facts(),
                        NO),
                new Fact(
                        "1986 no. 55, no dirt (secondary)",
                        german,
                        "clean-and-dry",
                        damage(star, 300, 300, 10).condition(Condition.DIRTY).facts(),
                        NO),
                new Fact(
                        "1986 no. 55, clean and dry (secondary)",
                        german,
                        "clean-and-dry",
                        damage(star, 300, 300, 10).facts(),
                        YES),
                new Fact(
                        "BS AU 242b:2022, outer glass only (memory), through",
                        british,
                        "layers",
                        damage(star, 300, 300, 10).layers(Layers.THROUGH).facts(),
                        NO),
                new Fact(
                        "BS AU 242b:2022, outer glass only (memory), outer",
                        british,
                        "layers",
                        damage(star, 300, 300, 10).facts(),
                        YES),
                new Fact(
                        "common practice, no source, repair, through",
                        "common-practice-repair",
                        "layers",
                        damage(star, 300, 300, 10).layers(Layers.THROUGH).facts(),
                        NO),
                new Fact(
                        "common practice, no source, inner layer in the wiped area",
                        road,
                        layers,
                        damage(star, 300, 300, 10).layers(Layers.THROUGH).facts(),
                        NO),
                new Fact(
                        "common practice, no source, inner layer just below the wiped area",
                        road,
                        layers,
                        damage(star, 300, 44.99, 10).layers(Layers.THROUGH).facts(),
                        YES),
                new Fact(
                        "common practice, no source, inner layer touching the wiped area",
                        road,
                        layers,
                        damage(star, 300, 45, 10).layers(Layers.THROUGH).facts(),
                        NO),
                new Fact(
                        "common practice, no source, short crack",
                        road,
                        "crack-across-drivers-zone",
                        damage(DamageKind.CRACK, WHEEL_X, 300, 60).facts(),
                        YES));
    }

    @ParameterizedTest(name = "{0}")
    @MethodSource("facts")
    void readsFactsThatAreNoLengths(Fact fact) {
        var verdict = judge(glazing(VehicleCategory.M1, null), fact.damage(), sheet(fact.sheet()));
        assertThat(verdict.findings())
                .filteredOn(finding -> finding.rule().equals(fact.rule()))
                .singleElement()
                .satisfies(finding -> {
                    assertThat(finding.result()).isEqualTo(fact.expected());
                    assertThat(finding.source().status()).isNotEqualTo(Status.COMPUTED);
                });
    }

    @Test
    void leavesNoShippedRuleUntried() {
        var tried = new HashSet<>(RegionalLimitsTests.tried());
        limits().forEach(limit -> tried.add(limit.sheet() + " " + limit.rule()));
        facts().forEach(fact -> tried.add(fact.sheet() + " " + fact.rule()));
        var shipped = Sheets.shipped().stream()
                .flatMap(sheet -> sheet.rules().stream().map(rule -> sheet.id() + " " + rule.name()))
                .toList();
        assertThat(shipped).allSatisfy(rule -> assertThat(tried).contains(rule));
    }

    @Test
    void saysOfEverySourceHowWellItIsKnown() {
        for (var sheet : Sheets.shipped()) {
            var isCommonPractice = sheet.id().startsWith("common-practice");
            assertThat(sheet.rules()).allSatisfy(rule -> {
                assertThat(rule.source().status() == Status.COMMON_PRACTICE).isEqualTo(isCommonPractice);
                assertThat(rule.source().checkedOn()).isNotNull();
            });
        }
        assertThat(sheet("us-49-cfr-393-60").rules().getFirst().source().status())
                .isEqualTo(Status.SEEN);
        assertThat(sheet("uk-cars-roadworthiness").weakestStatus()).isEqualTo(Status.MEMORY);
    }

    @Test
    void startsAnOrganisationWithTheSheetsOfItsCountryBesideCommonPracticeForTheRoad() {
        assertThat(Sheets.startingFor("GB", null))
                .extracting(Sheet::id)
                .containsExactly(
                        "uk-cars-roadworthiness",
                        "uk-goods-and-passenger-roadworthiness",
                        "common-practice-roadworthiness",
                        "bs-au-242b-2022");
        assertThat(Sheets.startingFor("DE", null))
                .extracting(Sheet::id)
                .containsExactly("de-periodic-inspection", "common-practice-roadworthiness", "de-repair-1986");
        assertThat(Sheets.startingFor("US", "US-MD"))
                .extracting(Sheet::id)
                .containsExactly(
                        "us-49-cfr-393-60", "us-maryland", "common-practice-roadworthiness", "us-rolags-2009-decision");
        assertThat(Sheets.startingFor("ES", null))
                .extracting(Sheet::id)
                .containsExactly("eu-2014-45-severity", "common-practice-roadworthiness", "common-practice-repair");
        assertThat(Sheets.startingFor("CH", null))
                .extracting(Sheet::id)
                .containsExactly("common-practice-roadworthiness", "common-practice-repair");
        assertThat(Sheets.startingFor("CA", "CA-QC"))
                .extracting(Sheet::id)
                .containsExactly("ca-quebec", "common-practice-roadworthiness", "common-practice-repair");
    }

    @Test
    void startsNobodyWithWhatIsWithdrawnOrDoubtful() {
        assertThat(Sheets.shipped())
                .filteredOn(Sheet::onlyByChoice)
                .isNotEmpty()
                .allSatisfy(sheet -> assertThat(Sheets.startingFor(
                                sheet.country() == null ? "CH" : sheet.country(), sheet.subdivision()))
                        .doesNotContain(sheet));
    }
}

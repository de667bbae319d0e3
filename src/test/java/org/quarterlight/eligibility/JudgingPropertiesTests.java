package org.quarterlight.eligibility;

import static java.util.Objects.requireNonNull;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.quarterlight.eligibility.Cases.damage;

import java.util.ArrayList;
import java.util.Collections;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.TreeMap;
import java.util.UUID;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.locationtech.jts.geom.Coordinate;
import org.quarterlight.glass.DamageKind;
import org.quarterlight.glass.DamageShape;
import org.quarterlight.glass.SteeringSide;
import org.quarterlight.glass.VehicleCategory;

/** What must hold for every damage, tried on many made from seeds; a failure prints the seed and the case. */
class JudgingPropertiesTests {
    private static final int CASES = 400;

    private static Cases.Damage any(Random random, double xMm, double yMm, double diameterMm) {
        var kinds = DamageKind.values();
        return damage(kinds[random.nextInt(kinds.length)], xMm, yMm, diameterMm)
                .uncertain(
                        random.nextInt(3) == 0 ? 0 : random.nextDouble(3),
                        random.nextInt(3) == 0 ? 0 : random.nextDouble(8));
    }

    private static double x(Random random) {
        return random.nextDouble(-790, 790);
    }

    private static double y(Random random) {
        return random.nextDouble(10, 790);
    }

    private static Verdict judge(Glazing glazing, List<Sheet> sheets, DamageFacts facts) {
        return requireNonNull(Eligibility.judge(glazing, List.of(facts), sheets, Choices.standard(), Cases.NOW)
                .get(facts.damage()));
    }

    private static Glazing anyGlazing(Random random) {
        var categories = VehicleCategory.values();
        var category = categories[random.nextInt(categories.length)];
        var massKg = random.nextDouble(1500, 20000);
        return random.nextBoolean()
                ? Cases.glazing(category, massKg)
                : Cases.generic(category, SteeringSide.values()[random.nextInt(2)], massKg);
    }

    /** A handful of the shipped sheets, others in every case: drawing the zones of all of them each time takes minutes. */
    private static List<Sheet> some(Random random) {
        var sheets = new ArrayList<>(Sheets.shipped());
        Collections.shuffle(sheets, random);
        return List.copyOf(sheets.subList(0, 4));
    }

    private static void assertNotWorse(Verdict than, Verdict verdict, String what) {
        assertThat(verdict.answers().roadworthy().worstPossible())
                .as(what)
                .isLessThanOrEqualTo(than.answers().roadworthy().worstPossible());
        assertThat(verdict.answers().repairable().result())
                .as(what)
                .isLessThanOrEqualTo(than.answers().repairable().result());
        assertThat(verdict.answers().asRepaired().worstPossible())
                .as(what)
                .isLessThanOrEqualTo(than.answers().asRepaired().worstPossible());
    }

    @ParameterizedTest(name = "seed {0}")
    @ValueSource(longs = {1, 20261125, 77})
    void isNeverBetterForALargerDamage(long seed) {
        var random = new Random(seed);
        for (var i = 0; i < CASES; i++) {
            var sheets = some(new Random(seed + i));
            var glazing = anyGlazing(random);
            var size = random.nextDouble(60);
            var caseSeed = random.nextLong();
            var x = x(random);
            var y = y(random);
            var smaller =
                    judge(glazing, sheets, any(new Random(caseSeed), x, y, size).facts());
            var larger = judge(
                    glazing,
                    sheets,
                    any(new Random(caseSeed), x, y, size + random.nextDouble(40))
                            .facts());
            assertNotWorse(larger, smaller, "seed %d, case %d at %f, %f, %f mm".formatted(seed, i, x, y, size));
        }
    }

    /** Every shipped limit on the distance to an edge, alone: what else a sheet says changes with the place. */
    static Stream<Sheet> edges() {
        return Sheets.shipped().stream()
                .flatMap(sheet -> sheet.rules().stream()
                        .filter(rule -> rule.quantity() == Quantity.DISTANCE_TO_EDGE)
                        .map(rule -> sheet.with(List.of(rule))));
    }

    @ParameterizedTest
    @MethodSource("edges")
    void isNeverWorseFartherFromTheEdge(Sheet sheet) {
        var random = new Random(2 + sheet.id().hashCode());
        for (var i = 0; i < CASES; i++) {
            var x = random.nextDouble(0, 700);
            var y = random.nextDouble(0, 390);
            var caseSeed = random.nextLong();
            var near = judge(
                    Cases.car(),
                    List.of(sheet),
                    any(new Random(caseSeed), x, y, 15).facts());
            var far = judge(
                    Cases.car(),
                    List.of(sheet),
                    any(new Random(caseSeed), x, y + random.nextDouble(400 - y), 15)
                            .facts());
            assertNotWorse(near, far, "%s, case %d at %f, %f".formatted(sheet.name(), i, x, y));
        }
    }

    @Test
    void limitsOnTheDistanceToAnEdgeAreShipped() {
        assertThat(edges().map(Sheet::id)).contains("common-practice-repair", "de-repair-1986");
    }

    @ParameterizedTest(name = "seed {0}")
    @ValueSource(longs = {3, 20261125, 79})
    void doesNotDependOnTheOrderOfSheetsAndRules(long seed) {
        var random = new Random(seed);
        for (var i = 0; i < CASES / 4; i++) {
            var sheets = some(new Random(seed + i));
            var glazing = anyGlazing(random);
            var damages = several(random);
            var shuffled = new ArrayList<Sheet>();
            for (var sheet : sheets) {
                var rules = new ArrayList<>(sheet.rules());
                Collections.shuffle(rules, random);
                shuffled.add(sheet.with(rules));
            }
            Collections.shuffle(shuffled, random);
            var one = Eligibility.judge(glazing, damages, sheets, Choices.standard(), Cases.NOW);
            var other = Eligibility.judge(glazing, damages, shuffled, Choices.standard(), Cases.NOW);
            one.forEach((damage, verdict) -> {
                var again = requireNonNull(other.get(damage));
                assertThat(again.outcome()).isEqualTo(verdict.outcome());
                assertThat(again.answers()).isEqualTo(verdict.answers());
                assertThat(new HashSet<>(again.findings())).isEqualTo(new HashSet<>(verdict.findings()));
            });
        }
    }

    @ParameterizedTest(name = "seed {0}")
    @ValueSource(longs = {4, 20261125, 80})
    void doesNotDependOnTheOrderOfDamages(long seed) {
        var random = new Random(seed);
        for (var i = 0; i < CASES / 4; i++) {
            var sheets = some(new Random(seed + i));
            var glazing = anyGlazing(random);
            var damages = several(random);
            var turned = new ArrayList<>(damages);
            Collections.reverse(turned);
            var one = Eligibility.judge(glazing, damages, sheets, Choices.standard(), Cases.NOW);
            var other = Eligibility.judge(glazing, turned, sheets, Choices.standard(), Cases.NOW);
            assertThat(outcomes(other)).isEqualTo(outcomes(one));
        }
    }

    private static Map<UUID, String> outcomes(Map<UUID, Verdict> verdicts) {
        var outcomes = new TreeMap<UUID, String>();
        verdicts.forEach((damage, verdict) -> outcomes.put(damage, verdict.outcome() + " " + verdict.answers()));
        return outcomes;
    }

    @ParameterizedTest(name = "seed {0}")
    @ValueSource(longs = {5, 20261125, 81})
    void judgesAMirroredGlassAsItsMirrorImage(long seed) {
        var random = new Random(seed);
        for (var i = 0; i < CASES; i++) {
            var sheets = some(new Random(seed + i));
            var vehicle = anyGlazing(random).vehicle();
            var glazing = Cases.glazing(vehicle.category(), vehicle.maximumMassKg());
            var mirror = new Glazing(glazing.pattern().mirrored(), glazing.reference(), glazing.vehicle());
            var x = x(random);
            var y = y(random);
            var size = random.nextDouble(60);
            var caseSeed = random.nextLong();
            var left =
                    judge(glazing, sheets, any(new Random(caseSeed), x, y, size).facts());
            var right =
                    judge(mirror, sheets, any(new Random(caseSeed), -x, y, size).facts());
            var what = "seed %d, case %d".formatted(seed, i);
            assertThat(right.outcome()).as(what).isEqualTo(left.outcome());
            assertThat(right.answers()).as(what).isEqualTo(left.answers());
            assertThat(right.findings()).as(what).hasSameSizeAs(left.findings());
            for (var j = 0; j < left.findings().size(); j++) {
                var margin = left.findings().get(j).marginMm();
                if (margin != null) { // the mirrored cosine ends in other digits
                    assertThat(right.findings().get(j).marginMm()).as(what).isCloseTo(margin, within(1e-9));
                }
            }
        }
    }

    @ParameterizedTest(name = "seed {0}")
    @ValueSource(longs = {14, 20261125})
    void judgesTheGenericGlassesForBothSidesAsMirrorImages(long seed) {
        var random = new Random(seed);
        for (var i = 0; i < CASES / 4; i++) {
            var sheets = some(new Random(seed + i));
            var category = VehicleCategory.values()[i % VehicleCategory.values().length];
            var massKg = random.nextDouble(1500, 20000);
            var left = Cases.generic(category, SteeringSide.LEFT, massKg);
            var right = Cases.generic(category, SteeringSide.RIGHT, massKg);
            var caseSeed = random.nextLong();
            var here = Eligibility.judge(
                    left, onBothSides(new Random(caseSeed), 1), sheets, Choices.standard(), Cases.NOW);
            var there = Eligibility.judge(
                    right, onBothSides(new Random(caseSeed), -1), sheets, Choices.standard(), Cases.NOW);
            var what = "seed %d, case %d, %s".formatted(seed, i, category);
            assertThat(outcomes(there)).as(what).isEqualTo(outcomes(here));
            here.forEach((damage, verdict) -> {
                var mirrored = requireNonNull(there.get(damage)).findings();
                assertThat(mirrored).as(what).hasSameSizeAs(verdict.findings());
                for (var j = 0; j < mirrored.size(); j++) {
                    var margin = verdict.findings().get(j).marginMm();
                    if (margin != null) {
                        assertThat(mirrored.get(j).marginMm())
                                .as(what)
                                .isCloseTo(margin, within(1e-3)); // zones lie on a grid
                    }
                }
            });
        }
    }

    /** Several damages, near each other and far, one of them a finished repair; the same on the other side of the glass. */
    private static List<DamageFacts> onBothSides(Random random, int side) {
        var damages = new ArrayList<DamageFacts>();
        var x = random.nextDouble(-500, 500);
        var y = random.nextDouble(100, 500);
        for (var number = 0; number < 4; number++) {
            var near = number < 2;
            var some = any(
                            random,
                            side * (near ? x + random.nextDouble(-40, 40) : random.nextDouble(-500, 500)),
                            near ? y + random.nextDouble(-40, 40) : random.nextDouble(100, 500),
                            random.nextDouble(40))
                    .numbered(number);
            damages.add(number == 3 ? some.repaired().facts() : some.facts());
        }
        return damages;
    }

    @ParameterizedTest(name = "seed {0}")
    @ValueSource(longs = {6, 20261125, 82})
    void judgesTheSameAgain(long seed) {
        var random = new Random(seed);
        for (var i = 0; i < CASES / 4; i++) {
            var sheets = some(new Random(seed + i));
            var judge = Eligibility.on(anyGlazing(random), sheets, Choices.standard());
            var damages = several(random);
            assertThat(judge.judge(damages, Cases.NOW)).isEqualTo(judge.judge(damages, Cases.NOW));
        }
    }

    /** A star with its legs, or a crack with its corners; where it is longer, it is the same one and more. */
    private static DamageFacts drawn(Random random, double xMm, double yMm, double longer, int mirror) {
        var uncertainty = random.nextInt(3) == 0 ? 0 : random.nextDouble(3);
        var place = random.nextInt(3) == 0 ? 0 : random.nextDouble(8);
        var crack = random.nextBoolean();
        DamageShape shape;
        double legMm;
        if (crack) {
            var course = new ArrayList<Coordinate>(List.of(new Coordinate(mirror * xMm, yMm)));
            var x = xMm;
            var y = yMm;
            for (var i = 0; i < 4; i++) {
                x += random.nextDouble(-40, 40);
                y += random.nextDouble(-40, 40);
                if (i < 2 || longer > 1) {
                    course.add(new Coordinate(mirror * x, y));
                }
            }
            shape = DamageShape.crack(course.toArray(Coordinate[]::new));
            legMm = requireNonNull(shape.lines()).getLength();
        } else {
            var legs = new ArrayList<DamageShape.Leg>();
            legMm = 0;
            for (var i = 0; i < 5; i++) {
                var length = random.nextDouble(2, 20) * longer;
                legMm = Math.max(legMm, length);
                legs.add(new DamageShape.Leg(length, mirror * random.nextDouble(360)));
            }
            shape = DamageShape.star(new Coordinate(mirror * xMm, yMm), legs, 4);
        }
        return damage(crack ? DamageKind.CRACK : DamageKind.STAR_BREAK, 0, 0, shape.diameterMm())
                .uncertain(uncertainty, place)
                .leg(legMm)
                .pit(3.0)
                .shaped(shape)
                .facts();
    }

    @ParameterizedTest(name = "seed {0}")
    @ValueSource(longs = {11, 20261125, 83})
    void isNeverBetterForLongerLegsOrALongerCourse(long seed) {
        var random = new Random(seed);
        for (var i = 0; i < CASES / 2; i++) {
            var sheets = some(new Random(seed + i));
            var glazing = anyGlazing(random);
            // So far from the edge that no end of a crack that runs on leaves one that it had reached.
            var x = random.nextDouble(-300, 300);
            var y = random.nextDouble(280, 420);
            var caseSeed = random.nextLong();
            var smaller = judge(glazing, sheets, drawn(new Random(caseSeed), x, y, 1, 1));
            var larger = judge(glazing, sheets, drawn(new Random(caseSeed), x, y, 1.5, 1));
            assertNotWorse(larger, smaller, "seed %d, case %d at %f, %f".formatted(seed, i, x, y));
        }
    }

    @ParameterizedTest(name = "seed {0}")
    @ValueSource(longs = {12, 20261125, 84})
    void isNeverWorseAtTheEdgeForAShapeFartherFromIt(long seed) {
        var random = new Random(seed);
        var sheets = edges().toList();
        for (var i = 0; i < CASES / 2; i++) {
            var sheet = sheets.get(i % sheets.size());
            var x = random.nextDouble(160, 620);
            var y = random.nextDouble(0, 240);
            var caseSeed = random.nextLong();
            var near = toEdge(judge(Cases.car(), List.of(sheet), drawn(new Random(caseSeed), x, y, 1, 1)));
            var far = toEdge(judge(
                    Cases.car(), List.of(sheet), drawn(new Random(caseSeed), x, y + random.nextDouble(240 - y), 1, 1)));
            var what = "seed %d, case %d at %f, %f".formatted(seed, i, x, y);
            assertThat(far.result()).as(what).isLessThanOrEqualTo(near.result());
            assertThat(requireNonNull(far.measuredMm()))
                    .as(what)
                    .isGreaterThanOrEqualTo(requireNonNull(near.measuredMm()) - 1e-9);
        }
    }

    private static Finding toEdge(Verdict verdict) {
        return verdict.findings().stream()
                .filter(finding -> finding.quantity() == Quantity.DISTANCE_TO_EDGE)
                .findFirst()
                .orElseThrow();
    }

    @ParameterizedTest(name = "seed {0}")
    @ValueSource(longs = {13, 20261125, 85})
    void judgesAMirroredShapeOnAMirroredGlassAsItsMirrorImage(long seed) {
        var random = new Random(seed);
        for (var i = 0; i < CASES / 2; i++) {
            var sheets = some(new Random(seed + i));
            var vehicle = anyGlazing(random).vehicle();
            var glazing = Cases.glazing(vehicle.category(), vehicle.maximumMassKg());
            var mirror = new Glazing(glazing.pattern().mirrored(), glazing.reference(), glazing.vehicle());
            var x = x(random);
            var y = y(random);
            var caseSeed = random.nextLong();
            var left = judge(glazing, sheets, drawn(new Random(caseSeed), x, y, 1, 1));
            var right = judge(mirror, sheets, drawn(new Random(caseSeed), x, y, 1, -1));
            var what = "seed %d, case %d at %f, %f".formatted(seed, i, x, y);
            assertThat(right.outcome()).as(what).isEqualTo(left.outcome());
            assertThat(right.answers()).as(what).isEqualTo(left.answers());
            for (var j = 0; j < left.findings().size(); j++) {
                var margin = left.findings().get(j).marginMm();
                if (margin != null) {
                    assertThat(right.findings().get(j).marginMm()).as(what).isCloseTo(margin, within(1e-6));
                }
            }
        }
    }

    private static List<DamageFacts> several(Random random) {
        var damages = new ArrayList<DamageFacts>();
        for (var number = 0; number < 4; number++) {
            var some = any(random, x(random), y(random), random.nextDouble(40)).numbered(number);
            damages.add(number == 3 ? some.repaired().facts() : some.facts());
        }
        var beside = damages.getFirst();
        damages.add(any(random, random.nextDouble(-700, 700), 300, random.nextDouble(10))
                .numbered(9)
                .shaped(beside.shape())
                .facts());
        return damages;
    }
}

package org.quarterlight.eligibility;

import static org.assertj.core.api.Assertions.assertThat;
import static org.quarterlight.eligibility.Cases.damage;
import static org.quarterlight.eligibility.Cases.glazing;
import static org.quarterlight.eligibility.Cases.judgeAll;
import static org.quarterlight.eligibility.Cases.sheet;
import static org.quarterlight.eligibility.Result.NO;
import static org.quarterlight.eligibility.Result.YES;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import java.util.function.DoubleFunction;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.locationtech.jts.geom.Coordinate;
import org.quarterlight.eligibility.Cases.Damage;
import org.quarterlight.glass.DamageKind;
import org.quarterlight.glass.DamageShape;
import org.quarterlight.glass.VehicleCategory;

/**
 * The limits of single countries, states and provinces and of their repair standards, just under, at and just over their
 * boundary. The expected values are written here with where they come from; the word in brackets is how well that is known,
 * and the sheet must say the same.
 */
class RegionalLimitsTests {
    private static final double HAIR = 0.01;
    private static final double WHEEL_X = Cases.WHEEL_X;

    private record Limit(
            String source,
            String sheet,
            String rule,
            VehicleCategory category,
            double limitMm,
            DoubleFunction<List<DamageFacts>> damages,
            Result under,
            Result at,
            Result over) {
        @Override
        public String toString() {
            return source + " [" + sheet + " " + rule + "]";
        }
    }

    private static Limit atMost(
            String source,
            String sheet,
            String rule,
            VehicleCategory category,
            double limitMm,
            DoubleFunction<List<DamageFacts>> damages) {
        return new Limit(source, sheet, rule, category, limitMm, damages, YES, YES, NO);
    }

    private static Limit lessThan(
            String source,
            String sheet,
            String rule,
            VehicleCategory category,
            double limitMm,
            DoubleFunction<List<DamageFacts>> damages) {
        return new Limit(source, sheet, rule, category, limitMm, damages, YES, NO, NO);
    }

    private static Limit atLeast(
            String source,
            String sheet,
            String rule,
            VehicleCategory category,
            double limitMm,
            DoubleFunction<List<DamageFacts>> damages) {
        return new Limit(source, sheet, rule, category, limitMm, damages, NO, YES, YES);
    }

    private static Limit moreThan(
            String source,
            String sheet,
            String rule,
            VehicleCategory category,
            double limitMm,
            DoubleFunction<List<DamageFacts>> damages) {
        return new Limit(source, sheet, rule, category, limitMm, damages, NO, NO, YES);
    }

    /** A border that must not be reached from below. */
    private static Limit below(
            String source,
            String sheet,
            String rule,
            VehicleCategory category,
            double limitMm,
            DoubleFunction<List<DamageFacts>> damages) {
        return new Limit(source, sheet, rule, category, limitMm, damages, YES, NO, NO);
    }

    private static List<DamageFacts> one(Damage damage) {
        return List.of(damage.facts());
    }

    private static DamageFacts crack(int number, double fromX, double fromY, double toX, double toY) {
        var length = Math.hypot(toX - fromX, toY - fromY);
        return damage(DamageKind.CRACK, (fromX + toX) / 2, (fromY + toY) / 2, length)
                .numbered(number)
                .leg(length)
                .shaped(DamageShape.crack(new Coordinate(fromX, fromY), new Coordinate(toX, toY)))
                .facts();
    }

    private static List<DamageFacts> cracks(int count, double mm) {
        return IntStream.range(0, count)
                .mapToObj(i -> crack(i, 100, 200 + 50 * i, 100 + mm, 200 + 50 * i))
                .toList();
    }

    private static List<DamageFacts> stars(int count, double mm) {
        return stars(count, 300, mm);
    }

    private static List<DamageFacts> stars(int count, double xMm, double mm) {
        return IntStream.range(0, count)
                .mapToObj(i -> damage(DamageKind.STAR_BREAK, xMm, 200 + 100 * i, mm)
                        .numbered(i)
                        .facts())
                .toList();
    }

    /** Two that touch: one circle holds both. */
    private static List<DamageFacts> two(double oneMm, double otherMm) {
        return List.of(
                damage(DamageKind.STAR_BREAK, 300, 300, oneMm).numbered(1).facts(),
                damage(DamageKind.STAR_BREAK, 300 + oneMm / 2 + otherMm / 2, 300, otherMm)
                        .numbered(2)
                        .facts());
    }

    /** A small pit beside so many finished repairs. */
    private static List<DamageFacts> withRepairs(int count, double xMm) {
        var all = new ArrayList<DamageFacts>();
        all.add(damage(DamageKind.PIT, xMm, 150, 1).facts());
        for (var i = 1; i <= count; i++) {
            all.add(damage(DamageKind.PIT, xMm, 150 + 60 * i, 2)
                    .numbered(i)
                    .repaired()
                    .facts());
        }
        return all;
    }

    private static List<DamageFacts> withRepairedCrack(double mm) {
        return List.of(
                damage(DamageKind.PIT, 300, 150, 1).numbered(1).facts(),
                damage(DamageKind.CRACK, 300, 400, mm)
                        .leg(mm)
                        .numbered(2)
                        .repaired()
                        .facts());
    }

    private static List<DamageFacts> besideRepair(double mm) {
        return List.of(
                damage(DamageKind.STAR_BREAK, WHEEL_X, 300, 10).numbered(1).facts(),
                damage(DamageKind.STAR_BREAK, WHEEL_X, 310 + mm, 10)
                        .numbered(2)
                        .repaired()
                        .facts());
    }

    static Stream<Limit> limits() {
        return Stream.of(limits1(), limits2(), limits3()).flatMap(List::stream);
    }

    private static List<Limit> limits1() {
        return List.of(
                atMost(
                        "NCT manual item 10, zone A: 10 mm circle (secondary)",
                        "ie-cars-roadworthiness",
                        "size-in-drivers-zone",
                        VehicleCategory.M1,
                        10,
                        mm -> one(damage(DamageKind.STAR_BREAK, WHEEL_X, 300, mm))),
                atMost(
                        "NCT manual item 10, rest of the swept area: 40 mm circle (secondary)",
                        "ie-cars-roadworthiness",
                        "size-outside-drivers-zone",
                        VehicleCategory.M1,
                        40,
                        mm -> one(damage(DamageKind.STAR_BREAK, 300, 300, mm))),
                atMost(
                        "press release of an inspection body, crack over 5 cm (seen)",
                        "de-periodic-inspection",
                        "crack-length",
                        VehicleCategory.M1,
                        50,
                        mm -> List.of(crack(1, 300, 300, 300 + mm, 300))),
                moreThan(
                        "press release of an inspection body, crack reaches the edge (seen)",
                        "de-periodic-inspection",
                        "crack-reaches-edge",
                        VehicleCategory.M1,
                        0,
                        mm -> List.of(crack(1, 300, mm, 300, 40 + mm))),
                moreThan(
                        "Directive 2014/45/EU item 3.2 (a), inside the wiped area is major (secondary)",
                        "eu-2014-45-severity",
                        "inside-swept-area",
                        VehicleCategory.M1,
                        0,
                        mm -> one(damage(DamageKind.STAR_BREAK, 300, 47 - mm, 6))),
                moreThan(
                        "Directive 2014/45/EU item 3.2 (a), away from the wiped area is minor (secondary)",
                        "eu-2014-45-severity",
                        "outside-swept-area",
                        VehicleCategory.M1,
                        0,
                        mm -> one(damage(DamageKind.STAR_BREAK, 300, 53 + mm, 6))),
                atMost(
                        "French practice, unofficial, crack not inside a 30 cm circle (secondary)",
                        "fr-practice-unofficial",
                        "crack-outside-circle",
                        VehicleCategory.M1,
                        300,
                        mm -> List.of(crack(1, 100, 300, 100 + mm, 300))),
                atMost(
                        "French practice, unofficial, impact over 3 cm (secondary)",
                        "fr-practice-unofficial",
                        "impact-in-field-of-view",
                        VehicleCategory.M1,
                        30,
                        mm -> one(damage(DamageKind.STAR_BREAK, 300, 300, mm))),
                lessThan(
                        "French practice, unofficial, 5 cm or more is critical (secondary)",
                        "fr-practice-unofficial",
                        "large-impact-in-field-of-view",
                        VehicleCategory.M1,
                        50,
                        mm -> one(damage(DamageKind.STAR_BREAK, 300, 300, mm))),
                atMost(
                        "NSW and Queensland family, bullseye or star in area A over 16 mm (secondary)",
                        "au-light-two-reject",
                        "size-in-area-a",
                        VehicleCategory.M1,
                        16,
                        mm -> one(damage(DamageKind.BULLSEYE, -300, 300, mm))),
                moreThan(
                        "NSW and Queensland family, area A ends at the middle: our reading (secondary)",
                        "au-light-two-reject",
                        "size-in-area-a",
                        VehicleCategory.M1,
                        0,
                        mm -> one(damage(DamageKind.STAR_BREAK, 10 + mm, 300, 20))),
                atMost(
                        "NSW and Queensland family, any crack over 150 mm (secondary)",
                        "au-light-two-reject",
                        "crack-length",
                        VehicleCategory.M1,
                        150,
                        mm -> List.of(crack(1, 100, 300, 100 + mm, 300))),
                atMost(
                        "NSW and Queensland family, bullseye or star in area A over 16 mm (secondary)",
                        "au-light-two-allowed",
                        "size-in-area-a",
                        VehicleCategory.M1,
                        16,
                        mm -> one(damage(DamageKind.BULLSEYE, -300, 300, mm))),
                moreThan(
                        "NSW and Queensland family, area A ends at the middle: our reading (secondary)",
                        "au-light-two-allowed",
                        "size-in-area-a",
                        VehicleCategory.M1,
                        0,
                        mm -> one(damage(DamageKind.STAR_BREAK, 10 + mm, 300, 20))),
                atMost(
                        "NSW and Queensland family, any crack over 150 mm (secondary)",
                        "au-light-two-allowed",
                        "crack-length",
                        VehicleCategory.M1,
                        150,
                        mm -> List.of(crack(1, 100, 300, 100 + mm, 300))),
                atMost(
                        "NSW and Queensland family, crack from the edge in area A to 75 mm (secondary)",
                        "au-light-two-allowed",
                        "crack-from-edge-in-area-a",
                        VehicleCategory.M1,
                        75,
                        mm -> List.of(crack(1, -300, 800, -300, 800 - mm))),
                atMost(
                        "NSW and Queensland family, hairline crack in area A to 30 mm (secondary)",
                        "au-light-two-allowed",
                        "hairline-crack-in-area-a",
                        VehicleCategory.M1,
                        30,
                        mm -> List.of(crack(1, -300, 300, -300, 300 + mm))),
                atMost(
                        "NHVIM s. 10, 16 mm (memory)",
                        "au-heavy-recalled",
                        "size-in-area-a",
                        VehicleCategory.N3,
                        16,
                        mm -> one(damage(DamageKind.STAR_BREAK, -300, 300, mm))),
                atMost(
                        "NHVIM s. 10, 75 mm (memory)",
                        "au-heavy-recalled",
                        "crack-from-edge-in-area-a",
                        VehicleCategory.N3,
                        75,
                        mm -> List.of(crack(1, -300, 800, -300, 800 - mm))),
                atMost(
                        "NHVIM s. 10, 30 mm (memory)",
                        "au-heavy-recalled",
                        "hairline-crack-in-area-a",
                        VehicleCategory.N3,
                        30,
                        mm -> List.of(crack(1, -300, 300, -300, 300 + mm))),
                atMost(
                        "NHVIM s. 10, 150 mm (memory)",
                        "au-heavy-recalled",
                        "crack-length",
                        VehicleCategory.N3,
                        150,
                        mm -> List.of(crack(1, 100, 300, 100 + mm, 300))),
                moreThan(
                        "VIRM 5-1 reason 6, in the CVA everything rejects; 150 mm each side (seen)",
                        "nz-virm-5-1-headrest",
                        "in-critical-vision-area",
                        VehicleCategory.M1,
                        150,
                        mm -> one(damage(DamageKind.STAR_BREAK, WHEEL_X + mm + 3, 300, 6))),
                moreThan(
                        "AS/NZS 2366.1, the CVA starts 90 mm below the top; VIRM 5-1 reason 6 (seen)",
                        "nz-virm-5-1-headrest",
                        "in-critical-vision-area",
                        VehicleCategory.M1,
                        710,
                        mm -> one(damage(DamageKind.STAR_BREAK, WHEEL_X, mm + 3, 6))),
                below(
                        "AS/NZS 2366.1, the CVA ends 65 mm above the bottom; VIRM 5-1 reason 6 (seen)",
                        "nz-virm-5-1-headrest",
                        "in-critical-vision-area",
                        VehicleCategory.M1,
                        65,
                        mm -> one(damage(DamageKind.STAR_BREAK, WHEEL_X, mm - 3, 6))),
                atMost(
                        "reply of the agency, October 2014, a couple of mm (seen)",
                        "nz-virm-5-1-headrest",
                        "small-pit-in-critical-vision-area",
                        VehicleCategory.M1,
                        2,
                        mm -> one(damage(DamageKind.PIT, WHEEL_X, 300, mm))),
                atMost(
                        "VIRM figure 5-1-2, star 30 mm (secondary)",
                        "nz-virm-5-1-headrest",
                        "star-outside-critical-vision-area",
                        VehicleCategory.M1,
                        30,
                        mm -> one(damage(DamageKind.STAR_BREAK, 300, 300, mm))),
                atMost(
                        "AS/NZS 2366.1:1999, pit inside the CVA (secondary)",
                        "as-nzs-2366-1-crack-350-headrest",
                        "pit-inside-critical-vision-area",
                        VehicleCategory.M1,
                        2,
                        mm -> one(damage(DamageKind.PIT, WHEEL_X, 300, mm))),
                atMost(
                        "AS/NZS 2366.1:1999, pit outside the CVA (secondary)",
                        "as-nzs-2366-1-crack-350-headrest",
                        "pit-outside-critical-vision-area",
                        VehicleCategory.M1,
                        5,
                        mm -> one(damage(DamageKind.PIT, 300, 300, mm))),
                atMost(
                        "AS/NZS 2366.1:1999, bullseye inside the CVA (secondary)",
                        "as-nzs-2366-1-crack-350-headrest",
                        "bullseye-inside-critical-vision-area",
                        VehicleCategory.M1,
                        10,
                        mm -> one(damage(DamageKind.BULLSEYE, WHEEL_X, 300, mm))),
                atMost(
                        "AS/NZS 2366.1:1999, bullseye outside the CVA (secondary)",
                        "as-nzs-2366-1-crack-350-headrest",
                        "bullseye-outside-critical-vision-area",
                        VehicleCategory.M1,
                        20,
                        mm -> one(damage(DamageKind.BULLSEYE, 300, 300, mm))),
                atMost(
                        "AS/NZS 2366.1:1999, star-break inside the CVA (secondary)",
                        "as-nzs-2366-1-crack-350-headrest",
                        "star-inside-critical-vision-area",
                        VehicleCategory.M1,
                        15,
                        mm -> one(damage(DamageKind.STAR_BREAK, WHEEL_X, 300, mm))),
                atMost(
                        "AS/NZS 2366.1:1999, star-break outside the CVA (secondary)",
                        "as-nzs-2366-1-crack-350-headrest",
                        "star-outside-critical-vision-area",
                        VehicleCategory.M1,
                        30,
                        mm -> one(damage(DamageKind.STAR_BREAK, 300, 300, mm))),
                atMost(
                        "AS/NZS 2366.1:1999, half-moon inside the CVA (secondary)",
                        "as-nzs-2366-1-crack-350-headrest",
                        "half-moon-inside-critical-vision-area",
                        VehicleCategory.M1,
                        10,
                        mm -> one(damage(DamageKind.HALF_MOON, WHEEL_X, 300, mm))),
                atMost(
                        "AS/NZS 2366.1:1999, half-moon outside the CVA (secondary)",
                        "as-nzs-2366-1-crack-350-headrest",
                        "half-moon-outside-critical-vision-area",
                        VehicleCategory.M1,
                        25,
                        mm -> one(damage(DamageKind.HALF_MOON, 300, 300, mm))),
                atMost(
                        "AS/NZS 2366.1:1999, combination inside the CVA (secondary)",
                        "as-nzs-2366-1-crack-350-headrest",
                        "combination-inside-critical-vision-area",
                        VehicleCategory.M1,
                        15,
                        mm -> one(damage(DamageKind.COMBINATION_BREAK, WHEEL_X, 300, mm))),
                atMost(
                        "AS/NZS 2366.1:1999, combination outside the CVA (secondary)",
                        "as-nzs-2366-1-crack-350-headrest",
                        "combination-outside-critical-vision-area",
                        VehicleCategory.M1,
                        30,
                        mm -> one(damage(DamageKind.COMBINATION_BREAK, 300, 300, mm))),
                atMost(
                        "AS/NZS 2366.1:1999, crack inside the CVA (secondary)",
                        "as-nzs-2366-1-crack-350-headrest",
                        "crack-inside-critical-vision-area",
                        VehicleCategory.M1,
                        25,
                        mm -> List.of(crack(1, WHEEL_X, 300, WHEEL_X, 300 + mm))),
                atMost(
                        "AS/NZS 2366.1:1999, crack outside the CVA, 350 on one page (secondary)",
                        "as-nzs-2366-1-crack-350-headrest",
                        "crack-outside-critical-vision-area",
                        VehicleCategory.M1,
                        350,
                        mm -> List.of(crack(1, 100, 300, 100 + mm, 300))),
                atMost(
                        "AS/NZS 2366.1:1999, an old repaired crack over 100 mm (secondary)",
                        "as-nzs-2366-1-crack-350-headrest",
                        "no-long-repaired-crack",
                        VehicleCategory.M1,
                        100,
                        mm -> withRepairedCrack(mm)),
                atMost(
                        "AS/NZS 2366.1:1999, pit inside the CVA (secondary)",
                        "as-nzs-2366-1-crack-100-headrest",
                        "pit-inside-critical-vision-area",
                        VehicleCategory.M1,
                        2,
                        mm -> one(damage(DamageKind.PIT, WHEEL_X, 300, mm))),
                atMost(
                        "AS/NZS 2366.1:1999, pit outside the CVA (secondary)",
                        "as-nzs-2366-1-crack-100-headrest",
                        "pit-outside-critical-vision-area",
                        VehicleCategory.M1,
                        5,
                        mm -> one(damage(DamageKind.PIT, 300, 300, mm))),
                atMost(
                        "AS/NZS 2366.1:1999, bullseye inside the CVA (secondary)",
                        "as-nzs-2366-1-crack-100-headrest",
                        "bullseye-inside-critical-vision-area",
                        VehicleCategory.M1,
                        10,
                        mm -> one(damage(DamageKind.BULLSEYE, WHEEL_X, 300, mm))),
                atMost(
                        "AS/NZS 2366.1:1999, bullseye outside the CVA (secondary)",
                        "as-nzs-2366-1-crack-100-headrest",
                        "bullseye-outside-critical-vision-area",
                        VehicleCategory.M1,
                        20,
                        mm -> one(damage(DamageKind.BULLSEYE, 300, 300, mm))),
                atMost(
                        "AS/NZS 2366.1:1999, star-break inside the CVA (secondary)",
                        "as-nzs-2366-1-crack-100-headrest",
                        "star-inside-critical-vision-area",
                        VehicleCategory.M1,
                        15,
                        mm -> one(damage(DamageKind.STAR_BREAK, WHEEL_X, 300, mm))),
                atMost(
                        "AS/NZS 2366.1:1999, star-break outside the CVA (secondary)",
                        "as-nzs-2366-1-crack-100-headrest",
                        "star-outside-critical-vision-area",
                        VehicleCategory.M1,
                        30,
                        mm -> one(damage(DamageKind.STAR_BREAK, 300, 300, mm))),
                atMost(
                        "AS/NZS 2366.1:1999, half-moon inside the CVA (secondary)",
                        "as-nzs-2366-1-crack-100-headrest",
                        "half-moon-inside-critical-vision-area",
                        VehicleCategory.M1,
                        10,
                        mm -> one(damage(DamageKind.HALF_MOON, WHEEL_X, 300, mm))),
                atMost(
                        "AS/NZS 2366.1:1999, half-moon outside the CVA (secondary)",
                        "as-nzs-2366-1-crack-100-headrest",
                        "half-moon-outside-critical-vision-area",
                        VehicleCategory.M1,
                        25,
                        mm -> one(damage(DamageKind.HALF_MOON, 300, 300, mm))),
                atMost(
                        "AS/NZS 2366.1:1999, combination inside the CVA (secondary)",
                        "as-nzs-2366-1-crack-100-headrest",
                        "combination-inside-critical-vision-area",
                        VehicleCategory.M1,
                        15,
                        mm -> one(damage(DamageKind.COMBINATION_BREAK, WHEEL_X, 300, mm))),
                atMost(
                        "AS/NZS 2366.1:1999, combination outside the CVA (secondary)",
                        "as-nzs-2366-1-crack-100-headrest",
                        "combination-outside-critical-vision-area",
                        VehicleCategory.M1,
                        30,
                        mm -> one(damage(DamageKind.COMBINATION_BREAK, 300, 300, mm))),
                atMost(
                        "AS/NZS 2366.1:1999, crack inside the CVA (secondary)",
                        "as-nzs-2366-1-crack-100-headrest",
                        "crack-inside-critical-vision-area",
                        VehicleCategory.M1,
                        25,
                        mm -> List.of(crack(1, WHEEL_X, 300, WHEEL_X, 300 + mm))),
                atMost(
                        "AS/NZS 2366.1:1999, crack outside the CVA, 100 on one page (secondary)",
                        "as-nzs-2366-1-crack-100-headrest",
                        "crack-outside-critical-vision-area",
                        VehicleCategory.M1,
                        100,
                        mm -> List.of(crack(1, 100, 300, 100 + mm, 300))),
                atMost(
                        "AS/NZS 2366.1:1999, an old repaired crack over 100 mm (secondary)",
                        "as-nzs-2366-1-crack-100-headrest",
                        "no-long-repaired-crack",
                        VehicleCategory.M1,
                        100,
                        mm -> withRepairedCrack(mm)),
                moreThan(
                        "VIRM 5-1 reason 6, in the CVA everything rejects; 150 mm each side (seen)",
                        "nz-virm-5-1-wheel",
                        "in-critical-vision-area",
                        VehicleCategory.M1,
                        150,
                        mm -> one(damage(DamageKind.STAR_BREAK, WHEEL_X + mm + 3, 300, 6))),
                moreThan(
                        "AS/NZS 2366.1, the CVA starts 90 mm below the top; VIRM 5-1 reason 6 (seen)",
                        "nz-virm-5-1-wheel",
                        "in-critical-vision-area",
                        VehicleCategory.M1,
                        710,
                        mm -> one(damage(DamageKind.STAR_BREAK, WHEEL_X, mm + 3, 6))),
                below(
                        "AS/NZS 2366.1, the CVA ends 65 mm above the bottom; VIRM 5-1 reason 6 (seen)",
                        "nz-virm-5-1-wheel",
                        "in-critical-vision-area",
                        VehicleCategory.M1,
                        65,
                        mm -> one(damage(DamageKind.STAR_BREAK, WHEEL_X, mm - 3, 6))),
                atMost(
                        "reply of the agency, October 2014, a couple of mm (seen)",
                        "nz-virm-5-1-wheel",
                        "small-pit-in-critical-vision-area",
                        VehicleCategory.M1,
                        2,
                        mm -> one(damage(DamageKind.PIT, WHEEL_X, 300, mm))),
                atMost(
                        "VIRM figure 5-1-2, star 30 mm (secondary)",
                        "nz-virm-5-1-wheel",
                        "star-outside-critical-vision-area",
                        VehicleCategory.M1,
                        30,
                        mm -> one(damage(DamageKind.STAR_BREAK, 300, 300, mm))),
                atMost(
                        "AS/NZS 2366.1:1999, pit inside the CVA (secondary)",
                        "as-nzs-2366-1-crack-350-wheel",
                        "pit-inside-critical-vision-area",
                        VehicleCategory.M1,
                        2,
                        mm -> one(damage(DamageKind.PIT, WHEEL_X, 300, mm))),
                atMost(
                        "AS/NZS 2366.1:1999, pit outside the CVA (secondary)",
                        "as-nzs-2366-1-crack-350-wheel",
                        "pit-outside-critical-vision-area",
                        VehicleCategory.M1,
                        5,
                        mm -> one(damage(DamageKind.PIT, 300, 300, mm))),
                atMost(
                        "AS/NZS 2366.1:1999, bullseye inside the CVA (secondary)",
                        "as-nzs-2366-1-crack-350-wheel",
                        "bullseye-inside-critical-vision-area",
                        VehicleCategory.M1,
                        10,
                        mm -> one(damage(DamageKind.BULLSEYE, WHEEL_X, 300, mm))));
    }

    private static List<Limit> limits2() {
        return List.of(
                atMost(
                        "AS/NZS 2366.1:1999, bullseye outside the CVA (secondary)",
                        "as-nzs-2366-1-crack-350-wheel",
                        "bullseye-outside-critical-vision-area",
                        VehicleCategory.M1,
                        20,
                        mm -> one(damage(DamageKind.BULLSEYE, 300, 300, mm))),
                atMost(
                        "AS/NZS 2366.1:1999, star-break inside the CVA (secondary)",
                        "as-nzs-2366-1-crack-350-wheel",
                        "star-inside-critical-vision-area",
                        VehicleCategory.M1,
                        15,
                        mm -> one(damage(DamageKind.STAR_BREAK, WHEEL_X, 300, mm))),
                atMost(
                        "AS/NZS 2366.1:1999, star-break outside the CVA (secondary)",
                        "as-nzs-2366-1-crack-350-wheel",
                        "star-outside-critical-vision-area",
                        VehicleCategory.M1,
                        30,
                        mm -> one(damage(DamageKind.STAR_BREAK, 300, 300, mm))),
                atMost(
                        "AS/NZS 2366.1:1999, half-moon inside the CVA (secondary)",
                        "as-nzs-2366-1-crack-350-wheel",
                        "half-moon-inside-critical-vision-area",
                        VehicleCategory.M1,
                        10,
                        mm -> one(damage(DamageKind.HALF_MOON, WHEEL_X, 300, mm))),
                atMost(
                        "AS/NZS 2366.1:1999, half-moon outside the CVA (secondary)",
                        "as-nzs-2366-1-crack-350-wheel",
                        "half-moon-outside-critical-vision-area",
                        VehicleCategory.M1,
                        25,
                        mm -> one(damage(DamageKind.HALF_MOON, 300, 300, mm))),
                atMost(
                        "AS/NZS 2366.1:1999, combination inside the CVA (secondary)",
                        "as-nzs-2366-1-crack-350-wheel",
                        "combination-inside-critical-vision-area",
                        VehicleCategory.M1,
                        15,
                        mm -> one(damage(DamageKind.COMBINATION_BREAK, WHEEL_X, 300, mm))),
                atMost(
                        "AS/NZS 2366.1:1999, combination outside the CVA (secondary)",
                        "as-nzs-2366-1-crack-350-wheel",
                        "combination-outside-critical-vision-area",
                        VehicleCategory.M1,
                        30,
                        mm -> one(damage(DamageKind.COMBINATION_BREAK, 300, 300, mm))),
                atMost(
                        "AS/NZS 2366.1:1999, crack inside the CVA (secondary)",
                        "as-nzs-2366-1-crack-350-wheel",
                        "crack-inside-critical-vision-area",
                        VehicleCategory.M1,
                        25,
                        mm -> List.of(crack(1, WHEEL_X, 300, WHEEL_X, 300 + mm))),
                atMost(
                        "AS/NZS 2366.1:1999, crack outside the CVA, 350 on one page (secondary)",
                        "as-nzs-2366-1-crack-350-wheel",
                        "crack-outside-critical-vision-area",
                        VehicleCategory.M1,
                        350,
                        mm -> List.of(crack(1, 100, 300, 100 + mm, 300))),
                atMost(
                        "AS/NZS 2366.1:1999, an old repaired crack over 100 mm (secondary)",
                        "as-nzs-2366-1-crack-350-wheel",
                        "no-long-repaired-crack",
                        VehicleCategory.M1,
                        100,
                        mm -> withRepairedCrack(mm)),
                atMost(
                        "AS/NZS 2366.1:1999, pit inside the CVA (secondary)",
                        "as-nzs-2366-1-crack-100-wheel",
                        "pit-inside-critical-vision-area",
                        VehicleCategory.M1,
                        2,
                        mm -> one(damage(DamageKind.PIT, WHEEL_X, 300, mm))),
                atMost(
                        "AS/NZS 2366.1:1999, pit outside the CVA (secondary)",
                        "as-nzs-2366-1-crack-100-wheel",
                        "pit-outside-critical-vision-area",
                        VehicleCategory.M1,
                        5,
                        mm -> one(damage(DamageKind.PIT, 300, 300, mm))),
                atMost(
                        "AS/NZS 2366.1:1999, bullseye inside the CVA (secondary)",
                        "as-nzs-2366-1-crack-100-wheel",
                        "bullseye-inside-critical-vision-area",
                        VehicleCategory.M1,
                        10,
                        mm -> one(damage(DamageKind.BULLSEYE, WHEEL_X, 300, mm))),
                atMost(
                        "AS/NZS 2366.1:1999, bullseye outside the CVA (secondary)",
                        "as-nzs-2366-1-crack-100-wheel",
                        "bullseye-outside-critical-vision-area",
                        VehicleCategory.M1,
                        20,
                        mm -> one(damage(DamageKind.BULLSEYE, 300, 300, mm))),
                atMost(
                        "AS/NZS 2366.1:1999, star-break inside the CVA (secondary)",
                        "as-nzs-2366-1-crack-100-wheel",
                        "star-inside-critical-vision-area",
                        VehicleCategory.M1,
                        15,
                        mm -> one(damage(DamageKind.STAR_BREAK, WHEEL_X, 300, mm))),
                atMost(
                        "AS/NZS 2366.1:1999, star-break outside the CVA (secondary)",
                        "as-nzs-2366-1-crack-100-wheel",
                        "star-outside-critical-vision-area",
                        VehicleCategory.M1,
                        30,
                        mm -> one(damage(DamageKind.STAR_BREAK, 300, 300, mm))),
                atMost(
                        "AS/NZS 2366.1:1999, half-moon inside the CVA (secondary)",
                        "as-nzs-2366-1-crack-100-wheel",
                        "half-moon-inside-critical-vision-area",
                        VehicleCategory.M1,
                        10,
                        mm -> one(damage(DamageKind.HALF_MOON, WHEEL_X, 300, mm))),
                atMost(
                        "AS/NZS 2366.1:1999, half-moon outside the CVA (secondary)",
                        "as-nzs-2366-1-crack-100-wheel",
                        "half-moon-outside-critical-vision-area",
                        VehicleCategory.M1,
                        25,
                        mm -> one(damage(DamageKind.HALF_MOON, 300, 300, mm))),
                atMost(
                        "AS/NZS 2366.1:1999, combination inside the CVA (secondary)",
                        "as-nzs-2366-1-crack-100-wheel",
                        "combination-inside-critical-vision-area",
                        VehicleCategory.M1,
                        15,
                        mm -> one(damage(DamageKind.COMBINATION_BREAK, WHEEL_X, 300, mm))),
                atMost(
                        "AS/NZS 2366.1:1999, combination outside the CVA (secondary)",
                        "as-nzs-2366-1-crack-100-wheel",
                        "combination-outside-critical-vision-area",
                        VehicleCategory.M1,
                        30,
                        mm -> one(damage(DamageKind.COMBINATION_BREAK, 300, 300, mm))),
                atMost(
                        "AS/NZS 2366.1:1999, crack inside the CVA (secondary)",
                        "as-nzs-2366-1-crack-100-wheel",
                        "crack-inside-critical-vision-area",
                        VehicleCategory.M1,
                        25,
                        mm -> List.of(crack(1, WHEEL_X, 300, WHEEL_X, 300 + mm))),
                atMost(
                        "AS/NZS 2366.1:1999, crack outside the CVA, 100 on one page (secondary)",
                        "as-nzs-2366-1-crack-100-wheel",
                        "crack-outside-critical-vision-area",
                        VehicleCategory.M1,
                        100,
                        mm -> List.of(crack(1, 100, 300, 100 + mm, 300))),
                atMost(
                        "AS/NZS 2366.1:1999, an old repaired crack over 100 mm (secondary)",
                        "as-nzs-2366-1-crack-100-wheel",
                        "no-long-repaired-crack",
                        VehicleCategory.M1,
                        100,
                        mm -> withRepairedCrack(mm)),
                atMost(
                        "COMAR 11.22.02.20 A, chip in the sweep over 1/2 in (seen)",
                        "us-maryland",
                        "chip-in-swept-area",
                        VehicleCategory.M1,
                        12.7,
                        mm -> one(damage(DamageKind.STAR_BREAK, 300, 300, mm))),
                moreThan(
                        "COMAR 11.22.02.20 A, crack on the driver side (seen)",
                        "us-maryland",
                        "crack-on-drivers-side",
                        VehicleCategory.M1,
                        0,
                        mm -> List.of(crack(1, mm, 300, mm + 50, 300))),
                moreThan(
                        "WV Code 17C-15-36, acute area 8.5 by 11 in, to the side (seen)",
                        "us-west-virginia",
                        "acute-area-is-free",
                        VehicleCategory.M1,
                        139.7,
                        mm -> one(damage(DamageKind.PIT, WHEEL_X + mm + 2, 400, 4))),
                moreThan(
                        "WV Code 17C-15-36, acute area 8.5 by 11 in, upwards (seen)",
                        "us-west-virginia",
                        "acute-area-is-free",
                        VehicleCategory.M1,
                        139.7,
                        mm -> one(damage(DamageKind.PIT, WHEEL_X, 400 + mm + 2, 4))),
                moreThan(
                        "WV Code 17C-15-36, acute area 8.5 in high beside the upright sheet (seen)",
                        "us-west-virginia",
                        "acute-area-is-free",
                        VehicleCategory.M1,
                        107.95,
                        mm -> one(damage(DamageKind.PIT, WHEEL_X + 130, 400 + mm + 2, 4))),
                atMost(
                        "WV Code 17C-15-36, critical area 1.5 in (seen)",
                        "us-west-virginia",
                        "size-in-critical-area",
                        VehicleCategory.M1,
                        38.1,
                        mm -> one(damage(DamageKind.STAR_BREAK, 300, 300, mm))),
                atMost(
                        "WV Code 17C-15-36, critical area, repair longer than 3 in (seen)",
                        "us-west-virginia",
                        "length-of-repair-in-critical-area",
                        VehicleCategory.M1,
                        76.2,
                        mm -> List.of(crack(1, 300, 300, 300 + mm, 300))),
                atMost(
                        "WV Code 17C-15-36, critical area, repair over 1.5 in (seen)",
                        "us-west-virginia",
                        "size-of-repair-in-critical-area",
                        VehicleCategory.M1,
                        38.1,
                        mm -> one(damage(DamageKind.STAR_BREAK, 300, 300, mm))),
                atMost(
                        "WV Code 17C-15-36, rest, repair longer than 6 in (seen)",
                        "us-west-virginia",
                        "length-of-repair-elsewhere",
                        VehicleCategory.M1,
                        152.4,
                        mm -> List.of(crack(1, 100, 25, 100 + mm, 25))),
                atMost(
                        "WV Code 17C-15-36, rest, repair over 1.5 in (seen)",
                        "us-west-virginia",
                        "size-of-repair-elsewhere",
                        VehicleCategory.M1,
                        38.1,
                        mm -> one(damage(DamageKind.STAR_BREAK, 300, 25, mm))),
                atMost(
                        "Saskatchewan sheet, crack over 50 mm into the swept area (seen)",
                        "ca-saskatchewan",
                        "crack-into-swept-area",
                        VehicleCategory.M1,
                        50,
                        mm -> List.of(crack(1, 300, 10, 300, 50 + mm))),
                atMost(
                        "Saskatchewan sheet, star chip over 13 mm in the swept area (seen)",
                        "ca-saskatchewan",
                        "star-chip-in-swept-area",
                        VehicleCategory.M1,
                        13,
                        mm -> one(damage(DamageKind.STAR_BREAK, 300, 300, mm))),
                atMost(
                        "Ontario, crack over 50 mm into the swept area (secondary)",
                        "ca-ontario",
                        "crack-into-swept-area",
                        VehicleCategory.M1,
                        50,
                        mm -> List.of(crack(1, 300, 10, 300, 50 + mm))),
                atMost(
                        "NSC 11B, crack over 50 mm into the swept area (memory)",
                        "ca-nsc-11b-recalled",
                        "crack-into-swept-area",
                        VehicleCategory.M1,
                        50,
                        mm -> List.of(crack(1, 300, 10, 300, 50 + mm))),
                atMost(
                        "NSC 11B, star chip over 13 mm in the swept area (memory)",
                        "ca-nsc-11b-recalled",
                        "star-chip-in-swept-area",
                        VehicleCategory.M1,
                        13,
                        mm -> one(damage(DamageKind.STAR_BREAK, 300, 300, mm))),
                atMost(
                        "C-24.2 r. 32 s. 60, 12 mm (seen)",
                        "ca-quebec",
                        "size-in-wiped-area",
                        VehicleCategory.M1,
                        12,
                        mm -> one(damage(DamageKind.STAR_BREAK, 300, 300, mm))),
                atMost(
                        "C-24.2 r. 32 s. 60, flakes that meet are one (seen)",
                        "ca-quebec",
                        "size-in-wiped-area",
                        VehicleCategory.M1,
                        12,
                        mm -> two(6, mm - 6)),
                moreThan(
                        "C-24.2 r. 32 s. 60, 75 mm along the top are left out (seen)",
                        "ca-quebec",
                        "size-in-wiped-area",
                        VehicleCategory.M1,
                        725,
                        mm -> one(damage(DamageKind.STAR_BREAK, 300, mm + 10, 20))),
                below(
                        "C-24.2 r. 32 s. 60, 75 mm along the bottom are left out (seen)",
                        "ca-quebec",
                        "size-in-wiped-area",
                        VehicleCategory.M1,
                        75,
                        mm -> one(damage(DamageKind.STAR_BREAK, 300, mm - 10, 20))),
                moreThan(
                        "MVA Regs Div. 7 s. 29(a), no crack within 500 mm of the driver's edge (seen)",
                        "ca-british-columbia",
                        "crack-in-drivers-zone",
                        VehicleCategory.M1,
                        -300,
                        mm -> List.of(crack(1, mm, 300, mm + 50, 300))),
                moreThan(
                        "MVA Regs Div. 7 s. 29(a), without 75 mm along the top (seen)",
                        "ca-british-columbia",
                        "crack-in-drivers-zone",
                        VehicleCategory.M1,
                        725,
                        mm -> List.of(crack(1, -500, mm, -450, mm))),
                below(
                        "MVA Regs Div. 7 s. 29(a), without 75 mm along the bottom (seen)",
                        "ca-british-columbia",
                        "crack-in-drivers-zone",
                        VehicleCategory.M1,
                        75,
                        mm -> List.of(crack(1, -500, mm, -450, mm))),
                atMost(
                        "MVA Regs Div. 7 s. 29(a), stone mark to 6 mm (seen)",
                        "ca-british-columbia",
                        "stone-mark-in-drivers-zone",
                        VehicleCategory.M1,
                        6,
                        mm -> one(damage(DamageKind.PIT, -500, 300, mm))),
                atMost(
                        "MVA Regs Div. 7 s. 29(b)-(f), crack over 300 mm (seen)",
                        "ca-british-columbia",
                        "crack-length",
                        VehicleCategory.M1,
                        300,
                        mm -> List.of(crack(1, 100, 300, 100 + mm, 300))),
                atMost(
                        "MVA Regs Div. 7 s. 29(b)-(f), three cracks over 150 mm (seen)",
                        "ca-british-columbia",
                        "number-of-long-cracks",
                        VehicleCategory.M1,
                        150,
                        mm -> cracks(3, mm)),
                atMost(
                        "MVA Regs Div. 7 s. 29(b)-(f), stone mark over 40 mm (seen)",
                        "ca-british-columbia",
                        "stone-mark",
                        VehicleCategory.M1,
                        40,
                        mm -> one(damage(DamageKind.STAR_BREAK, 300, 300, mm))),
                atMost(
                        "MVA Regs Div. 7 s. 29(b)-(f), two stone marks over 20 mm (seen)",
                        "ca-british-columbia",
                        "number-of-large-stone-marks",
                        VehicleCategory.M1,
                        20,
                        mm -> stars(2, mm)),
                atMost(
                        "ROLAGS 2014, bullseye (secondary)",
                        "us-rolags-2014",
                        "bullseye",
                        VehicleCategory.M1,
                        25,
                        mm -> one(damage(DamageKind.BULLSEYE, 300, 300, mm))),
                atMost(
                        "ROLAGS 2014, half-moon (secondary)",
                        "us-rolags-2014",
                        "half-moon",
                        VehicleCategory.M1,
                        25,
                        mm -> one(damage(DamageKind.HALF_MOON, 300, 300, mm))),
                atMost(
                        "ROLAGS 2014, star (secondary)",
                        "us-rolags-2014",
                        "star",
                        VehicleCategory.M1,
                        75,
                        mm -> one(damage(DamageKind.STAR_BREAK, 300, 300, mm))),
                moreThan(
                        "ROLAGS 2014, crack right across (memory)",
                        "us-rolags-2014",
                        "crack-right-across",
                        VehicleCategory.M1,
                        0,
                        mm -> List.of(crack(1, -800 + mm, 300, 800, 300))),
                atMost(
                        "ROLAGS 2009, bullseye (secondary)",
                        "us-rolags-2009-decision",
                        "bullseye",
                        VehicleCategory.M1,
                        25,
                        mm -> one(damage(DamageKind.BULLSEYE, 300, 300, mm))),
                atMost(
                        "ROLAGS 2009, half-moon (secondary)",
                        "us-rolags-2009-decision",
                        "half-moon",
                        VehicleCategory.M1,
                        25,
                        mm -> one(damage(DamageKind.HALF_MOON, 300, 300, mm))),
                atMost(
                        "ROLAGS 2009, star (secondary)",
                        "us-rolags-2009-decision",
                        "star",
                        VehicleCategory.M1,
                        75,
                        mm -> one(damage(DamageKind.STAR_BREAK, 300, 300, mm))),
                moreThan(
                        "ROLAGS 2009, crack right across (memory)",
                        "us-rolags-2009-decision",
                        "crack-right-across",
                        VehicleCategory.M1,
                        0,
                        mm -> List.of(crack(1, -800 + mm, 300, 800, 300))),
                atMost(
                        "ROLAGS 2007, bullseye (secondary)",
                        "us-rolags-2007",
                        "bullseye",
                        VehicleCategory.M1,
                        25,
                        mm -> one(damage(DamageKind.BULLSEYE, 300, 300, mm))),
                atMost(
                        "ROLAGS 2007, half-moon (secondary)",
                        "us-rolags-2007",
                        "half-moon",
                        VehicleCategory.M1,
                        25,
                        mm -> one(damage(DamageKind.HALF_MOON, 300, 300, mm))));
    }

    private static List<Limit> limits3() {
        return List.of(
                atMost(
                        "ROLAGS 2007, star (secondary)",
                        "us-rolags-2007",
                        "star",
                        VehicleCategory.M1,
                        75,
                        mm -> one(damage(DamageKind.STAR_BREAK, 300, 300, mm))),
                moreThan(
                        "ROLAGS 2007, crack right across (memory)",
                        "us-rolags-2007",
                        "crack-right-across",
                        VehicleCategory.M1,
                        0,
                        mm -> List.of(crack(1, -800 + mm, 300, 800, 300))),
                atMost(
                        "ROLAGS 2014, crack 14 in (memory)",
                        "us-rolags-2014",
                        "crack",
                        VehicleCategory.M1,
                        355.6,
                        mm -> List.of(crack(1, 100, 300, 100 + mm, 300))),
                atMost(
                        "ROLAGS 2007, crack 14 in (seen)",
                        "us-rolags-2007",
                        "crack",
                        VehicleCategory.M1,
                        355.6,
                        mm -> List.of(crack(1, 100, 300, 100 + mm, 300))),
                atMost(
                        "ROLAGS decision of 2009, 6 in (seen)",
                        "us-rolags-2009-decision",
                        "size",
                        VehicleCategory.M1,
                        152.4,
                        mm -> one(damage(DamageKind.STAR_BREAK, 300, 300, mm))),
                atMost(
                        "ROLAGS 2014, in the DPVA 1 in (memory)",
                        "us-rolags-2014",
                        "size-in-viewing-area",
                        VehicleCategory.M1,
                        25,
                        mm -> one(damage(DamageKind.STAR_BREAK, WHEEL_X, 300, mm))),
                moreThan(
                        "ROLAGS 2014, the DPVA is 12 in wide (memory)",
                        "us-rolags-2014",
                        "size-in-viewing-area",
                        VehicleCategory.M1,
                        152.4,
                        mm -> one(damage(DamageKind.STAR_BREAK, WHEEL_X + mm + 15, 300, 30))),
                atLeast(
                        "ROLAGS 2014, in the DPVA 4 in to another repair (memory)",
                        "us-rolags-2014",
                        "repairs-apart-in-viewing-area",
                        VehicleCategory.M1,
                        100,
                        mm -> besideRepair(mm)),
                atMost(
                        "older US advice, a quarter of 24.26 mm in the acute area (secondary)",
                        "us-older-association-advice",
                        "size-in-acute-area",
                        VehicleCategory.M1,
                        24.26,
                        mm -> one(damage(DamageKind.STAR_BREAK, WHEEL_X, 400, mm))),
                atMost(
                        "BS AU 242a:1998, zone A 10 mm (memory)",
                        "bs-au-242a-1998",
                        "size-in-drivers-zone",
                        VehicleCategory.M1,
                        10,
                        mm -> one(damage(DamageKind.STAR_BREAK, WHEEL_X, 300, mm))),
                moreThan(
                        "BS AU 242a:1998, zone A 290 mm wide (memory)",
                        "bs-au-242a-1998",
                        "size-in-drivers-zone",
                        VehicleCategory.M1,
                        145,
                        mm -> one(damage(DamageKind.STAR_BREAK, WHEEL_X + mm + 10, 300, 20))),
                moreThan(
                        "BS AU 242a:1998, zone A 350 mm wide in goods vehicles (memory)",
                        "bs-au-242a-1998",
                        "size-in-drivers-zone",
                        VehicleCategory.N3,
                        175,
                        mm -> one(damage(DamageKind.STAR_BREAK, WHEEL_X + mm + 10, 300, 20))),
                atMost(
                        "BS AU 242a:1998, zone D 40 mm (memory)",
                        "bs-au-242a-1998",
                        "size-outside-drivers-zone",
                        VehicleCategory.M1,
                        40,
                        mm -> one(damage(DamageKind.STAR_BREAK, 300, 300, mm))),
                atMost(
                        "common practice, no source: under a coin, 25 mm (common practice)",
                        "common-practice-repair-coin",
                        "size",
                        VehicleCategory.M1,
                        25,
                        mm -> one(damage(DamageKind.STAR_BREAK, 300, 300, mm))),
                atMost(
                        "common practice, no source: crater 5 mm (common practice)",
                        "common-practice-repair-coin",
                        "crater",
                        VehicleCategory.M1,
                        5,
                        mm -> one(damage(DamageKind.STAR_BREAK, 300, 300, 10).pit(mm))),
                atLeast(
                        "common practice, no source: 100 mm to the edge (common practice)",
                        "common-practice-repair-coin",
                        "distance-to-edge",
                        VehicleCategory.M1,
                        100,
                        mm -> one(damage(DamageKind.STAR_BREAK, 300, mm + 5, 10))));
    }

    @ParameterizedTest(name = "{0}")
    @MethodSource("limits")
    void holdsJustUnderAtAndJustOverItsBoundary(Limit limit) {
        assertThat(result(limit, limit.limitMm() - HAIR)).as("just under").isEqualTo(limit.under());
        assertThat(result(limit, limit.limitMm())).as("at the limit").isEqualTo(limit.at());
        assertThat(result(limit, limit.limitMm() + HAIR)).as("just over").isEqualTo(limit.over());
        assertStatus(limit.source(), limit.sheet(), limit.rule());
    }

    private static void assertStatus(String source, String sheet, String rule) {
        var status = rule(sheet, rule).source().status().word().replace('-', ' ');
        assertThat(source).endsWith("(" + status + ")");
    }

    /** Everything tried here, to be tried on a sheet that says something else. */
    static List<EveryNumberTests.Tried> cases() {
        var cases = new ArrayList<EveryNumberTests.Tried>();
        limits().forEach(limit -> {
            for (var mm : List.of(limit.limitMm() - HAIR, limit.limitMm(), limit.limitMm() + HAIR)) {
                cases.add(new EveryNumberTests.Tried(
                        limit.sheet(),
                        limit.rule(),
                        sheet -> result(limit.category(), limit.damages().apply(mm), sheet, limit.rule())));
            }
        });
        facts().forEach(fact -> cases.add(new EveryNumberTests.Tried(
                fact.sheet(), fact.rule(), sheet -> result(VehicleCategory.M1, fact.damages(), sheet, fact.rule()))));
        finished()
                .forEach(finished -> cases.add(new EveryNumberTests.Tried(
                        finished.sheet(),
                        finished.rule(),
                        sheet -> Eligibility.on(Cases.car(), List.of(sheet), Choices.standard())
                                .accept(finished.repair().damage(), List.of(finished.repair()))
                                .orElseThrow()
                                .findings()
                                .stream()
                                .filter(finding -> finding.rule().equals(finished.rule()))
                                .map(Finding::result)
                                .findFirst()
                                .orElse(YES))));
        return cases;
    }

    private static Result result(Limit limit, double mm) {
        return result(limit.category(), limit.damages().apply(mm), limit.sheet(), limit.rule());
    }

    private static Result result(VehicleCategory category, List<DamageFacts> damages, String sheet, String rule) {
        return result(category, damages, sheet(sheet), rule);
    }

    private static Result result(VehicleCategory category, List<DamageFacts> damages, Sheet sheet, String rule) {
        return judgeAll(glazing(category, null), damages, sheet).findings().stream()
                .filter(finding -> finding.rule().equals(rule))
                .map(Finding::result)
                .findFirst()
                .orElse(YES); // a rule that has nothing to say is kept
    }

    private record Fact(String source, String sheet, String rule, List<DamageFacts> damages, Result expected) {
        @Override
        public String toString() {
            return source + " [" + sheet + " " + rule + "]";
        }
    }

    static Stream<Fact> facts() {
        return Stream.of(facts1(), facts2()).flatMap(List::stream);
    }

    private static List<Fact> facts1() {
        return List.of(
                new Fact(
                        "outer glass only (secondary)",
                        "au-light-two-reject",
                        "layers",
                        one(damage(DamageKind.STAR_BREAK, 300, 300, 5)),
                        YES),
                new Fact(
                        "inner layers hit (secondary)",
                        "au-light-two-reject",
                        "layers",
                        one(damage(DamageKind.STAR_BREAK, 300, 300, 5).layers(Layers.THROUGH)),
                        NO),
                new Fact(
                        "outer glass only (secondary)",
                        "au-light-two-allowed",
                        "layers",
                        one(damage(DamageKind.STAR_BREAK, 300, 300, 5)),
                        YES),
                new Fact(
                        "inner layers hit (secondary)",
                        "au-light-two-allowed",
                        "layers",
                        one(damage(DamageKind.STAR_BREAK, 300, 300, 5).layers(Layers.THROUGH)),
                        NO),
                new Fact(
                        "outer glass only (seen)",
                        "nz-virm-5-1-headrest",
                        "layers",
                        one(damage(DamageKind.STAR_BREAK, 300, 300, 5)),
                        YES),
                new Fact(
                        "inner layers hit (seen)",
                        "nz-virm-5-1-headrest",
                        "layers",
                        one(damage(DamageKind.STAR_BREAK, 300, 300, 5).layers(Layers.THROUGH)),
                        NO),
                new Fact(
                        "outer glass only (seen)",
                        "nz-virm-5-1-wheel",
                        "layers",
                        one(damage(DamageKind.STAR_BREAK, 300, 300, 5)),
                        YES),
                new Fact(
                        "inner layers hit (seen)",
                        "nz-virm-5-1-wheel",
                        "layers",
                        one(damage(DamageKind.STAR_BREAK, 300, 300, 5).layers(Layers.THROUGH)),
                        NO),
                new Fact(
                        "outer glass only (secondary)",
                        "as-nzs-2366-1-crack-350-headrest",
                        "layers",
                        one(damage(DamageKind.STAR_BREAK, 300, 300, 5)),
                        YES),
                new Fact(
                        "inner layers hit (secondary)",
                        "as-nzs-2366-1-crack-350-headrest",
                        "layers",
                        one(damage(DamageKind.STAR_BREAK, 300, 300, 5).layers(Layers.THROUGH)),
                        NO),
                new Fact(
                        "outer glass only (secondary)",
                        "as-nzs-2366-1-crack-350-wheel",
                        "layers",
                        one(damage(DamageKind.STAR_BREAK, 300, 300, 5)),
                        YES),
                new Fact(
                        "inner layers hit (secondary)",
                        "as-nzs-2366-1-crack-350-wheel",
                        "layers",
                        one(damage(DamageKind.STAR_BREAK, 300, 300, 5).layers(Layers.THROUGH)),
                        NO),
                new Fact(
                        "outer glass only (secondary)",
                        "as-nzs-2366-1-crack-100-headrest",
                        "layers",
                        one(damage(DamageKind.STAR_BREAK, 300, 300, 5)),
                        YES),
                new Fact(
                        "inner layers hit (secondary)",
                        "as-nzs-2366-1-crack-100-headrest",
                        "layers",
                        one(damage(DamageKind.STAR_BREAK, 300, 300, 5).layers(Layers.THROUGH)),
                        NO),
                new Fact(
                        "outer glass only (secondary)",
                        "as-nzs-2366-1-crack-100-wheel",
                        "layers",
                        one(damage(DamageKind.STAR_BREAK, 300, 300, 5)),
                        YES),
                new Fact(
                        "inner layers hit (secondary)",
                        "as-nzs-2366-1-crack-100-wheel",
                        "layers",
                        one(damage(DamageKind.STAR_BREAK, 300, 300, 5).layers(Layers.THROUGH)),
                        NO),
                new Fact(
                        "outer glass only (memory)",
                        "us-rolags-2014",
                        "layers",
                        one(damage(DamageKind.STAR_BREAK, 300, 300, 5)),
                        YES),
                new Fact(
                        "inner layers hit (memory)",
                        "us-rolags-2014",
                        "layers",
                        one(damage(DamageKind.STAR_BREAK, 300, 300, 5).layers(Layers.THROUGH)),
                        NO),
                new Fact(
                        "outer glass only (memory)",
                        "us-rolags-2009-decision",
                        "layers",
                        one(damage(DamageKind.STAR_BREAK, 300, 300, 5)),
                        YES),
                new Fact(
                        "inner layers hit (memory)",
                        "us-rolags-2009-decision",
                        "layers",
                        one(damage(DamageKind.STAR_BREAK, 300, 300, 5).layers(Layers.THROUGH)),
                        NO),
                new Fact(
                        "outer glass only (memory)",
                        "us-rolags-2007",
                        "layers",
                        one(damage(DamageKind.STAR_BREAK, 300, 300, 5)),
                        YES),
                new Fact(
                        "inner layers hit (memory)",
                        "us-rolags-2007",
                        "layers",
                        one(damage(DamageKind.STAR_BREAK, 300, 300, 5).layers(Layers.THROUGH)),
                        NO),
                new Fact(
                        "interlayer dirty (memory)",
                        "us-rolags-2014",
                        "interlayer-clean",
                        one(damage(DamageKind.STAR_BREAK, 300, 300, 5).condition(Condition.DIRTY)),
                        NO),
                new Fact(
                        "interlayer clean (memory)",
                        "us-rolags-2014",
                        "interlayer-clean",
                        one(damage(DamageKind.STAR_BREAK, 300, 300, 5)),
                        YES),
                new Fact(
                        "combination body 50 mm, whole no larger (secondary)",
                        "us-rolags-2014",
                        "combination-break",
                        one(damage(DamageKind.COMBINATION_BREAK, 300, 300, 50)),
                        YES),
                new Fact(
                        "combination body 50 mm, not measured (secondary)",
                        "us-rolags-2014",
                        "combination-break",
                        one(damage(DamageKind.COMBINATION_BREAK, 300, 300, 50.01)),
                        Result.UNCLEAR),
                new Fact(
                        "crack with both ends at edges (memory)",
                        "us-rolags-2014",
                        "crack-from-edge-to-edge",
                        List.of(crack(1, 700, 800, 800, 700)),
                        NO),
                new Fact(
                        "crack with one end at an edge (memory)",
                        "us-rolags-2014",
                        "crack-from-edge-to-edge",
                        List.of(crack(1, 700, 800, 799.99, 700)),
                        YES),
                new Fact(
                        "interlayer dirty (memory)",
                        "us-rolags-2009-decision",
                        "interlayer-clean",
                        one(damage(DamageKind.STAR_BREAK, 300, 300, 5).condition(Condition.DIRTY)),
                        NO),
                new Fact(
                        "interlayer clean (memory)",
                        "us-rolags-2009-decision",
                        "interlayer-clean",
                        one(damage(DamageKind.STAR_BREAK, 300, 300, 5)),
                        YES),
                new Fact(
                        "combination body 50 mm, whole no larger (secondary)",
                        "us-rolags-2009-decision",
                        "combination-break",
                        one(damage(DamageKind.COMBINATION_BREAK, 300, 300, 50)),
                        YES),
                new Fact(
                        "combination body 50 mm, not measured (secondary)",
                        "us-rolags-2009-decision",
                        "combination-break",
                        one(damage(DamageKind.COMBINATION_BREAK, 300, 300, 50.01)),
                        Result.UNCLEAR),
                new Fact(
                        "crack with both ends at edges (memory)",
                        "us-rolags-2009-decision",
                        "crack-from-edge-to-edge",
                        List.of(crack(1, 700, 800, 800, 700)),
                        NO),
                new Fact(
                        "crack with one end at an edge (memory)",
                        "us-rolags-2009-decision",
                        "crack-from-edge-to-edge",
                        List.of(crack(1, 700, 800, 799.99, 700)),
                        YES),
                new Fact(
                        "interlayer dirty (memory)",
                        "us-rolags-2007",
                        "interlayer-clean",
                        one(damage(DamageKind.STAR_BREAK, 300, 300, 5).condition(Condition.DIRTY)),
                        NO),
                new Fact(
                        "interlayer clean (memory)",
                        "us-rolags-2007",
                        "interlayer-clean",
                        one(damage(DamageKind.STAR_BREAK, 300, 300, 5)),
                        YES),
                new Fact(
                        "combination body 50 mm, whole no larger (secondary)",
                        "us-rolags-2007",
                        "combination-break",
                        one(damage(DamageKind.COMBINATION_BREAK, 300, 300, 50)),
                        YES),
                new Fact(
                        "combination body 50 mm, not measured (secondary)",
                        "us-rolags-2007",
                        "combination-break",
                        one(damage(DamageKind.COMBINATION_BREAK, 300, 300, 50.01)),
                        Result.UNCLEAR),
                new Fact(
                        "crack with both ends at edges (memory)",
                        "us-rolags-2007",
                        "crack-from-edge-to-edge",
                        List.of(crack(1, 700, 800, 800, 700)),
                        NO),
                new Fact(
                        "crack with one end at an edge (memory)",
                        "us-rolags-2007",
                        "crack-from-edge-to-edge",
                        List.of(crack(1, 700, 800, 799.99, 700)),
                        YES),
                new Fact(
                        "crack with both ends at edges (secondary)",
                        "as-nzs-2366-1-crack-350-headrest",
                        "crack-from-edge-to-edge",
                        List.of(crack(1, 700, 800, 800, 700)),
                        NO),
                new Fact(
                        "crack with one end at an edge (secondary)",
                        "as-nzs-2366-1-crack-350-headrest",
                        "crack-from-edge-to-edge",
                        List.of(crack(1, 700, 800, 799.99, 700)),
                        YES),
                new Fact(
                        "seven repairs on the glass (secondary)",
                        "as-nzs-2366-1-crack-350-headrest",
                        "repairs-on-the-glass",
                        withRepairs(7, 300),
                        YES),
                new Fact(
                        "eight repairs on the glass (secondary)",
                        "as-nzs-2366-1-crack-350-headrest",
                        "repairs-on-the-glass",
                        withRepairs(8, 300),
                        NO),
                new Fact(
                        "one old repair in the CVA (secondary)",
                        "as-nzs-2366-1-crack-350-headrest",
                        "repairs-in-critical-vision-area",
                        withRepairs(1, WHEEL_X),
                        YES),
                new Fact(
                        "two old repairs in the CVA (secondary)",
                        "as-nzs-2366-1-crack-350-headrest",
                        "repairs-in-critical-vision-area",
                        withRepairs(2, WHEEL_X),
                        NO),
                new Fact(
                        "crack with both ends at edges (secondary)",
                        "as-nzs-2366-1-crack-350-wheel",
                        "crack-from-edge-to-edge",
                        List.of(crack(1, 700, 800, 800, 700)),
                        NO),
                new Fact(
                        "crack with one end at an edge (secondary)",
                        "as-nzs-2366-1-crack-350-wheel",
                        "crack-from-edge-to-edge",
                        List.of(crack(1, 700, 800, 799.99, 700)),
                        YES),
                new Fact(
                        "seven repairs on the glass (secondary)",
                        "as-nzs-2366-1-crack-350-wheel",
                        "repairs-on-the-glass",
                        withRepairs(7, 300),
                        YES),
                new Fact(
                        "eight repairs on the glass (secondary)",
                        "as-nzs-2366-1-crack-350-wheel",
                        "repairs-on-the-glass",
                        withRepairs(8, 300),
                        NO),
                new Fact(
                        "one old repair in the CVA (secondary)",
                        "as-nzs-2366-1-crack-350-wheel",
                        "repairs-in-critical-vision-area",
                        withRepairs(1, WHEEL_X),
                        YES),
                new Fact(
                        "two old repairs in the CVA (secondary)",
                        "as-nzs-2366-1-crack-350-wheel",
                        "repairs-in-critical-vision-area",
                        withRepairs(2, WHEEL_X),
                        NO),
                new Fact(
                        "crack with both ends at edges (secondary)",
                        "as-nzs-2366-1-crack-100-headrest",
                        "crack-from-edge-to-edge",
                        List.of(crack(1, 700, 800, 800, 700)),
                        NO),
                new Fact(
                        "crack with one end at an edge (secondary)",
                        "as-nzs-2366-1-crack-100-headrest",
                        "crack-from-edge-to-edge",
                        List.of(crack(1, 700, 800, 799.99, 700)),
                        YES),
                new Fact(
                        "seven repairs on the glass (secondary)",
                        "as-nzs-2366-1-crack-100-headrest",
                        "repairs-on-the-glass",
                        withRepairs(7, 300),
                        YES),
                new Fact(
                        "eight repairs on the glass (secondary)",
                        "as-nzs-2366-1-crack-100-headrest",
                        "repairs-on-the-glass",
                        withRepairs(8, 300),
                        NO),
                new Fact(
                        "one old repair in the CVA (secondary)",
                        "as-nzs-2366-1-crack-100-headrest",
                        "repairs-in-critical-vision-area",
                        withRepairs(1, WHEEL_X),
                        YES),
                new Fact(
                        "two old repairs in the CVA (secondary)",
                        "as-nzs-2366-1-crack-100-headrest",
                        "repairs-in-critical-vision-area",
                        withRepairs(2, WHEEL_X),
                        NO),
                new Fact(
                        "crack with both ends at edges (secondary)",
                        "as-nzs-2366-1-crack-100-wheel",
                        "crack-from-edge-to-edge",
                        List.of(crack(1, 700, 800, 800, 700)),
                        NO),
                new Fact(
                        "crack with one end at an edge (secondary)",
                        "as-nzs-2366-1-crack-100-wheel",
                        "crack-from-edge-to-edge",
                        List.of(crack(1, 700, 800, 799.99, 700)),
                        YES));
    }

    private static List<Fact> facts2() {
        return List.of(
                new Fact(
                        "seven repairs on the glass (secondary)",
                        "as-nzs-2366-1-crack-100-wheel",
                        "repairs-on-the-glass",
                        withRepairs(7, 300),
                        YES),
                new Fact(
                        "eight repairs on the glass (secondary)",
                        "as-nzs-2366-1-crack-100-wheel",
                        "repairs-on-the-glass",
                        withRepairs(8, 300),
                        NO),
                new Fact(
                        "one old repair in the CVA (secondary)",
                        "as-nzs-2366-1-crack-100-wheel",
                        "repairs-in-critical-vision-area",
                        withRepairs(1, WHEEL_X),
                        YES),
                new Fact(
                        "two old repairs in the CVA (secondary)",
                        "as-nzs-2366-1-crack-100-wheel",
                        "repairs-in-critical-vision-area",
                        withRepairs(2, WHEEL_X),
                        NO),
                new Fact(
                        "one mark in area A (secondary)",
                        "au-light-two-reject",
                        "two-marks-in-area-a",
                        stars(1, -300, 10),
                        YES),
                new Fact(
                        "any two in area A reject (secondary)",
                        "au-light-two-reject",
                        "two-marks-in-area-a",
                        stars(2, -300, 10),
                        NO),
                new Fact(
                        "two outside area A (secondary)",
                        "au-light-two-reject",
                        "two-marks-in-area-a",
                        stars(2, 300, 10),
                        YES),
                new Fact(
                        "two in area A are allowed (secondary)",
                        "au-light-two-allowed",
                        "three-marks-in-area-a",
                        stars(2, -300, 10),
                        YES),
                new Fact(
                        "three in area A (secondary)",
                        "au-light-two-allowed",
                        "three-marks-in-area-a",
                        stars(3, -300, 10),
                        NO),
                new Fact(
                        "crack of 40 mm from the edge is no hairline (secondary)",
                        "au-light-two-allowed",
                        "hairline-crack-in-area-a",
                        List.of(crack(1, -300, 800, -300, 760)),
                        YES),
                new Fact(
                        "one crack from the edge into the sweep (seen)",
                        "us-maryland",
                        "cracks-from-edge",
                        List.of(crack(1, 300, 0, 300, 100)),
                        YES),
                new Fact(
                        "two cracks from the edge into the sweep (seen)",
                        "us-maryland",
                        "cracks-from-edge",
                        List.of(crack(1, 300, 0, 300, 100), crack(2, 400, 0, 400, 100)),
                        NO),
                new Fact(
                        "the second crack does not reach the sweep (seen)",
                        "us-maryland",
                        "cracks-from-edge",
                        List.of(crack(1, 300, 0, 300, 100), crack(2, 400, 0, 400, 49)),
                        YES),
                new Fact(
                        "the second crack does not start at the edge (seen)",
                        "us-maryland",
                        "cracks-from-edge",
                        List.of(crack(1, 300, 0, 300, 100), crack(2, 400, 10, 400, 100)),
                        YES),
                new Fact(
                        "two cracks over 150 mm (seen)",
                        "ca-british-columbia",
                        "number-of-long-cracks",
                        cracks(2, 200),
                        YES),
                new Fact(
                        "one stone mark over 20 mm (seen)",
                        "ca-british-columbia",
                        "number-of-large-stone-marks",
                        stars(1, 300, 25),
                        YES));
    }

    @ParameterizedTest(name = "{0}")
    @MethodSource("facts")
    void readsWhatIsNoLength(Fact fact) {
        assertThat(result(VehicleCategory.M1, fact.damages(), fact.sheet(), fact.rule()))
                .isEqualTo(fact.expected());
        assertStatus(fact.source(), fact.sheet(), fact.rule());
    }

    private record Finished(String source, String sheet, String rule, DamageFacts repair, Result expected) {
        @Override
        public String toString() {
            return source + " [" + sheet + " " + rule + "]";
        }
    }

    static Stream<Finished> finished() {
        return Stream.of(
                new Finished(
                        "ROLAGS 2014, finished pit in the DPVA 3/16 in, 4.75 mm (memory)",
                        "us-rolags-2014-finished",
                        "finished-pit-in-viewing-area",
                        damage(DamageKind.STAR_BREAK, WHEEL_X, 300, 20)
                                .pit(4.75)
                                .repaired()
                                .facts(),
                        YES),
                new Finished(
                        "ROLAGS 2014, finished pit in the DPVA 3/16 in, 4.7625 mm (memory)",
                        "us-rolags-2014-finished",
                        "finished-pit-in-viewing-area",
                        damage(DamageKind.STAR_BREAK, WHEEL_X, 300, 20)
                                .pit(4.7625)
                                .repaired()
                                .facts(),
                        YES),
                new Finished(
                        "ROLAGS 2014, finished pit in the DPVA 3/16 in, 4.77 mm (memory)",
                        "us-rolags-2014-finished",
                        "finished-pit-in-viewing-area",
                        damage(DamageKind.STAR_BREAK, WHEEL_X, 300, 20)
                                .pit(4.77)
                                .repaired()
                                .facts(),
                        NO),
                new Finished(
                        "view undisturbed (memory)",
                        "us-rolags-2014-finished",
                        "view-undisturbed",
                        damage(DamageKind.STAR_BREAK, WHEEL_X, 300, 20)
                                .found(Grade.NONE)
                                .repaired()
                                .facts(),
                        YES),
                new Finished(
                        "view hampered (memory)",
                        "us-rolags-2014-finished",
                        "view-undisturbed",
                        damage(DamageKind.STAR_BREAK, WHEEL_X, 300, 20)
                                .found(Grade.MINOR)
                                .repaired()
                                .facts(),
                        NO),
                new Finished(
                        "nobody looked at the view (memory)",
                        "us-rolags-2014-finished",
                        "view-undisturbed",
                        damage(DamageKind.STAR_BREAK, WHEEL_X, 300, 20)
                                .repaired()
                                .facts(),
                        Result.UNCLEAR),
                new Finished(
                        "view undisturbed (secondary)",
                        "bs-au-242b-2022-finished",
                        "view-undisturbed",
                        damage(DamageKind.STAR_BREAK, WHEEL_X, 300, 20)
                                .found(Grade.NONE)
                                .repaired()
                                .facts(),
                        YES),
                new Finished(
                        "view hampered (secondary)",
                        "bs-au-242b-2022-finished",
                        "view-undisturbed",
                        damage(DamageKind.STAR_BREAK, WHEEL_X, 300, 20)
                                .found(Grade.MINOR)
                                .repaired()
                                .facts(),
                        NO),
                new Finished(
                        "nobody looked at the view (secondary)",
                        "bs-au-242b-2022-finished",
                        "view-undisturbed",
                        damage(DamageKind.STAR_BREAK, WHEEL_X, 300, 20)
                                .repaired()
                                .facts(),
                        Result.UNCLEAR),
                finished("bs-au-242b-2022-finished", "level-with-the-glass", Grade.NONE, true, null, YES),
                finished("bs-au-242b-2022-finished", "level-with-the-glass", Grade.NONE, false, null, NO),
                finished("bs-au-242b-2022-finished", "level-with-the-glass", Grade.NONE, null, true, Result.UNCLEAR),
                finished("bs-au-242b-2022-finished", "hardly-to-be-found", Grade.NONE, null, true, YES),
                finished("bs-au-242b-2022-finished", "hardly-to-be-found", Grade.NONE, null, false, NO),
                finished("bs-au-242b-2022-finished", "hardly-to-be-found", Grade.NONE, true, null, Result.UNCLEAR),
                finished("common-practice-finished", "level-with-the-glass", Grade.NONE, true, null, YES),
                finished("common-practice-finished", "level-with-the-glass", Grade.NONE, false, null, NO),
                finished("common-practice-finished", "clear-from-both-sides", Grade.NONE, null, true, YES),
                finished("common-practice-finished", "clear-from-both-sides", Grade.NONE, null, false, NO),
                finished("common-practice-finished", "view-undisturbed", Grade.MINOR, null, null, YES),
                finished("common-practice-finished", "view-undisturbed", Grade.MAJOR, null, null, NO),
                new Finished(
                        "in the camera area (memory)",
                        "us-rolags-2014-finished",
                        "camera-undisturbed",
                        damage(DamageKind.STAR_BREAK, 0, 720, 5).repaired().facts(),
                        NO),
                new Finished(
                        "just beside the camera area (memory)",
                        "us-rolags-2014-finished",
                        "camera-undisturbed",
                        damage(DamageKind.STAR_BREAK, 77.51, 720, 5).repaired().facts(),
                        YES));
    }

    private static Finished finished(
            String sheet, String rule, Grade view, @Nullable Boolean level, @Nullable Boolean clear, Result expected) {
        return new Finished(
                "view " + view + ", level " + level + ", clear " + clear
                        + (sheet.startsWith("common") ? ", no source (common practice)" : " (secondary)"),
                sheet,
                rule,
                damage(DamageKind.STAR_BREAK, WHEEL_X, 300, 20)
                        .found(view)
                        .finish(level, clear)
                        .repaired()
                        .facts(),
                expected);
    }

    @ParameterizedTest(name = "{0}")
    @MethodSource("finished")
    void acceptsAFinishedRepair(Finished finished) {
        var judge = Eligibility.on(Cases.car(), List.of(sheet(finished.sheet())), Choices.standard());
        var acceptance = judge.accept(finished.repair().damage(), List.of(finished.repair()))
                .orElseThrow();
        assertThat(acceptance.findings())
                .filteredOn(finding -> finding.rule().equals(finished.rule()))
                .extracting(Finding::result)
                .containsExactly(finished.expected());
        assertStatus(finished.source(), finished.sheet(), finished.rule());
    }

    /** Sheet and rule of everything tried here. */
    static Set<String> tried() {
        var tried = new HashSet<String>();
        limits().forEach(limit -> tried.add(limit.sheet() + " " + limit.rule()));
        facts().forEach(fact -> tried.add(fact.sheet() + " " + fact.rule()));
        finished().forEach(finished -> tried.add(finished.sheet() + " " + finished.rule()));
        return tried;
    }

    static Rule rule(String sheet, String rule) {
        return sheet(sheet).rules().stream()
                .filter(one -> one.name().equals(rule))
                .findFirst()
                .orElseThrow(() -> new AssertionError(sheet + " has no rule " + rule));
    }
}

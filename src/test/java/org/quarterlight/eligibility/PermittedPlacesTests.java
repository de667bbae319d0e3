package org.quarterlight.eligibility;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.quarterlight.eligibility.Cases.damage;
import static org.quarterlight.eligibility.Cases.sheet;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;
import org.locationtech.jts.geom.Coordinate;
import org.locationtech.jts.geom.Geometry;
import org.quarterlight.glass.DamageKind;
import org.quarterlight.glass.Measured;
import org.quarterlight.glass.VehicleCategory;

class PermittedPlacesTests {
    private static Geometry places(
            Glazing glazing, DamageKind kind, double diameterMm, List<DamageFacts> others, List<Sheet> sheets) {
        return Eligibility.permitted(glazing, kind, diameterMm, others, sheets).places();
    }

    @Test
    void isTheGlassWithoutItsEdgeAndTheDriversZone() { // common practice, no source: 100 mm, 290 mm, 20 mm
        var permitted =
                places(Cases.car(), DamageKind.BULLSEYE, 20, List.of(), List.of(sheet("common-practice-repair")));
        var inside = 1380.0 * 580; // 110 mm off each edge
        var zone = (290 + 20) * (690.0 - 110); // the band within the swept area, 10 mm wider on each side
        assertThat(permitted.getArea()).isCloseTo(inside - zone, within(1.0));
    }

    @Test
    void isNowhereForADamageThatIsTooLarge() {
        var permitted =
                places(Cases.car(), DamageKind.BULLSEYE, 20.01, List.of(), List.of(sheet("common-practice-repair")));
        assertThat(permitted.isEmpty()).isTrue();
    }

    @Test
    void keepsClearOfEarlierRepairsWhereASheetSaysSo() {
        var own = Sheets.read("own", """
            {
              "id": "own", "name": "Own", "version": 1, "question": "repairable", "validFrom": "2026-01-01",
              "rules": [
                {
                  "rule": "distance-to-earlier-repair", "quantity": "distance-to-finished-repair",
                  "bound": "at-least", "limitMm": 100, "ifBroken": "no", "countsFinishedRepairs": true,
                  "source": { "document": "common practice, no source", "status": "common-practice" }
                }
              ]
            }
            """);
        var earlier = damage(DamageKind.BULLSEYE, 300, 400, 20).repaired().facts();
        var permitted = places(Cases.car(), DamageKind.PIT, 10, List.of(earlier), List.of(own));
        assertThat(1600 * 800 - permitted.getArea()).isCloseTo(Math.PI * 115 * 115, within(20.0));
    }

    @Test
    void agreesWithTheVerdictEverywhereButOnItsBorder() {
        var random = new Random(5);
        for (var slug : List.of("common-practice-repair", "bs-au-242b-2022", "de-repair-1986")) {
            for (var category : List.of(VehicleCategory.M1, VehicleCategory.N3)) {
                var glazing = Cases.glazing(category, null);
                var diameterMm = random.nextDouble(5, 30);
                var sheets = List.of(sheet(slug));
                var permitted = places(glazing, DamageKind.BULLSEYE, diameterMm, List.of(), sheets);
                for (var i = 0; i < 300; i++) {
                    var x = random.nextDouble(-800, 800);
                    var y = random.nextDouble(0, 800);
                    var place = Cases.GEOMETRY.createPoint(new Coordinate(x, y));
                    if (permitted.getBoundary().distance(place) < 0.5) { // arcs are drawn by chords
                        continue;
                    }
                    var facts = damage(DamageKind.BULLSEYE, x, y, diameterMm)
                            .pit(3.0)
                            .leg(3.0)
                            .facts();
                    var verdict = Cases.judge(glazing, facts, sheet(slug));
                    assertThat(verdict.answers().repairable().result() == Result.YES)
                            .as("%s, %s, %f mm at %f, %f".formatted(slug, category, diameterMm, x, y))
                            .isEqualTo(permitted.contains(place));
                }
            }
        }
    }

    /** All that the map takes for granted: half of it a leg, half of it a body, outer glass, clean, dry and new. */
    private static DamageFacts asTaken(DamageKind kind, double xMm, double yMm, double diameterMm) {
        var plain = damage(kind, xMm, yMm, diameterMm)
                .pit(kind == DamageKind.PIT ? diameterMm : 0.0)
                .leg(kind == DamageKind.CRACK ? diameterMm : diameterMm / 2)
                .facts();
        return new DamageFacts(
                plain.damage(),
                plain.observation(),
                kind,
                plain.shape(),
                0,
                plain.overallDiameter(),
                plain.pit(),
                plain.longestLeg(),
                plain.layers(),
                plain.condition(),
                false,
                null,
                plain.seenOn(),
                null,
                new Measured(diameterMm / 2, 0));
    }

    private static Stream<Sheet> repairSheets() {
        return Sheets.shipped().stream().filter(sheet -> sheet.question() == Question.REPAIRABLE);
    }

    @ParameterizedTest
    @MethodSource("repairSheets")
    void agreesWithTheVerdictByEveryShippedSheetBesideOtherDamages(Sheet sheet) {
        var random = new Random(sheet.id().hashCode());
        var others = List.of(
                damage(DamageKind.BULLSEYE, 300, 250, 8).numbered(1).facts(),
                damage(DamageKind.PIT, -300, 550, 4).numbered(2).facts(),
                damage(DamageKind.STAR_BREAK, 450, 550, 12)
                        .numbered(3)
                        .repaired()
                        .facts(),
                damage(DamageKind.BULLSEYE, -350, 250, 9).numbered(4).repaired().facts());
        for (var category : List.of(VehicleCategory.M1, VehicleCategory.N3)) {
            var glazing = Cases.glazing(category, null);
            if (!sheet.appliesTo(glazing.vehicle())) {
                continue;
            }
            for (var kind : DamageKind.values()) {
                if (kind == DamageKind.NOT_SURE) { // what a rule only suspects is no answer
                    continue;
                }
                var diameterMm = random.nextDouble(2, 24);
                var permitted = Eligibility.permitted(glazing, kind, diameterMm, others, List.of(sheet));
                for (var i = 0; i < 120; i++) {
                    // Every second one near another damage, where distances and counts decide.
                    var by = others.get(i % others.size()).shape();
                    var x = i % 2 == 0 ? random.nextDouble(-800, 800) : by.xMm() + random.nextDouble(-60, 60);
                    var y = i % 2 == 0 ? random.nextDouble(0, 800) : by.yMm() + random.nextDouble(-60, 60);
                    var place = Cases.GEOMETRY.createPoint(new Coordinate(x, y));
                    if (permitted.places().getBoundary().distance(place) < 0.5) { // arcs are drawn by chords
                        continue;
                    }
                    var all = new ArrayList<DamageFacts>(List.of(asTaken(kind, x, y, diameterMm)));
                    all.addAll(others);
                    var result = Cases.judgeAll(glazing, all, sheet)
                            .answers()
                            .repairable()
                            .result();
                    var what = "%s, %s, %f mm at %f, %f: %s".formatted(category, kind, diameterMm, x, y, result);
                    if (kind == DamageKind.CRACK) { // of a circle alone nobody knows how the crack runs
                        assertThat(result == Result.NO && permitted.places().contains(place))
                                .as(what)
                                .isFalse();
                    } else {
                        assertThat(permitted.places().contains(place)).as(what).isEqualTo(result == Result.YES);
                    }
                }
            }
        }
    }

    @Test
    void tellsTheShareOfTheWipedArea() { // common practice, no source: 100 mm, 290 mm, 20 mm
        var permitted = Eligibility.permitted(
                Cases.car(), DamageKind.BULLSEYE, 20, List.of(), List.of(sheet("common-practice-repair")));
        var wiped = 1500.0 * 750; // from 700 mm left and 50 mm up to the corner
        var both = (690.0 + 690) * (690 - 110) - (290 + 20) * (690.0 - 110);
        assertThat(permitted.shareOfWipedArea()).isCloseTo(both / wiped, within(0.02));
        assertThat(Eligibility.permitted(
                                Cases.car(),
                                DamageKind.BULLSEYE,
                                30,
                                List.of(),
                                List.of(sheet("common-practice-repair")))
                        .shareOfWipedArea())
                .isZero();
    }

    @ParameterizedTest(name = "{0}: {4}")
    @CsvSource(
            delimiter = '|',
            value = {
                "STAR_BREAK | longest-leg | 12 | 24 | YES | half as long",
                "STAR_BREAK | longest-leg | 12 | 26 | NO | half as long",
                "COMBINATION_BREAK | body-diameter | 12 | 26 | NO | half as wide",
                "BULLSEYE | pit-diameter | 3 | 26 | YES | pit is as small",
                "PIT | pit-diameter | 3 | 4 | NO | ''",
                "CRACK | crack-length | 50 | 51 | NO | straight",
                "CRACK | length-in-zone | 50 | 51 | NO | runs straight"
            })
    void saysWhatItTakesForGranted(
            DamageKind kind, String quantity, double limitMm, double diameterMm, Result inTheMiddle, String taken) {
        var own = Sheets.read("own", """
            {
              "id": "own", "name": "Own", "version": 1, "question": "repairable", "validFrom": "2026-01-01",
              "rules": [
                { "rule": "one", "where": "swept-area", "quantity": "%s", "bound": "at-most", "limitMm": %s,
                  "ifBroken": "no", "countsFinishedRepairs": false,
                  "source": { "document": "common practice, no source", "status": "common-practice" } }
              ]
            }
            """.formatted(quantity, limitMm));
        var permitted = Eligibility.permitted(Cases.car(), kind, diameterMm, List.of(), List.of(own));
        assertThat(permitted.places().contains(Cases.GEOMETRY.createPoint(new Coordinate(200, 400))))
                .isEqualTo(inTheMiddle == Result.YES);
        assertThat(String.join(" ", permitted.taken())).contains(taken);
    }

    @Test
    void forbidsEverywhereWhatAKindMayNotBeAnywhere() {
        var own = Sheets.read("own", """
            {
              "id": "own", "name": "Own", "version": 1, "question": "repairable", "validFrom": "2026-01-01",
              "rules": [
                { "rule": "no-combination", "kinds": ["combination-break"], "quantity": "overall-diameter",
                  "bound": "less-than", "limitMm": 0.1, "ifBroken": "no", "countsFinishedRepairs": false,
                  "source": { "document": "common practice, no source", "status": "common-practice" } }
              ]
            }
            """);
        assertThat(places(Cases.car(), DamageKind.COMBINATION_BREAK, 5, List.of(), List.of(own))
                        .isEmpty())
                .isTrue();
        assertThat(places(Cases.car(), DamageKind.BULLSEYE, 5, List.of(), List.of(own))
                        .getArea())
                .isCloseTo(1600.0 * 800, within(1.0));
    }
}

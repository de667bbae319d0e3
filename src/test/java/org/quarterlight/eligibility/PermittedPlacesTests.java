package org.quarterlight.eligibility;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.quarterlight.eligibility.Cases.damage;
import static org.quarterlight.eligibility.Cases.sheet;

import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.locationtech.jts.geom.Coordinate;
import org.quarterlight.glass.DamageKind;
import org.quarterlight.glass.VehicleCategory;

class PermittedPlacesTests {
    @Test
    void isTheGlassWithoutItsEdgeAndTheDriversZone() { // common practice, no source: 100 mm, 290 mm, 20 mm
        var permitted = Eligibility.permitted(
                Cases.car(), DamageKind.BULLSEYE, 20, List.of(), List.of(sheet("common-practice-repair")));
        var inside = 1380.0 * 580; // 110 mm off each edge
        var zone = (290 + 20) * (690.0 - 110); // the band within the swept area, 10 mm wider on each side
        assertThat(permitted.getArea()).isCloseTo(inside - zone, within(1.0));
    }

    @Test
    void isNowhereForADamageThatIsTooLarge() {
        var permitted = Eligibility.permitted(
                Cases.car(), DamageKind.BULLSEYE, 20.01, List.of(), List.of(sheet("common-practice-repair")));
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
        var permitted = Eligibility.permitted(Cases.car(), DamageKind.PIT, 10, List.of(earlier), List.of(own));
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
                var permitted = Eligibility.permitted(glazing, DamageKind.BULLSEYE, diameterMm, List.of(), sheets);
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
}

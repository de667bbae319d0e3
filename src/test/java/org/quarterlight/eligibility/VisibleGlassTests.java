package org.quarterlight.eligibility;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.quarterlight.eligibility.Cases.damage;
import static org.quarterlight.eligibility.Cases.glazing;
import static org.quarterlight.eligibility.Cases.judge;
import static org.quarterlight.eligibility.Cases.sheet;

import java.util.List;
import java.util.Map;
import java.util.Objects;
import org.junit.jupiter.api.Test;
import org.quarterlight.glass.DamageKind;
import org.quarterlight.glass.GenericGlass;
import org.quarterlight.glass.GlassMeasurements;
import org.quarterlight.glass.GlassPattern;
import org.quarterlight.glass.SteeringSide;
import org.quarterlight.glass.VehicleCategory;

/** The edge that can be seen: where the printed border ends, or the glass itself where nobody knows how wide that is. */
class VisibleGlassTests {
    private static final Sheet SHEET = Sheets.read("own", """
        { "id": "own", "name": "Own", "version": 1, "question": "repairable", "validFrom": "2026-01-01",
          "rules": [
            { "rule": "visible-edge", "where": "visible-glass", "quantity": "distance-to-edge", "bound": "at-least",
              "limitMm": 30, "ifBroken": "no", "countsFinishedRepairs": false,
              "source": { "document": "none", "status": "common-practice" } },
            { "rule": "edge", "quantity": "distance-to-edge", "bound": "at-least", "limitMm": 30, "ifBroken": "no",
              "countsFinishedRepairs": false, "source": { "document": "none", "status": "common-practice" } }
          ] }
        """);

    private static Glazing withBorder(double widthMm) {
        var given = GenericGlass.SMALL_CAR.measurements(SteeringSide.LEFT);
        var measured = new GlassMeasurements(
                given.lowerWidthMm(),
                given.upperWidthMm(),
                given.heightMm(),
                given.lowerBowMm(),
                given.upperBowMm(),
                given.cornerRadiusMm(),
                given.rakeDegrees(),
                given.steeringSide(),
                given.wheelOffsetMm(),
                given.wheelTopMm(),
                given.eyeOffsetMm(),
                given.eyeHeightMm(),
                widthMm,
                given.wipers(),
                given.cameraArea(),
                given.equipment());
        return new Glazing(
                GlassPattern.of(measured),
                new PatternReference("own", 1, false),
                new VehicleFacts(VehicleCategory.M1, null));
    }

    private static double measured(Glazing glazing, String rule) {
        var crack = damage(DamageKind.PIT, 0, 120, 10).facts();
        return Objects.requireNonNull(judge(glazing, crack, SHEET).findings().stream()
                .filter(finding -> finding.rule().equals(rule))
                .findFirst()
                .orElseThrow()
                .measuredMm());
    }

    @Test
    void theDistanceIsTakenToWhereTheBorderEnds() {
        assertThat(measured(withBorder(40), "visible-edge"))
                .isCloseTo(
                        measured(withBorder(40), "edge") - 40, within(0.5)); // the border's corners are drawn in steps
    }

    @Test
    void withoutAKnownBorderItIsTakenToTheEdgeOfTheGlass() {
        assertThat(measured(withBorder(0), "visible-edge")).isEqualTo(measured(withBorder(0), "edge"));
        assertThat(Objects.requireNonNull(
                                Eligibility.zones(withBorder(0), SHEET).get(Zone.VISIBLE_GLASS))
                        .getArea())
                .isCloseTo(withBorder(0).pattern().outline().getArea(), within(1.0));
    }

    @Test
    void underTheBorderNothingIsKept() { // Verkehrsblatt 1986 no. 55: no crack ends under an edge cover (secondary)
        var under = damage(DamageKind.CRACK, 300, 15, 8).leg(8.0).facts();
        var verdict = judge(glazing(VehicleCategory.M1, null), under, sheet("de-repair-1986"));
        assertThat(verdict.findings())
                .filteredOn(finding -> finding.rule().equals("crack-end-in-sight"))
                .singleElement()
                .satisfies(finding -> {
                    assertThat(finding.result()).isEqualTo(Result.NO);
                    assertThat(finding.measuredMm()).isCloseTo(-9, within(0.1));
                });
        var judge = OutcomeJudge.on(
                glazing(VehicleCategory.M1, null), List.of(sheet("de-repair-1986")), Choices.standard());
        assertThat(judge.outcomes(List.of(under), Cases.NOW)).isEqualTo(Map.of(under.damage(), verdict.outcome()));
    }

    @Test
    void theMapLeavesOutTheBorder() {
        var glazing = withBorder(40);
        var with = Eligibility.permitted(
                glazing,
                DamageKind.PIT,
                4,
                List.of(),
                List.of(SHEET.with(List.of(SHEET.rules().getFirst()))));
        var without = Eligibility.permitted(
                glazing,
                DamageKind.PIT,
                4,
                List.of(),
                List.of(SHEET.with(List.of(SHEET.rules().getLast()))));
        assertThat(without.places().covers(with.places().buffer(35))).isTrue();
        assertThat(with.places().getArea()).isLessThan(without.places().getArea());
    }
}

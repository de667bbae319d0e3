package org.quarterlight.eligibility;

import static java.util.Objects.requireNonNull;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;
import org.quarterlight.glass.GenericGlass;
import org.quarterlight.glass.GlassPattern;
import org.quarterlight.glass.SteeringSide;
import org.quarterlight.glass.VehicleCategory;

/**
 * What the zones leave out of account, and how much that is on the shipped patterns. Widths are taken along the glass, as a
 * tape lies on it, and not across the vehicle; heights that stand upright are divided by the sine of the rake, the glass
 * being flat up and down; borders and sheets of paper lie on the glass.
 */
class SimplificationsTests {
    /** How far the middle of a windscreen bows out over its width, as a share of that. Ours, plausible, no source. */
    private static final double BOWED_BY = 0.08;

    /** How far the middle of a windscreen bows out over its height, as a share of that. Ours, plausible, no source. */
    private static final double BOWED_UP_BY = 0.02;

    /** The radius of an arc that bows out by this over a chord. */
    private static double radius(double chordMm, double bowMm) {
        return chordMm * chordMm / (8 * bowMm) + bowMm / 2;
    }

    @ParameterizedTest(name = "{0}, zone {1} mm: {2} mm at most on each side")
    @CsvSource({ // computed: a chord across the vehicle against the arc along the glass, where the wheel is
        "SMALL_CAR,290,M1,4",
        "VAN,290,N1,4",
        "RIGID_TRUCK,350,N3,5",
        "COACH,500,M3,7"
    })
    void aWidthAlongTheGlassIsNarrowerThanTheSameAcrossTheVehicle(
            GenericGlass glass, double widthMm, VehicleCategory category, double most) {
        var measured = glass.measurements(SteeringSide.LEFT);
        var acrossMm = measured.lowerWidthMm();
        var radius = radius(acrossMm, BOWED_BY * acrossMm);
        var wheel = Math.asin(measured.wheelOffsetMm() / radius);
        var outer = Math.asin(Math.min(1, (measured.wheelOffsetMm() + widthMm / 2) / radius)) - wheel;
        var inner = wheel - Math.asin((measured.wheelOffsetMm() - widthMm / 2) / radius);
        // On the glass the zone drawn across the vehicle would reach so much farther than the one that is used.
        assertThat(radius * outer - widthMm / 2).isBetween(0.0, most);
        assertThat(radius * inner - widthMm / 2).isBetween(0.0, most);
        assertThat(GenericGlass.of(category)).isEqualTo(glass);
    }

    @ParameterizedTest
    @EnumSource(GenericGlass.class)
    void aHeightOnFlatGlassIsTrueToASmallShareOnABowedOne(GenericGlass glass) {
        var measured = glass.measurements(SteeringSide.LEFT);
        var radius = radius(measured.heightMm(), BOWED_UP_BY * measured.heightMm());
        // The rake of bowed glass differs from its mean by up to this at a quarter of the height from the middle.
        var off = Math.asin(measured.heightMm() / 4 / radius);
        var rake = Math.toRadians(measured.rakeDegrees());
        var flat = 290 / Math.sin(rake);
        var bowed = 290 / Math.sin(rake - off);
        assertThat((bowed - flat) / flat).isBetween(0.0, glass == GenericGlass.SMALL_CAR ? 0.08 : 0.05);
    }

    @ParameterizedTest(name = "{0}: {2} mm up and down on the glass")
    @CsvSource({ // 145 / sin ρ with ρ = 45°, 78°, 72°: against 145 along the glass it would be 60, 3 and 7 mm too low
        "VAN,M2,205.06",
        "RIGID_TRUCK,N3,148.24",
        "COACH,M3,152.46"
    })
    void aSquareBeforeTheEyeIsTallerOnRakedGlass(GenericGlass glass, VehicleCategory category, double halfMm) {
        var pattern = GlassPattern.of(glass.measurements(SteeringSide.LEFT));
        var glazing = new Glazing(pattern, new PatternReference("generic", 1, true), new VehicleFacts(category, null));
        var square = requireNonNull(
                Eligibility.zones(glazing, Cases.sheet("de-repair-1986")).get("drivers-zone"));
        var box = square.getEnvelopeInternal();
        assertThat(box.getMaxY() - pattern.eyePointMm().y).isCloseTo(halfMm, within(0.01));
        assertThat(box.getWidth()).isCloseTo(290, within(0.01));
    }

    @Test
    void bordersAndSheetsOfPaperLieOnTheGlass() { // 49 CFR 393.60: 2 in below the top; a letter sheet is 8.5 by 11 in
        var rake = Cases.glazing(VehicleCategory.N3, 18000.0);
        var paper = Eligibility.zones(rake, Cases.sheet("us-west-virginia"));
        assertThat(paper.values())
                .isNotEmpty()
                .anySatisfy(zone ->
                        assertThat(zone.getEnvelopeInternal().getHeight()).isCloseTo(279.4, within(0.01)));
        var inset = Eligibility.zones(rake, Cases.sheet("us-49-cfr-393-60"));
        assertThat(List.copyOf(inset.values()))
                .anySatisfy(
                        zone -> assertThat(zone.getEnvelopeInternal().getMaxY()).isCloseTo(800 - 51, within(0.01)));
    }
}

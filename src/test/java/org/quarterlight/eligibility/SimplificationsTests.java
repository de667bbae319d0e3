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
    @ParameterizedTest(name = "{0}, zone {1} mm: {2} mm at most on each side")
    @CsvSource({ // computed: a chord across the vehicle against the arc along the glass, where the wheel is
        "SMALL_CAR,290,M1,4",
        "VAN,290,N1,4",
        "RIGID_TRUCK,350,N3,5",
        "COACH,500,M3,7"
    })
    void aWidthAlongTheGlassIsNarrowerThanTheSameAcrossTheVehicle(
            GenericGlass glass, double widthMm, VehicleCategory category, double most) {
        // On the glass the zone drawn across the vehicle would reach so much farther than the one that is used.
        assertThat(Simplifications.widthMm(glass, widthMm)).isBetween(most - 1, most);
        assertThat(GenericGlass.of(category)).isEqualTo(glass);
    }

    @ParameterizedTest
    @EnumSource(GenericGlass.class)
    void aHeightOnFlatGlassIsTrueToASmallShareOnABowedOne(GenericGlass glass) {
        // The rake of bowed glass differs from its mean by up to this at a quarter of the height from the middle.
        assertThat(Simplifications.heightShare(glass)).isBetween(0.0, glass == GenericGlass.SMALL_CAR ? 0.08 : 0.05);
    }

    @ParameterizedTest
    @CsvSource({ // by hand: ρ = 30°, 45°, 78°, 72° and asin(h / 4 / R) with R = h² / (8 · 0.02 h) + 0.01 h
        "SMALL_CAR,0.076",
        "VAN,0.042",
        "RIGID_TRUCK,0.009",
        "COACH,0.014"
    })
    void howMuchThatIs(GenericGlass glass, double share) {
        assertThat(Simplifications.heightShare(glass)).isCloseTo(share, within(0.002));
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

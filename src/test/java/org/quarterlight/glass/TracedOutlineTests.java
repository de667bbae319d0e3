package org.quarterlight.glass;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.stream.IntStream;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;

class TracedOutlineTests {
    private static final List<OutlineCorner> HEXAGON =
            corners(-700, 0, 700, 0, 800, 300, 600, 800, -600, 800, -800, 300);

    private static List<OutlineCorner> corners(double... places) {
        var corners = new ArrayList<OutlineCorner>();
        for (var i = 0; i < places.length; i += 2) {
            corners.add(new OutlineCorner(places[i], places[i + 1]));
        }
        return corners;
    }

    private static GlassMeasurements glass(List<OutlineCorner> corners, @Nullable CameraArea camera, Wiper... wipers) {
        return new GlassMeasurements(
                        0,
                        0,
                        0,
                        0,
                        0,
                        0,
                        60,
                        SteeringSide.LEFT,
                        350,
                        100,
                        350,
                        400,
                        20,
                        List.of(wipers.length == 0 ? new Wiper[] {new Wiper(0, 100, 0, 500, 0, 180)} : wipers),
                        camera,
                        Set.of())
                .traced(new TracedOutline(corners, 4));
    }

    private static List<String> problems(List<OutlineCorner> corners) {
        return glass(corners, null).problems().stream()
                .map(MeasurementProblem::message)
                .toList();
    }

    @Test
    void aTracedGlassIsItsPolygon() {
        var glass = glass(HEXAGON, null);
        var pattern = GlassPattern.of(glass);
        // Two trapezoids, one upon the other.
        assertThat(pattern.outline().getArea())
                .isCloseTo((1400.0 + 1600) / 2 * 300 + (1600.0 + 1200) / 2 * 500, within(1e-6));
        assertThat(glass.lowerWidthMm()).isEqualTo(1600);
        assertThat(glass.heightMm()).isEqualTo(800);
        assertThat(pattern.outlineStandardUncertaintyMm()).isEqualTo(4);
        assertThat(pattern.distanceToEdgeMm(DamageShape.round(0, 50, 20))).isCloseTo(40, within(1e-9));
        // The slanting side from (800, 300) to (600, 800), by the normal form of the line.
        var toSide = Math.abs(500 * (650 - 800) + 200 * (500.0 - 300)) / Math.hypot(500, 200);
        assertThat(pattern.distanceToEdgeMm(DamageShape.round(650, 500, 20))).isCloseTo(toSide - 10, within(1e-9));
    }

    @Test
    void mirroredItIsTheSameGlassFromTheOtherSide() {
        var lopsided = corners(-800, 0, 600, 0, 800, 500, -500, 700);
        var mirrored = GlassPattern.of(glass(lopsided, null)).mirrored();
        assertThat(mirrored.holds(-750, 450)).isTrue();
        assertThat(mirrored.holds(750, 450)).isFalse();
        assertThat(mirrored.mirrored().measurements()).isEqualTo(glass(lopsided, null));
    }

    @Test
    void refusesWhatIsNoOutlineOfAGlass() {
        assertThat(problems(HEXAGON)).isEmpty();
        assertThat(problems(corners(-500, 0, 500, 0))).containsExactly("An outline has 3 to 200 corners");
        assertThat(problems(IntStream.range(0, 201)
                        .mapToObj(i -> new OutlineCorner(
                                600 * Math.cos(i * Math.PI / 100), 600 + 600 * Math.sin(i * Math.PI / 100)))
                        .toList()))
                .containsExactly("An outline has 3 to 200 corners");
        assertThat(problems(corners(-700, 0, 700, 800, -700, 800, 700, 0)))
                .containsExactly("The edge crosses or touches itself");
        assertThat(problems(corners(-500, 0, 500, 0, 0, 100)))
                .containsExactly("A glass of this outline is smaller than 300 by 200 mm");
        assertThat(problems(corners(-2000, 0, 2000, 0, 2000, 800, -2000, 800)))
                .containsExactly("The outline is 4000 mm wide; a glass is 300 to 3500");
        assertThat(problems(corners(-700, 0, 700, 0, 700, 150, -700, 150)))
                .containsExactly("The outline is 150 mm high; a glass is 200 to 2500");
        assertThat(problems(corners(0, 0, 1400, 0, 1400, 800, 0, 800)))
                .containsExactly(
                        "Count from below the middle, at the height of the lowest corner: there x and y are 0");
        assertThat(problems(corners(-700, 0, 700, 0, 700, Double.NaN, -700, 800)))
                .containsExactly("Corner 3 lies farther away than any glass reaches");
        assertThat(problems(corners(-700, 0, 700, 0, 700, 1e300, -700, 800))).hasSize(1);
        assertThat(problems(List.of())).hasSize(1);
    }

    @Test
    void isMovedToWhereTheFrameBelongs() {
        var outline = TracedOutline.placed(corners(0, 50, 1400, 50, 1400, 850, 0, 850), 0);
        assertThat(outline.corners()).isEqualTo(corners(-700, 0, 700, 0, 700, 800, -700, 800));
    }

    @Test
    void whatIsBuiltInHasToLieOnTheGlass() {
        var camera = glass(HEXAGON, new CameraArea(720, 160, 120));
        assertThat(camera.problems()).extracting(MeasurementProblem::field).containsExactly("cameraArea.centreXMm");
        var besides = glass(HEXAGON, null, new Wiper(0, 100, 0, 500, 0, 180), new Wiper(0, -390, 0, 150, 200, 340));
        assertThat(besides.problems()).extracting(MeasurementProblem::field).containsExactly("wipers[1].pivotXMm");
        // A bite out of the edge where the driver looks through.
        var bitten = corners(-800, 0, 800, 0, 800, 200, 200, 400, 800, 600, 800, 800, -800, 800);
        assertThat(glass(bitten, null).problems())
                .extracting(MeasurementProblem::field)
                .containsExactly("eyeHeightMm");
    }

    @Test
    void beginsFromATapesOutlineWithFewCorners() {
        for (var generic : GenericGlass.values()) {
            var outline =
                    GlassPattern.of(generic.measurements(SteeringSide.LEFT)).outline();
            var corners =
                    TracedOutline.placed(TracedOutline.cornersOf(outline, 3), 0).corners();
            assertThat(corners).hasSizeBetween(8, 40);
            assertThat(new TracedOutline(corners, 0).polygon().getArea())
                    .isCloseTo(outline.getArea(), within(outline.getArea() * 0.01));
            assertThat(generic.measurements(SteeringSide.LEFT)
                            .traced(new TracedOutline(corners, 0))
                            .problems())
                    .isEmpty();
        }
    }
}

package org.quarterlight.glass;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Objects;
import java.util.Set;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;
import org.locationtech.jts.geom.Coordinate;
import org.locationtech.jts.geom.Geometry;
import org.locationtech.jts.geom.GeometryFactory;
import org.locationtech.jts.geom.util.AffineTransformation;

class GlassPatternTests {
    private static final GeometryFactory SHAPES = new GeometryFactory();
    private static final Wiper WIPER = new Wiper(0, 100, 100, 500, 30, 150);

    /** Without bows and round corners, so that lengths follow from school geometry. */
    private static GlassMeasurements trapezoid(
            double lower,
            double upper,
            double height,
            double cornerRadius,
            @Nullable CameraArea camera,
            Wiper... wipers) {
        return new GlassMeasurements(
                lower,
                upper,
                height,
                0,
                0,
                cornerRadius,
                60,
                SteeringSide.LEFT,
                350,
                150,
                350,
                400,
                40,
                List.of(wipers),
                camera,
                Set.of());
    }

    static Stream<GlassMeasurements> genericGlasses() {
        return Stream.of(GenericGlass.values())
                .flatMap(glass -> Stream.of(SteeringSide.values()).map(glass::measurements));
    }

    @ParameterizedTest
    @CsvSource({"0, 400", "-700, 300", "650, 500", "100, 60", "-20, 780"})
    void distanceToTheEdgeIsThatToTheNearestSideOfATrapezoid(double x, double y) {
        double lower = 1600;
        double upper = 1400;
        double height = 800;
        var pattern = GlassPattern.of(trapezoid(lower, upper, height, 0, null, WIPER));
        // The distance of a point from a line through the lower corner, by the normal form of the line.
        var lean = (lower - upper) / 2;
        var toSide = ((lower / 2 - Math.abs(x)) * height - lean * y) / Math.hypot(lean, height);
        var toNearest = Math.min(toSide, Math.min(y, height - y));
        assertThat(pattern.distanceToEdgeMm(DamageShape.round(x, y, 24))).isCloseTo(toNearest - 12, within(1e-6));
    }

    @Test
    void distanceToTheEdgeOfADiscIsRadiusLessWayFromTheMiddle() {
        // A square whose corners are rounded by a quarter of its side each keeps a quarter circle at every corner.
        var pattern = GlassPattern.of(trapezoid(1000, 1000, 1000, 250, null, WIPER));
        var cornerX = 250.0;
        var cornerY = 750.0;
        for (var away : new double[] {0, 40, 120, 200}) {
            var x = cornerX + away * Math.cos(Math.toRadians(52));
            var y = cornerY + away * Math.sin(Math.toRadians(52));
            assertThat(pattern.distanceToEdgeMm(DamageShape.round(x, y, 10)))
                    .isCloseTo(250 - away - 5, within(2 * GlassPattern.CURVE_ERROR_MM));
        }
    }

    @Test
    void damageThatReachesOverTheEdgeHasANegativeDistance() {
        var pattern = GlassPattern.of(trapezoid(1600, 1600, 800, 0, null, WIPER));
        assertThat(pattern.distanceToEdgeMm(DamageShape.round(0, 5, 24))).isCloseTo(-7, within(1e-9));
        assertThat(pattern.distanceToEdgeMm(DamageShape.round(0, -5, 24))).isCloseTo(-17, within(1e-9));
    }

    @Test
    void drawnLinesCountInPlaceOfTheirCircle() {
        var pattern = GlassPattern.of(trapezoid(1600, 1600, 800, 0, null, WIPER));
        var crack = DamageShape.crack(new Coordinate(-60, 90), new Coordinate(60, 90));
        assertThat(pattern.distanceToEdgeMm(crack)).isCloseTo(90, within(1e-9));
        assertThat(pattern.distanceToEdgeMm(DamageShape.round(0, 90, 120))).isCloseTo(30, within(1e-9));
    }

    /** The area between two arcs is half the angle times the difference of the squared radii: elementary geometry. */
    @Test
    void sweptAreaIsTheRingsSector() {
        var pattern = GlassPattern.of(trapezoid(1600, 1600, 800, 0, null, WIPER));
        var analytic = Math.toRadians(120) / 2 * (500 * 500 - 100 * 100);
        // Chords lie within the arcs by at most the curve's error.
        assertThat(pattern.sweptArea().getArea())
                .isCloseTo(analytic, within(Math.toRadians(120) * 600 * GlassPattern.CURVE_ERROR_MM));
    }

    @Test
    void sweptAreaEndsAtTheOutline() {
        // A half disc round a pivot at the lower edge, of which the lower half of the turn lies off the glass.
        var pattern = GlassPattern.of(trapezoid(1600, 1600, 800, 0, null, new Wiper(0, 0, 100, 500, -10, 180)));
        var analytic = Math.PI / 2 * (500 * 500 - 100 * 100);
        assertThat(pattern.sweptArea().getArea())
                .isCloseTo(analytic, within(Math.PI * 600 * GlassPattern.CURVE_ERROR_MM));
    }

    @ParameterizedTest
    @MethodSource("genericGlasses")
    void curvesAreDrawnWithinTheirError(GlassMeasurements measured) {
        var outline = GlassPattern.of(measured).outline();
        var half = measured.lowerWidthMm() / 2 - measured.cornerRadiusMm() - 20;
        for (int i = 0; i <= 200; i++) {
            var x = -half + 2 * half * i / 200;
            var share = 2 * x / measured.lowerWidthMm();
            var onCurve = SHAPES.createPoint(new Coordinate(x, measured.lowerBowMm() * share * share));
            assertThat(outline.getExteriorRing().distance(onCurve)).isLessThan(GlassPattern.CURVE_ERROR_MM);
        }
    }

    @ParameterizedTest
    @MethodSource("genericGlasses")
    void mirroredGlassIsTheSameInAMirror(GlassMeasurements measured) {
        var pattern = GlassPattern.of(measured);
        var mirrored = pattern.mirrored();
        alike(mirrored.outline(), turned(pattern.outline()));
        alike(mirrored.sweptArea(), turned(pattern.sweptArea()));
        alike(mirrored.driversZone(290), turned(pattern.driversZone(290)));
        assertThat(mirrored.eyePointMm().x).isEqualTo(-pattern.eyePointMm().x);
        assertThat(mirrored.distanceToEdgeMm(DamageShape.round(-140, 300, 20)))
                .isCloseTo(pattern.distanceToEdgeMm(DamageShape.round(140, 300, 20)), within(0.1));
    }

    private static Geometry turned(Geometry geometry) {
        return AffineTransformation.scaleInstance(-1, 1).transform(geometry);
    }

    private static void alike(Geometry one, Geometry other) {
        // Overlaid, nothing may be left but slivers as wide as the curves are true.
        var left = Overlay.outside(one, other).getArea()
                + Overlay.outside(other, one).getArea();
        assertThat(left).isLessThan(other.getLength() * 2 * GlassPattern.CURVE_ERROR_MM);
    }

    @ParameterizedTest
    @MethodSource("genericGlasses")
    void genericGlassCanBeDrawnAndHasItsZonesInPlace(GlassMeasurements measured) {
        assertThat(measured.problems()).isEmpty();
        var pattern = GlassPattern.of(measured);
        var zone = pattern.driversZone(290);
        assertThat(zone.getArea()).isGreaterThan(290 * 300);
        assertThat(Overlay.outside(zone, pattern.sweptArea()).getArea()).isLessThan(1);
        assertThat(zone.covers(SHAPES.createPoint(pattern.eyePointMm()))).isTrue();
        assertThat(Math.signum(zone.getCentroid().getX()))
                .isEqualTo(measured.steeringSide() == SteeringSide.LEFT ? 1 : -1);
        assertThat(Overlay.outside(pattern.sweptArea(), pattern.outline()).getArea())
                .isLessThan(1);
        var camera = Objects.requireNonNull(pattern.cameraArea());
        assertThat(Overlay.outside(camera, pattern.outline()).getArea()).isLessThan(1);
    }

    @Test
    void edgeBandIsAsWideAsAsked() {
        var pattern = GlassPattern.of(trapezoid(1600, 1600, 800, 0, null, WIPER));
        assertThat(pattern.edgeBand(100).getArea()).isCloseTo(1600 * 800 - 1400 * 600, within(1.0));
    }

    @Test
    void zonesCutFromOneAnotherStayAreas() {
        for (var measured : genericGlasses().toList()) {
            var pattern = GlassPattern.of(measured);
            var rest = Overlay.outside(
                    Overlay.outside(pattern.sweptArea(), pattern.driversZone(290)), pattern.edgeBand(100));
            var parts = Overlay.shared(pattern.driversZone(290), pattern.edgeBand(100));
            assertThat(rest.getDimension()).isEqualTo(2);
            assertThat(parts.getDimension()).isEqualTo(2);
        }
    }

    @Test
    void problemsNameTheirFields() {
        var odd = new GlassMeasurements(
                100,
                1400,
                800,
                0,
                900,
                0,
                5,
                SteeringSide.LEFT,
                -1,
                150,
                350,
                Double.NaN,
                40,
                List.of(new Wiper(0, 0, 500, 400, 90, 60)),
                new CameraArea(0, 5, 100),
                Set.of());
        assertThat(odd.problems())
                .extracting(MeasurementProblem::field)
                .containsExactly(
                        "lowerWidthMm",
                        "upperBowMm",
                        "rakeDegrees",
                        "wheelOffsetMm",
                        "eyeHeightMm",
                        "wipers[0].outerRadiusMm",
                        "wipers[0].toDegrees",
                        "cameraArea.widthMm");
        assertThatIllegalArgumentException()
                .isThrownBy(() -> GlassPattern.of(odd))
                .withMessageContaining("lowerWidthMm");
        assertThat(trapezoid(1600, 1400, 800, 0, null).problems())
                .extracting(MeasurementProblem::field)
                .containsExactly("wipers");
    }

    /** An empty driver's zone would have every damage lie outside of it. */
    @Test
    void glassWithoutADriversZoneIsNone() {
        assertThat(fields(trapezoid(1600, 1400, 800, 0, null, new Wiper(-400, 0, 100, 500, 30, 150))))
                .containsExactly("wheelOffsetMm");
        assertThat(fields(trapezoid(1600, 1400, 800, 0, null, WIPER))).isEmpty();
    }

    @Test
    void wiperThatMissesTheGlassIsTold() {
        var beside = new Wiper(1000, -300, 100, 250, 30, 150);
        assertThat(fields(trapezoid(1600, 1400, 800, 0, null, WIPER, beside))).containsExactly("wipers[1].pivotXMm");
    }

    @Test
    void cameraAreaLiesOnTheGlass() {
        // The upper corner is at 700, so a window about it is half off, and one further in is whole.
        assertThat(fields(trapezoid(1600, 1400, 800, 0, new CameraArea(720, 100, 100), WIPER)))
                .containsExactly("cameraArea.centreXMm");
        assertThat(fields(trapezoid(1600, 1400, 800, 0, new CameraArea(640, 100, 100), WIPER)))
                .isEmpty();
    }

    @Test
    void cornersMayNotRoundOffTheHeight() {
        // The parabola's own radius in its middle is width² / (8 bow): 130 and 104 mm. A larger disc does not reach it.
        assertThat(fields(bowed(500, 240, 125))).isEmpty();
        assertThat(fields(bowed(500, 300, 125))).containsExactly("cornerRadiusMm");
    }

    private static GlassMeasurements bowed(double width, double upperBow, double cornerRadius) {
        return new GlassMeasurements(
                width,
                width,
                1000,
                0,
                upperBow,
                cornerRadius,
                60,
                SteeringSide.LEFT,
                100,
                150,
                100,
                400,
                40,
                List.of(new Wiper(0, 0, 100, 500, 30, 150)),
                null,
                Set.of());
    }

    /** A pattern is made exactly where nothing is wrong. */
    private static List<String> fields(GlassMeasurements measured) {
        var problems = measured.problems();
        if (problems.isEmpty()) {
            assertThat(GlassPattern.of(measured).driversZone(290).isEmpty()).isFalse();
        } else {
            assertThatIllegalArgumentException().isThrownBy(() -> GlassPattern.of(measured));
        }
        return problems.stream().map(MeasurementProblem::field).toList();
    }

    /** The smallest circle round a right-angled triangle has its longest side for a diameter: Thales. */
    @Test
    void crackHasTheSmallestCircleRoundIt() {
        var crack = DamageShape.crack(new Coordinate(0, 0), new Coordinate(30, 0), new Coordinate(30, 40));
        assertThat(crack.diameterMm()).isCloseTo(50, within(1e-9));
        assertThat(crack.xMm()).isCloseTo(15, within(1e-9));
        assertThat(crack.yMm()).isCloseTo(20, within(1e-9));
    }
}

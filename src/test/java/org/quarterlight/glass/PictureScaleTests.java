package org.quarterlight.glass;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class PictureScaleTests {
    private static final PicturePlace ORIGIN = new PicturePlace(900, 1400);

    /** A picture of so many points for a millimetre across and up, turned to the left about the origin. */
    private static PicturePlace seen(double xMm, double yMm, double across, double up, double degrees) {
        var turn = Math.toRadians(degrees);
        var x = xMm * across;
        var y = yMm * up;
        return new PicturePlace(
                ORIGIN.xPx() + x * Math.cos(turn) - y * Math.sin(turn),
                ORIGIN.yPx() - x * Math.sin(turn) - y * Math.cos(turn));
    }

    private static KnownLength length(PicturePlace from, PicturePlace to, double mm) {
        return new KnownLength(from.xPx(), from.yPx(), to.xPx(), to.yPx(), mm);
    }

    @ParameterizedTest
    @CsvSource({"1, 1, 0", "1.3, 0.8, 0", "0.5, 0.5, 12", "1.1, 0.7, -20"})
    void aSquareThatIsTurnedAndStretchedIsASquareAgain(double across, double up, double degrees) {
        var level = length(seen(-300, 200, across, up, degrees), seen(300, 200, across, up, degrees), 600);
        var upright = length(seen(50, 0, across, up, degrees), seen(50, 600, across, up, degrees), 600);
        var scale = PictureScale.of(level, upright, ORIGIN);
        for (var corner : List.of(
                new OutlineCorner(-300, 0),
                new OutlineCorner(300, 0),
                new OutlineCorner(300, 600),
                new OutlineCorner(-300, 600))) {
            var place = seen(corner.xMm(), corner.yMm(), across, up, degrees);
            var found = scale.toGlass(place);
            assertThat(found.xMm()).isCloseTo(corner.xMm(), within(1e-9));
            assertThat(found.yMm()).isCloseTo(corner.yMm(), within(1e-9));
            var back = scale.toPicture(corner);
            assertThat(back.xPx()).isCloseTo(place.xPx(), within(1e-9));
            assertThat(back.yPx()).isCloseTo(place.yPx(), within(1e-9));
        }
    }

    @Test
    void aSlantThatIsTheSameEverywhereIsPutRight() {
        // Upright lines lean by a third of their height: a shear, as a long lens sees glass from the side.
        var level = length(new PicturePlace(100, 500), new PicturePlace(1100, 500), 500);
        var upright = length(new PicturePlace(600, 800), new PicturePlace(700, 500), 300);
        var scale = PictureScale.of(level, upright, new PicturePlace(600, 800));
        assertThat(scale.toGlass(new PicturePlace(700, 500)).xMm()).isCloseTo(0, within(1e-9));
        assertThat(scale.toGlass(new PicturePlace(700, 500)).yMm()).isCloseTo(300, within(1e-9));
        assertThat(scale.toGlass(new PicturePlace(800, 800)).xMm()).isCloseTo(100, within(1e-9));
    }

    @Test
    void whichEndIsNamedFirstDoesNotMatter() {
        var level = length(new PicturePlace(100, 500), new PicturePlace(1100, 520), 900);
        var upright = length(new PicturePlace(600, 900), new PicturePlace(610, 100), 700);
        var one = PictureScale.of(level, upright, ORIGIN);
        var other = PictureScale.of(level.turnedRound(), upright.turnedRound(), ORIGIN);
        assertThat(other.toGlass(new PicturePlace(33, 44))).isEqualTo(one.toGlass(new PicturePlace(33, 44)));
    }

    @ParameterizedTest
    @ValueSource(doubles = {0, 10, 44, 136, 170, 180})
    void lengthsThatLieAlongEachOtherGiveNoScale(double degrees) {
        var turn = Math.toRadians(degrees);
        var level = length(new PicturePlace(500, 500), new PicturePlace(900, 500), 800);
        var other = length(
                new PicturePlace(500, 500),
                new PicturePlace(500 + 400 * Math.cos(turn), 500 - 400 * Math.sin(turn)),
                800);
        assertThat(PictureScale.problems(level, other))
                .extracting(MeasurementProblem::field)
                .containsExactly("up");
        assertThatIllegalArgumentException().isThrownBy(() -> PictureScale.of(level, other, ORIGIN));
    }

    @Test
    void lengthsThatAreTooShortGiveNoScale() {
        var upright = length(new PicturePlace(600, 900), new PicturePlace(600, 100), 700);
        assertThat(PictureScale.problems(length(ORIGIN, new PicturePlace(949, 1400), 700), upright))
                .extracting(MeasurementProblem::field)
                .containsExactly("across");
        for (var mm : new double[] {99, 4001, Double.NaN, -700}) {
            assertThat(PictureScale.problems(length(ORIGIN, new PicturePlace(100, 1400), mm), upright))
                    .extracting(MeasurementProblem::field)
                    .containsExactly("across.lengthMm");
        }
        assertThat(PictureScale.problems(length(ORIGIN, new PicturePlace(Double.NaN, 1400), 700), upright))
                .extracting(MeasurementProblem::field)
                .containsExactly("across");
    }

    @Test
    void theFrameMovesWithoutMovingTheGlass() {
        var scale = PictureScale.of(
                length(new PicturePlace(100, 500), new PicturePlace(1100, 560), 900),
                length(new PicturePlace(600, 900), new PicturePlace(610, 100), 700),
                ORIGIN);
        var moved = scale.movedBy(new OutlineCorner(120, -30));
        var place = new PicturePlace(321, 654);
        assertThat(moved.toGlass(place).xMm()).isCloseTo(scale.toGlass(place).xMm() - 120, within(1e-9));
        assertThat(moved.toGlass(place).yMm()).isCloseTo(scale.toGlass(place).yMm() + 30, within(1e-9));
    }

    /** The formula beside what placing the marks again and again, with the same doubt, scatters (JCGM 101:2008). */
    @Test
    void theUncertaintyOfADrawingIsTheScatterOfTracingItAgain() {
        var random = new Random(7);
        var corner = new OutlineCorner(700, 800);
        var scale = PictureScale.of(
                length(seen(-700, 0, 1, 1, 0), seen(700, 0, 1, 1, 0), 1400),
                length(seen(0, 0, 1, 1, 0), seen(0, 800, 1, 1, 0), 800),
                ORIGIN);
        var corners =
                List.of(new OutlineCorner(-700, 0), new OutlineCorner(700, 0), corner, new OutlineCorner(-700, 800));
        var stated = scale.standardUncertaintyMm(corners, TracedFrom.DRAWING);
        var sum = 0.0;
        var draws = 20_000;
        for (var i = 0; i < draws; i++) {
            var again = PictureScale.of(
                    disturbed(length(seen(-700, 0, 1, 1, 0), seen(700, 0, 1, 1, 0), 1400), random),
                    disturbed(length(seen(0, 0, 1, 1, 0), seen(0, 800, 1, 1, 0), 800), random),
                    ORIGIN);
            var place = seen(corner.xMm(), corner.yMm(), 1, 1, 0);
            var found = again.toGlass(new PicturePlace(
                    place.xPx() + PictureScale.PLACED_PX * random.nextGaussian(),
                    place.yPx() + PictureScale.PLACED_PX * random.nextGaussian()));
            sum += Math.pow(found.xMm() - corner.xMm(), 2) + Math.pow(found.yMm() - corner.yMm(), 2);
        }
        // The stated figure is for one direction and takes the errors of both lengths together: between one and two.
        var scatter = Math.sqrt(sum / draws);
        assertThat(stated).isBetween(scatter / Math.sqrt(2), scatter * 1.1);
    }

    private static KnownLength disturbed(KnownLength length, Random random) {
        return new KnownLength(
                length.fromXPx() + PictureScale.PLACED_PX * random.nextGaussian(),
                length.fromYPx() + PictureScale.PLACED_PX * random.nextGaussian(),
                length.toXPx() + PictureScale.PLACED_PX * random.nextGaussian(),
                length.toYPx() + PictureScale.PLACED_PX * random.nextGaussian(),
                length.lengthMm() + PictureScale.TAPE_MM * random.nextGaussian());
    }

    /** School geometry: r² sin 5° / 3 m, over √3, with the corner r = √(700² + 400²) from the middle. */
    @Test
    void aPhotoIsKnownWorseByWhatPerspectiveMayDo() {
        var scale = PictureScale.of(
                length(seen(-700, 0, 1, 1, 0), seen(700, 0, 1, 1, 0), 1400),
                length(seen(0, 0, 1, 1, 0), seen(0, 800, 1, 1, 0), 800),
                ORIGIN);
        var corners = List.of(
                new OutlineCorner(-700, 0),
                new OutlineCorner(700, 0),
                new OutlineCorner(700, 800),
                new OutlineCorner(-700, 800));
        var drawing = scale.standardUncertaintyMm(corners, TracedFrom.DRAWING);
        var photo = scale.standardUncertaintyMm(corners, TracedFrom.PHOTO);
        var perspective = (700.0 * 700 + 400 * 400) * Math.sin(Math.toRadians(5)) / 3000 / Math.sqrt(3);
        assertThat(photo).isCloseTo(Math.hypot(drawing, perspective), within(1e-9));
        assertThat(perspective).isCloseTo(10.9, within(0.05));
    }
}

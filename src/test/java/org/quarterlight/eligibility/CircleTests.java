package org.quarterlight.eligibility;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.locationtech.jts.algorithm.MinimumBoundingCircle;
import org.locationtech.jts.geom.Coordinate;
import org.locationtech.jts.geom.GeometryFactory;

class CircleTests {
    private static Circle circle(double x, double y, double radius) {
        return new Circle(new Coordinate(x, y), radius);
    }

    @Test
    void joinsTwoCirclesAcrossTheirFarSides() {
        var joined = Circle.round(List.of(circle(0, 0, 2), circle(10, 0, 4)));
        assertThat(joined.radiusMm()).isCloseTo(8, within(1e-12));
        assertThat(joined.centre().x).isCloseTo(6, within(1e-12));
    }

    @Test
    void keepsTheOneThatHoldsTheOther() {
        assertThat(Circle.round(List.of(circle(0, 0, 10), circle(3, 0, 4)))).isEqualTo(circle(0, 0, 10));
    }

    @Test
    void touchesThreeEqualCirclesOnACorneredTriangle() { // circumradius of an equilateral triangle of side a: a/√3
        var joined = Circle.round(List.of(circle(0, 0, 1), circle(6, 0, 1), circle(3, 3 * Math.sqrt(3), 1)));
        assertThat(joined.radiusMm()).isCloseTo(6 / Math.sqrt(3) + 1, within(1e-9));
    }

    @Test
    void agreesWithTheBoundingCircleOfPoints() { // JTS, for circles without size
        var random = new Random(11);
        for (var i = 0; i < 300; i++) {
            var points = new ArrayList<Circle>();
            for (var j = 0; j < 3 + random.nextInt(5); j++) {
                points.add(circle(random.nextDouble(50), random.nextDouble(50), 0));
            }
            var expected = new MinimumBoundingCircle(new GeometryFactory()
                            .createMultiPointFromCoords(
                                    points.stream().map(Circle::centre).toArray(Coordinate[]::new)))
                    .getRadius();
            assertThat(Circle.round(points).radiusMm()).isCloseTo(expected, within(1e-6));
        }
    }

    @Test
    void holdsCirclesOfAnySizeAndIsNoLargerThanAnyCircleTried() {
        var random = new Random(12);
        for (var i = 0; i < 300; i++) {
            var circles = new ArrayList<Circle>();
            for (var j = 0; j < 2 + random.nextInt(4); j++) {
                circles.add(circle(random.nextDouble(50), random.nextDouble(50), random.nextDouble(12)));
            }
            var joined = Circle.round(circles);
            assertThat(needed(circles, joined.centre())).isCloseTo(joined.radiusMm(), within(1e-6));
            for (var tried = 0; tried < 50; tried++) {
                var moved = new Coordinate(
                        joined.centre().x + random.nextGaussian(), joined.centre().y + random.nextGaussian());
                assertThat(needed(circles, moved)).isGreaterThanOrEqualTo(joined.radiusMm() - 1e-6);
            }
        }
    }

    private static double needed(List<Circle> circles, Coordinate centre) {
        return circles.stream()
                .mapToDouble(circle -> centre.distance(circle.centre()) + circle.radiusMm())
                .max()
                .orElseThrow();
    }
}

package org.quarterlight.eligibility;

import java.util.function.ToIntFunction;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.locationtech.jts.geom.Coordinate;

/** How many ends of a crack reach the edge of the glass. */
final class CrackEnds {
    /** A crack drawn up to the edge touches it, whatever the last digits say. */
    private static final double TOUCH_MM = 1e-6;

    /** Ways in which a crack may run of which only the circle is known: every five degrees of a half turn. */
    private static final int WAYS = 36;

    private final Area glass;
    private final Place crack;

    CrackEnds(Area glass, Place crack) {
        this.glass = glass;
        this.crack = crack;
    }

    /** Ends that were drawn up to the edge. Of a crack whose course nobody drew, none is sure. */
    int sure() {
        return crack.isDisc() ? 0 : reaching(ends(), TOUCH_MM);
    }

    /** Ends that may reach the edge: closer to it than the tolerance, whichever way the crack runs. */
    int possible(double toleranceMm) {
        if (!crack.isDisc()) {
            return reaching(ends(), Math.max(TOUCH_MM, toleranceMm));
        }
        if (glass.depthMm(crack) > toleranceMm) {
            return 0;
        }
        ToIntFunction<Integer> alongWay = way -> {
            var angle = Math.PI * way / WAYS;
            var x = crack.reachMm() * Math.cos(angle);
            var y = crack.reachMm() * Math.sin(angle);
            var middle = crack.centre();
            return reaching(
                    Stream.of(new Coordinate(middle.x + x, middle.y + y), new Coordinate(middle.x - x, middle.y - y)),
                    Math.max(TOUCH_MM, toleranceMm));
        };
        return Math.max(
                1, IntStream.range(0, WAYS).boxed().mapToInt(alongWay).max().orElse(1));
    }

    private Stream<Coordinate> ends() {
        return Stream.of(crack.lines().getBoundary().getCoordinates());
    }

    private int reaching(Stream<Coordinate> ends, double toleranceMm) {
        return Math.toIntExact(
                ends.filter(end -> -glass.signedDistanceMm(end) <= toleranceMm).count());
    }
}

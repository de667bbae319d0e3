package org.quarterlight.eligibility;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.quarterlight.glass.Measured;

/** The line through readings; expected values by the formulas of JCGM 100:2008, H.3, worked by hand. */
class GrowthTests {
    private static final Instant BEGIN = Instant.parse("2026-03-01T08:00:00Z");

    private static Growth.Length read(double day, double mm, double uncertaintyMm) {
        return new Growth.Length(
                BEGIN.plus(Duration.ofSeconds(Math.round(day * 86_400))), new Measured(mm, uncertaintyMm));
    }

    @ParameterizedTest(name = "t({0}, {1}) = {2}")
    @CsvSource({ // JCGM 100:2008, table G.2, status memory; t99 with 16 degrees seen as 2.92 in example H.1
        "0.975,1,12.71",
        "0.975,2,4.30",
        "0.975,5,2.57",
        "0.975,10,2.23",
        "0.975,30,2.04",
        "0.995,16,2.92"
    })
    void knowsTheQuantilesOfStudentsT(double probability, double freedom, double expected) {
        assertThat(Growth.studentsT(probability, freedom)).isCloseTo(expected, within(0.005));
    }

    @Test
    void drawsTheLineThatLeavesTheLeastSquares() {
        // (0, 1), (1, 2), (2, 4): b = 3/2, Σ(x − x̂)² = 1/6, s = √(1/6), u(b) = s/√2, t(0.975, 1) = 12.7062
        var growth =
                Growth.of(List.of(read(0, 1, 0), read(1, 2, 0), read(2, 4, 0))).orElseThrow();
        assertThat(growth.mmPerDay()).isCloseTo(1.5, within(1e-12));
        assertThat(growth.halfIntervalMmPerDay()).isCloseTo(12.7062047 * Math.sqrt(1.0 / 12), within(1e-5));
        assertThat(growth.mmAt(BEGIN.plus(Duration.ofDays(3)))).isCloseTo(16.0 / 3, within(1e-12));
        // √(1/3 + 2²/2) at two days after the middle
        assertThat(growth.halfIntervalMmAt(BEGIN.plus(Duration.ofDays(3))))
                .isCloseTo(12.7062047 * Math.sqrt(1.0 / 6) * Math.sqrt(1.0 / 3 + 2), within(1e-5));
    }

    @Test
    void trustsTwoReadingsNoMoreThanTheyThemselvesDo() { // u(b) = √(u₁² + u₂²) / t, both 0.3 mm, ten days apart
        var growth = Growth.of(List.of(read(0, 20, 0.3), read(10, 24, 0.3))).orElseThrow();
        assertThat(growth.mmPerDay()).isCloseTo(0.4, within(1e-12));
        assertThat(growth.halfIntervalMmPerDay()).isCloseTo(1.959964 * 0.3 * Math.sqrt(2) / 10, within(1e-7));
    }

    @Test
    void isNotSurerThanItsReadingsWhereTheyLieOnALineByChance() {
        var growth = Growth.of(List.of(read(0, 20, 2), read(5, 22, 2), read(10, 24, 2)))
                .orElseThrow();
        assertThat(growth.halfIntervalMmPerDay()).isCloseTo(12.7062047 * 2 / Math.sqrt(50), within(1e-4));
    }

    @Test
    void needsTwoTimes() {
        assertThat(Growth.of(List.of(read(0, 20, 0.3), read(0.000001, 20.4, 0.3))))
                .as("a moment later")
                .isEmpty();
        assertThat(Growth.of(List.of(read(0, 20, 1)))).isEmpty();
        assertThat(Growth.of(List.of(read(0, 20, 1), read(0, 21, 1)))).isEmpty();
    }

    @Test
    void holdsTheTrueRateInItsIntervalAboutAsOftenAsItSays() {
        var random = new Random(20261125);
        var held = 0;
        for (var i = 0; i < 2000; i++) {
            var readings = new ArrayList<Growth.Length>();
            for (var day = 0; day < 6; day++) {
                readings.add(read(day * 7, 20 + 0.2 * day * 7 + 0.5 * random.nextGaussian(), 0));
            }
            var growth = Growth.of(readings).orElseThrow();
            held += Math.abs(growth.mmPerDay() - 0.2) <= growth.halfIntervalMmPerDay() ? 1 : 0;
        }
        assertThat(held / 2000.0).isBetween(0.935, 0.965);
    }

    @Test
    void tellsTheDayOnWhichALengthIsReached() {
        var growth = Growth.of(List.of(read(0, 20, 0.3), read(10, 24, 0.3))).orElseThrow();
        var now = BEGIN.plus(Duration.ofDays(10));
        var end = now.plus(Duration.ofDays(100));
        assertThat(growth.reaches(30, now, end)).contains(BEGIN.plus(Duration.ofDays(25)));
        assertThat(growth.mayReach(30, now, end).orElseThrow()).isBefore(BEGIN.plus(Duration.ofDays(25)));
        assertThat(growth.reaches(1000, now, end)).isEmpty();
    }
}

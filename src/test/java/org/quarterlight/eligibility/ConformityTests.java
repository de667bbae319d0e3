package org.quarterlight.eligibility;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.quarterlight.glass.DamageKind;

/** JCGM 106:2012; where its examples stand was seen, their figures are from memory and the probabilities computed. */
class ConformityTests {
    @Test
    void findsTheVoltageOfTheFirstExampleWithItsUpperLimit() { // 7.3.3 example 1, status memory
        assertThat(Conformity.of(Bound.AT_MOST, Bound.AT_MOST.margin(-5.47, -5.40), 0.05))
                .isCloseTo(0.919, within(0.0005));
    }

    @Test
    void findsTheContainerOfTheSecondExampleWithItsLowerLimit() { // 7.3.3 example 2, status memory
        assertThat(Conformity.of(Bound.AT_LEAST, Bound.AT_LEAST.margin(509.7, 490), 8.6))
                .isCloseTo(0.989, within(0.0005));
    }

    @Test
    void findsTheViscosityBetweenTwoLimits() { // 7.4, status memory: the two tails add up
        var below = Conformity.of(Bound.AT_MOST, Bound.AT_MOST.margin(13.6, 16.3), 1.8);
        var above = Conformity.of(Bound.AT_LEAST, Bound.AT_LEAST.margin(13.6, 12.5), 1.8);
        assertThat(below + above - 1).isCloseTo(0.663, within(0.0005));
    }

    @Test
    void setsTheSpeedFromWhichADriverIsOverTheLimitForSure() { // 8.3.3, status memory: 106.6, so 107 km/h
        assertThat(overTheLimit(106)).isLessThan(0.999);
        assertThat(overTheLimit(107)).isGreaterThan(0.999);
    }

    private static double overTheLimit(double kilometresPerHour) {
        return Conformity.of(Bound.AT_LEAST, kilometresPerHour - 100, 0.02 * kilometresPerHour);
    }

    @ParameterizedTest(name = "{0} mm against at most 10 mm, u 0.5 mm: {1}")
    @CsvSource({"9.17,YES", "9.18,UNCLEAR", "10,UNCLEAR", "10.82,UNCLEAR", "10.83,NO"}) // computed: 10 ∓ 1.645 × 0.5
    void acceptsAndRefusesOnlyOutsideTheGuardBand(double mm, Result expected) {
        var conformity = Conformity.of(Bound.AT_MOST, Bound.AT_MOST.margin(mm, 10), 0.5);
        assertThat(Conformity.result(conformity, 0.05)).isEqualTo(expected);
    }

    @ParameterizedTest(name = "{0} {1} against 10 without uncertainty: {2}")
    @CsvSource({
        "AT_MOST,9.99,1", "AT_MOST,10.00,1", "AT_MOST,10.01,0",
        "LESS_THAN,9.99,1", "LESS_THAN,10.00,0", "LESS_THAN,10.01,0",
        "AT_LEAST,9.99,0", "AT_LEAST,10.00,1", "AT_LEAST,10.01,1",
        "MORE_THAN,9.99,0", "MORE_THAN,10.00,0", "MORE_THAN,10.01,1"
    })
    void comparesExactLengths(Bound bound, double mm, double expected) {
        assertThat(Conformity.of(bound, bound.margin(mm, 10), 0)).isEqualTo(expected);
    }

    @Test
    void keepsNineteenPointZeroFiveApartFromItsNeighbours() { // 3/4 in
        var over = Math.nextUp(19.05);
        assertThat(Conformity.of(Bound.AT_MOST, Bound.AT_MOST.margin(19.05, 19.05), 0))
                .isEqualTo(1);
        assertThat(Conformity.of(Bound.AT_MOST, Bound.AT_MOST.margin(over, 19.05), 0))
                .isEqualTo(0);
    }

    @Test
    void keepsTheTailsOfTheNormalDistribution() { // Φ(−6) = 9.865876450377e-10, computed to 30 digits elsewhere
        assertThat(Conformity.normal(-6)).isCloseTo(9.865876450377e-10, within(1e-20));
        assertThat(Conformity.normal(0)).isEqualTo(0.5);
        assertThat(Conformity.normal(1.959963984540054)).isCloseTo(0.975, within(1e-15));
    }

    @Test
    void addsUncertaintiesUpAsTheEndGaugeOfTheGuideDoes() { // JCGM 100:2008, H.1: 25, 9.7, 2.9 and 16.6 nm, together
        // 32 nm
        var rest = Math.hypot(9.7, Math.hypot(2.9, 16.6));
        var together = Cases.damage(DamageKind.BULLSEYE, 0, 300, 20)
                .uncertain(2 * rest, 25)
                .facts()
                .distanceStandardUncertaintyMm();
        assertThat(together).isCloseTo(31.7, within(0.05));
        assertThat(together * Growth.studentsT(0.995, 16)).as("expanded, 99 %").isCloseTo(93, within(0.7));
    }

    @ParameterizedTest(name = "margin {0}, accepted risk {1}: {2}")
    @CsvSource({"0.82,0.05,0.4985", "-0.82,0.05,0.4985", "1,0.025,0.5102", "0,0.05,0", "1,0,0"})
    void tellsTheUncertaintyThatWouldDecide(
            double marginMm, double risk, double expected) { // |margin| / 1.6449, 1.9600
        var needed = Conformity.neededStandardUncertaintyMm(marginMm, risk);
        assertThat(needed).isCloseTo(expected, within(5e-5));
        if (needed > 0) {
            var sure = Conformity.of(Bound.AT_MOST, marginMm, needed * 0.999);
            var unsure = Conformity.of(Bound.AT_MOST, marginMm, needed * 1.001);
            assertThat(Conformity.result(sure, risk)).isEqualTo(marginMm > 0 ? Result.YES : Result.NO);
            assertThat(Conformity.result(unsure, risk)).isEqualTo(Result.UNCLEAR);
        }
    }

    @Test
    void takesEachAssumedUncertaintyFromHowALengthWasSeen() { // our own figures
        assertThat(Seen.EYE.standardUncertaintyMm(10)).isEqualTo(2);
        assertThat(Seen.EYE.standardUncertaintyMm(40)).isEqualTo(6);
        assertThat(Seen.GAUGE.standardUncertaintyMm(40)).isEqualTo(0.3);
    }
}

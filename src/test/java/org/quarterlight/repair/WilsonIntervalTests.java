package org.quarterlight.repair;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class WilsonIntervalTests {
    /**
     * Worked examples of Newcombe, "Two-sided confidence intervals for the single proportion", Statistics in Medicine 17
     * (1998), table I, the score method without continuity correction; from memory.
     */
    @ParameterizedTest
    @CsvSource({
        "81, 263, 0.2553, 0.3662",
        "15, 148, 0.0624, 0.1605",
        "0, 20, 0.0000, 0.1611",
        "1, 29, 0.0061, 0.1718"
    })
    void publishedIntervalsAreFound(long counted, long among, double low, double high) {
        var interval = WilsonInterval.of(counted, among);
        assertThat(interval.low()).isCloseTo(low, within(0.00005));
        assertThat(interval.high()).isCloseTo(high, within(0.00005));
    }

    /** The ends are where the test of the share says neither yes nor no: the equation that Wilson solves. */
    @ParameterizedTest
    @CsvSource({"1, 29", "15, 148", "40, 41", "3, 7"})
    void bothEndsSolveTheEquation(long counted, long among) {
        var interval = WilsonInterval.of(counted, among);
        var share = (double) counted / among;
        for (var end : new double[] {interval.low(), interval.high()}) {
            assertThat(Math.abs(share - end) / Math.sqrt(end * (1 - end) / among))
                    .isCloseTo(1.959964, within(1e-5));
        }
    }

    @Test
    void ofNoneAnythingMayBeTrue() {
        assertThat(WilsonInterval.of(0, 0)).isEqualTo(new WilsonInterval(0, 1));
        assertThat(WilsonInterval.of(5, 5).high()).isEqualTo(1);
    }
}

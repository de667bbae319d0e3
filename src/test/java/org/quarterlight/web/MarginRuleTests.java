package org.quarterlight.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

import java.util.Objects;
import java.util.Random;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class MarginRuleTests {
    @ParameterizedTest
    @CsvSource({
        // measured, doubt, limit, end of the rule: the values of the design's damage page
        "24.6, 1.0, 40, 60",
        "4.2, 1.4, 0, 12",
        "339, 6, 100, 400",
        "3.1, 0.6, 5, 8",
        "638, 6, 100, 800",
    })
    void choosesARoundLengthForTheRule(double measuredMm, double doubtMm, double limitMm, double endMm) {
        var axis = MarginRule.Axis.showing(measuredMm, doubtMm, limitMm);

        assertThat(axis.startMm()).isZero();
        assertThat(axis.endMm()).isEqualTo(endMm, within(1e-9));
    }

    @Test
    void keepsALimitBetweenAnEighthAndThreeQuarters() {
        var random = new Random(20261125);
        for (int i = 0; i < 2_000; i++) {
            var limitMm = Math.pow(10, random.nextDouble(-1, 3.3));
            var axis = MarginRule.Axis.showing(random.nextDouble(-50, 2_500), random.nextDouble(0, 40), limitMm);

            assertThat(limitMm / axis.endMm()).as("limit %s", limitMm).isBetween(1 / 8.0 - 1e-9, 3 / 4.0 + 1e-9);
        }
    }

    @Test
    void pointsOutwardsWhereTheLengthLiesBeyondTheRule() {
        assertThat(MarginRule.of(900, 3, "at-least", 100, "yes").pointer()).isEqualTo("M162.0 15.5l7 4.5 -7 4.5z");
        assertThat(MarginRule.of(24.6, 0.5, "at-most", 40, "yes").pointer()).startsWith("M70.4 ");
    }

    @Test
    void showsALengthThatReachesInOnTheForbiddenSideOfNothing() {
        var rule = MarginRule.of(-3, 0.5, "more-than", 0, "no");

        assertThat(firstX(rule.limit())).isEqualTo(85, within(0.1));
        assertThat(firstX(rule.pointer())).isLessThan(85);
        assertThat(firstX(Objects.requireNonNull(rule.forbidden()))).isLessThan(85);
    }

    @Test
    void hatchesTheSideThatTheBoundForbids() {
        var atMost = MarginRule.of(24.6, 0.5, "at-most", 40, "yes");
        var atLeast = MarginRule.of(339, 3, "at-least", 100, "yes");

        assertThat(firstX(Objects.requireNonNull(atMost.forbidden()))).isGreaterThan(firstX(atMost.limit()));
        assertThat(firstX(Objects.requireNonNull(atLeast.forbidden()))).isLessThan(firstX(atLeast.limit()));
        assertThat(MarginRule.of(4.2, 0.7, "more-than", 0, "yes").forbidden()).isNull();
    }

    @Test
    void drawsTheDoubtTwiceTheStandardUncertaintyToEachSide() {
        // a rule of 60 mm is 162 px long, so 4 × 0.5 mm are 5.4 px
        assertThat(MarginRule.of(24.6, 0.5, "at-most", 40, "yes").doubtWidth()).isEqualTo(5.4, within(0.06));
    }

    @Test
    void saysTheSameInWords() {
        assertThat(MarginRule.of(24.6, 0.5, "at-most", 40, "yes").words())
                .isEqualTo("24.6 ± 0.5 mm, limit at most 40 mm");
    }

    @Test
    void refusesABoundItDoesNotKnow() {
        assertThatIllegalArgumentException().isThrownBy(() -> MarginRule.of(1, 0, "about", 1, "yes"));
    }

    private static double firstX(String path) {
        var move = Pattern.compile("^M(-?[0-9.]+)").matcher(path);
        assertThat(move.find()).isTrue();
        return Double.parseDouble(move.group(1));
    }
}

package org.quarterlight.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class JobRailTests {
    @ParameterizedTest
    @CsvSource({"requested, 2", "approved, 12", "planned, 22", "under-way, 32", "inspected, 42", "closed, 52"})
    void standsAtItsStationEveryTenPixels(String state, int x) {
        var rail = JobRail.of(state);

        assertThat(rail.presentX()).isEqualTo(x);
        assertThat(rail.cross()).isNull();
        assertThat(rail.words()).isEqualTo(state.replace('-', ' '));
    }

    @Test
    void endsEarlyWithACrossWhenDeclinedAndLaterWhenAbandoned() {
        assertThat(JobRail.of("declined").cross()).startsWith("M19 ");
        assertThat(JobRail.of("abandoned").cross()).startsWith("M44 ");
        assertThat(JobRail.of("declined").present()).isFalse();
    }

    @Test
    void refusesAStateItDoesNotKnow() {
        assertThatIllegalArgumentException().isThrownBy(() -> JobRail.of("lost"));
    }
}

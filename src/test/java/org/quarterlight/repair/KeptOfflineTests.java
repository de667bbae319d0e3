package org.quarterlight.repair;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Instant;
import java.util.List;
import org.junit.jupiter.api.Test;

/** The bounds are ours. */
class KeptOfflineTests {
    private static final Instant DONE = at("10:00");
    private static final Instant TOLD = at("13:00");

    @Test
    void theJobWasTakenAlongBeforeAndNothingWasHeardSince() {
        assertThat(bearsOut(List.of("08:00"), List.of("08:10"))).isTrue();
        assertThat(bearsOut(List.of("10:00"), List.of())).isTrue();
    }

    @Test
    void nobodyKeepsWhatTheyHadNotTakenAlong() {
        assertThat(bearsOut(List.of(), List.of())).isFalse();
        assertThat(bearsOut(List.of("10:02"), List.of())).isFalse();
        assertThat(KeptOffline.bearsOut(DONE, TOLD, List.of(Instant.parse("2026-11-30T09:59:59Z")), List.of()))
                .as("the kit of the day before")
                .isFalse();
    }

    @Test
    void whereThereWasANetworkMeanwhileItWouldHaveBeenSent() {
        assertThat(bearsOut(List.of("08:00"), List.of("11:00"))).isFalse();
        assertThat(bearsOut(List.of("08:00", "11:00"), List.of())).isFalse();
        assertThat(bearsOut(List.of("08:00"), List.of("12:49", "12:58"))).isTrue();
        assertThat(bearsOut(List.of("08:00"), List.of("12:47", "12:58"))).isFalse();
    }

    @Test
    void whatIsSentTogetherMayTakeLongAndWhatWasOnItsWayIsHeardALittleLater() {
        assertThat(bearsOut(List.of("08:00"), List.of("12:23", "12:32", "12:41", "12:50")))
                .isTrue();
        assertThat(bearsOut(List.of("08:00"), List.of("10:01"))).isTrue();
        assertThat(bearsOut(List.of("08:00"), List.of("10:02"))).isFalse();
    }

    private static boolean bearsOut(List<String> kits, List<String> heard) {
        return KeptOffline.bearsOut(DONE, TOLD, times(kits), times(heard));
    }

    private static List<Instant> times(List<String> hours) {
        return hours.stream().map(KeptOfflineTests::at).toList();
    }

    private static Instant at(String hour) {
        return Instant.parse("2026-12-01T" + hour + ":00Z");
    }
}

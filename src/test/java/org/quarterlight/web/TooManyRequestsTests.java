package org.quarterlight.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import org.junit.jupiter.api.Test;

/** Whoever comes again when they are told to is let in. */
class TooManyRequestsTests {
    @Test
    void tellsNoTimeThatIsTooShort() {
        assertThat(new TooManyRequests(Duration.ofSeconds(10)).patience()).isEqualTo(Duration.ofSeconds(10));
        assertThat(new TooManyRequests(Duration.ofSeconds(10, 1)).patience()).isEqualTo(Duration.ofSeconds(11));
        assertThat(TooManyRequests.minutes(Duration.ofSeconds(60))).isEqualTo(1);
        assertThat(TooManyRequests.minutes(Duration.ofSeconds(60, 500_000_000))).isEqualTo(2);
        assertThat(TooManyRequests.minutes(Duration.ZERO)).isEqualTo(1);
    }
}

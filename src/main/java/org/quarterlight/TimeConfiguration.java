package org.quarterlight;

import java.time.Clock;
import java.time.Duration;
import org.springframework.boot.autoconfigure.condition.ConditionalOnMissingBean;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;

/** Everybody takes the time from here, so that tests and the loading of history can set it. */
@Configuration(proxyBeanMethods = false)
class TimeConfiguration {
    @Bean
    @ConditionalOnMissingBean
    Clock clock() {
        // To the microsecond, as the database keeps it: what was written is equal to what is read again.
        return Clock.tick(Clock.systemUTC(), Duration.ofNanos(1_000));
    }
}

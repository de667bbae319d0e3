package org.quarterlight.demo;

import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;
import org.springframework.context.annotation.Primary;
import org.springframework.context.annotation.Profile;
import org.springframework.stereotype.Component;

/** The clock, which the loading of the demo sets back to when a thing was done, so that its records arrive in time. */
@Component
@Primary
@Profile("demo")
class DemoClock extends Clock {
    private final Clock real;
    private volatile @Nullable Instant set;

    DemoClock() {
        this(Clock.tick(Clock.systemUTC(), Duration.ofNanos(1_000)));
    }

    private DemoClock(Clock real) {
        this.real = real;
    }

    /** Everybody reads that time meanwhile: nobody else is at work while the demo is loaded. */
    <T extends @Nullable Object> T at(Instant time, Supplier<T> work) {
        set = time;
        try {
            return work.get();
        } finally {
            set = null;
        }
    }

    @Override
    public Instant instant() {
        var time = set;
        return time == null ? real.instant() : time;
    }

    @Override
    public ZoneId getZone() {
        return real.getZone();
    }

    @Override
    public Clock withZone(ZoneId zone) {
        return new Zoned(this, zone);
    }

    /** The same instants, elsewhere. */
    private static final class Zoned extends Clock {
        private final Clock clock;
        private final ZoneId zone;

        Zoned(Clock clock, ZoneId zone) {
            this.clock = clock;
            this.zone = zone;
        }

        @Override
        public Instant instant() {
            return clock.instant();
        }

        @Override
        public ZoneId getZone() {
            return zone;
        }

        @Override
        public Clock withZone(ZoneId other) {
            return new Zoned(clock, other);
        }
    }
}

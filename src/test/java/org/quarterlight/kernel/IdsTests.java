package org.quarterlight.kernel;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.UUID;
import java.util.concurrent.Callable;
import java.util.concurrent.Executors;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

class IdsTests {
    /** As PostgreSQL and RFC 9562 order them: byte by byte, without signs. */
    private static final Comparator<UUID> BY_BYTES = (one, other) -> {
        var high = Long.compareUnsigned(one.getMostSignificantBits(), other.getMostSignificantBits());
        return high != 0 ? high : Long.compareUnsigned(one.getLeastSignificantBits(), other.getLeastSignificantBits());
    };

    private final Instant now = Instant.now().plus(Duration.ofDays(1));

    @Test
    void saysVersionVariantAndTime() {
        var id = Ids.next(now);
        assertThat(id.version()).isEqualTo(7);
        assertThat(id.variant()).isEqualTo(2);
        assertThat(id.getMostSignificantBits() >>> 16).isEqualTo(now.toEpochMilli());
    }

    @Test
    void eachIsGreaterThanTheOneBeforeWithinAMillisecondToo() {
        var ids = Stream.generate(() -> Ids.next(now)).limit(20_000).toList();
        assertThat(ids).isSortedAccordingTo(BY_BYTES).doesNotHaveDuplicates();
        assertThat(ids.getLast().getMostSignificantBits() >>> 16)
                .isBetween(now.toEpochMilli(), now.toEpochMilli() + 10);
    }

    @Test
    void aClockThatIsSetBackALittleDoesNotTurnTheOrder() {
        var before = Ids.next(now);
        assertThat(BY_BYTES.compare(before, Ids.next(now.minusSeconds(3)))).isNegative();
    }

    @Test
    void aTimeLongAgoIsTakenAsItIsTold() {
        Ids.next(now);
        var told = now.minus(Duration.ofDays(30));
        assertThat(Ids.next(told).getMostSignificantBits() >>> 16).isEqualTo(told.toEpochMilli());
    }

    @Test
    void threadsTogetherMakeNoTwoAlike() throws Exception {
        Callable<ArrayList<UUID>> work = () -> {
            var ids = new ArrayList<UUID>();
            for (int i = 0; i < 5_000; i++) {
                ids.add(Ids.next(now));
            }
            return ids;
        };
        var all = new HashSet<UUID>();
        try (var threads = Executors.newFixedThreadPool(4)) {
            for (var made : threads.invokeAll(
                    IntStream.range(0, 4).mapToObj(each -> work).toList())) {
                assertThat(made.get()).isSortedAccordingTo(BY_BYTES);
                all.addAll(made.get());
            }
        }
        assertThat(all).hasSize(20_000);
    }
}

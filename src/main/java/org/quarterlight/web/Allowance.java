package org.quarterlight.web;

import com.github.benmanes.caffeine.cache.Cache;
import com.github.benmanes.caffeine.cache.Caffeine;
import io.github.bucket4j.Bucket;
import java.time.Duration;

/** How often somebody without a login may come: so many in a period, each by a name such as an address. In this node alone. */
public final class Allowance {
    private static final int REMEMBERED_AT_MOST = 100_000;

    private final int most;
    private final Duration period;
    private final Cache<String, Bucket> buckets;

    public Allowance(int most, Duration period) {
        this.most = most;
        this.period = period;
        buckets = Caffeine.newBuilder()
                .maximumSize(REMEMBERED_AT_MOST)
                .expireAfterAccess(period)
                .build();
    }

    /**
     * Takes from what this name has left.
     *
     * @throws TooManyRequests where it is too little
     */
    public void take(String name, int cost) {
        var bucket = buckets.get(
                name,
                absent -> Bucket.builder()
                        .addLimit(limit -> limit.capacity(most).refillGreedy(most, period))
                        .build());
        var taken = bucket.tryConsumeAndReturnRemaining(cost);
        if (!taken.isConsumed()) {
            throw new TooManyRequests(Duration.ofNanos(taken.getNanosToWaitForRefill()));
        }
    }
}

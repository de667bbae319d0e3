package org.quarterlight.repair;

import java.math.BigDecimal;
import java.time.Instant;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.bench.DonePhase;
import org.quarterlight.bench.PhaseKind;

/**
 * A step as it was recorded.
 *
 * @param backReason why the work went back to it
 * @param reading what a gauge showed
 * @param lamp as the register named it then
 * @param requiredSeconds under this lamp, as worked out when it began
 * @param deviceOffsetSeconds how far the device's clock was ahead, where it measured without a network; the times here are
 *     corrected by it
 * @param arrivedAt when the service heard that it began
 * @param endArrivedAt when it heard that it ended; null where that was not kept yet
 * @param endOffsetSeconds as {@code deviceOffsetSeconds}, of its end
 * @param clearOfAir whether the break was, when a vacuum ended; null where nobody said
 * @param queued a device had to keep that it began for want of a network, as far as the service can tell; null where that was not asked
 * @param endQueued the same of its end
 * @param cureLamp of a cure under a lamp of the register: what its time was worked out with
 */
public record JobPhase(
        UUID id,
        PhaseKind kind,
        Instant startedAt,
        @Nullable Instant endedAt,
        String note,
        String recordedBy,
        @Nullable String backReason,
        @Nullable String reading,
        @Nullable String lamp,
        @Nullable BigDecimal lampDistanceMm,
        @Nullable Integer requiredSeconds,
        boolean goggles,
        @Nullable Integer deviceOffsetSeconds,
        Instant arrivedAt,
        @Nullable Instant endArrivedAt,
        @Nullable Integer endOffsetSeconds,
        @Nullable Boolean clearOfAir,
        @Nullable CureLamp cureLamp,
        @Nullable Boolean queued,
        @Nullable Boolean endQueued) {
    /** That it was told late, in words; else null. */
    public @Nullable String toldLate() {
        var start = Lateness.told(startedAt, arrivedAt, Lateness.queued(queued, deviceOffsetSeconds));
        return start != null || endedAt == null
                ? start
                : Lateness.told(endedAt, endArrivedAt, Lateness.queued(endQueued, endOffsetSeconds));
    }

    boolean isLate() {
        return toldLate() != null;
    }

    /** As a method is held against it. */
    public DonePhase done() {
        return new DonePhase(kind, startedAt, endedAt, requiredSeconds, clearOfAir);
    }
}

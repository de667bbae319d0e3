package org.quarterlight.repair;

import java.time.Instant;
import java.util.List;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.bench.Conditions;
import org.quarterlight.bench.Objection;
import org.quarterlight.bench.Readiness;

/**
 * Air, glass and sky as they were read, and what was computed from them then.
 *
 * @param arrivedAt when the service heard of it
 * @param deviceOffsetSeconds how far the device's clock was ahead, where it was read without a network
 * @param queued a device had to keep it for want of a network, as far as the service can tell; null where that was not asked
 */
public record JobReading(
        UUID id,
        Conditions conditions,
        double dewPointCelsius,
        Outcome outcome,
        List<Objection> objections,
        List<String> cautions,
        Instant readAt,
        String readBy,
        Instant arrivedAt,
        @Nullable Integer deviceOffsetSeconds,
        @Nullable Boolean queued) {
    /** That it was told late, in words; else null. */
    public @Nullable String toldLate() {
        return Lateness.told(readAt, arrivedAt, Lateness.queued(queued, deviceOffsetSeconds));
    }

    public JobReading {
        objections = List.copyOf(objections);
        cautions = List.copyOf(cautions);
    }

    /** In one word. */
    public enum Outcome {
        GO,
        WAIT,
        STOP;

        static Outcome of(Readiness readiness) {
            return switch (readiness) {
                case Readiness.Go go -> GO;
                case Readiness.Wait wait -> WAIT;
                case Readiness.Stop stop -> STOP;
            };
        }
    }
}

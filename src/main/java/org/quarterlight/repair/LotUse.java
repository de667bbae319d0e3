package org.quarterlight.repair;

import java.time.Instant;
import java.time.ZoneId;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/**
 * A lot in a job, with the vehicle it went onto.
 *
 * @param arrivedAt when the service heard of it; null where that was not kept yet
 * @param deviceOffsetSeconds how far the device's clock was ahead, where it told the time without a network
 * @param queued a device had to keep it for want of a network, as far as the service can tell
 */
public record LotUse(
        UUID id,
        UUID lot,
        String lotNumber,
        LotKind kind,
        UUID job,
        int jobNumber,
        JobState state,
        String registration,
        String depotName,
        ZoneId zone,
        String amount,
        Instant usedAt,
        String usedBy,
        @Nullable Instant arrivedAt,
        @Nullable Integer deviceOffsetSeconds,
        boolean queued) {
    /** That it was told late, in words; else null. */
    public @Nullable String toldLate() {
        return Lateness.told(usedAt, arrivedAt, queued);
    }
}

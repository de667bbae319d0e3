package org.quarterlight.repair;

import jakarta.validation.constraints.DecimalMax;
import jakarta.validation.constraints.DecimalMin;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import java.math.BigDecimal;
import java.time.Instant;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.bench.CureTime;
import org.quarterlight.bench.PhaseKind;

/**
 * A phase that began, and may have ended already. Without a start it begins now.
 *
 * @param deviceClock what the device's clock says while it sends this; where it is given, the times were measured without a
 *     network, and are corrected by how far that clock is ahead of the service's
 * @param reason why the work goes back behind what was done
 * @param reading what a gauge showed, with its unit
 * @param lamp of the performer's register, for the cure
 * @param side from which the lamp shines; outside where nobody says otherwise
 * @param goggles everybody near the lamp wears them
 * @param id chosen by a device, so that it can end a phase that the service has not heard of yet; sent again, the phase is
 *     there once
 * @param clearOfAir whether the break was, when a vacuum ended
 */
public record RecordPhase(
        @NotNull PhaseKind kind,
        @Nullable Instant startedAt,
        @Nullable Instant endedAt,
        @Size(max = 1000) @Nullable String note,
        @Nullable Instant deviceClock,
        @Size(max = 500) @Nullable String reason,
        @Size(max = 60) @Nullable String reading,
        @Nullable UUID lamp,
        @DecimalMin("1") @DecimalMax("2000") @Nullable BigDecimal lampDistanceMm,
        CureTime.@Nullable Side side,
        @Nullable Boolean goggles,
        @Nullable UUID id,
        @Nullable Boolean clearOfAir) {
    /** A phase that the service gives its id. */
    public RecordPhase(
            PhaseKind kind,
            @Nullable Instant startedAt,
            @Nullable Instant endedAt,
            @Nullable String note,
            @Nullable Instant deviceClock,
            @Nullable String reason,
            @Nullable String reading,
            @Nullable UUID lamp,
            @Nullable BigDecimal lampDistanceMm,
            CureTime.@Nullable Side side,
            @Nullable Boolean goggles) {
        this(
                kind,
                startedAt,
                endedAt,
                note,
                deviceClock,
                reason,
                reading,
                lamp,
                lampDistanceMm,
                side,
                goggles,
                null,
                null);
    }

    /** A phase of which nothing else is to be told. */
    public static RecordPhase of(PhaseKind kind, @Nullable Instant startedAt, @Nullable Instant endedAt) {
        return new RecordPhase(kind, startedAt, endedAt, null, null, null, null, null, null, null, null);
    }
}

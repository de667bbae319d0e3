package org.quarterlight.repair;

import java.math.BigDecimal;
import java.time.LocalDate;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.bench.CureTime;

/**
 * The lamp of a cure as the register knew it then, so that its time can be worked out again.
 *
 * @param side of the laminate from which it shone
 * @param distanceMm between lamp and glass; that of the reading where nobody said otherwise
 * @param reading the newest one by that day, where it still held; null where the lamp had to be measured again
 * @param irradianceMwPerCm2 on the glass, from the reading and the distance
 */
public record CureLamp(
        UUID lamp,
        String name,
        BigDecimal wavelengthNm,
        CureTime.Side side,
        @Nullable BigDecimal distanceMm,
        @Nullable MeterReading reading,
        @Nullable Double irradianceMwPerCm2) {
    /** What a meter showed, and until when that is trusted. */
    public record MeterReading(
            LocalDate readOn,
            BigDecimal irradianceMwPerCm2,
            BigDecimal distanceMm,
            BigDecimal hours,
            String readBy,
            LocalDate goodUntil) {}
}

package org.quarterlight.repair;

import java.math.BigDecimal;
import java.time.LocalDate;
import java.util.List;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.bench.EyeLimit;
import org.quarterlight.bench.LampReading;

/**
 * A lamp with its readings, newest first.
 *
 * @param readingDueOn when the last reading no longer holds; null where it was never read
 * @param readingDue it has to be read before its figures can be trusted
 * @param percentOfFirst what is left of the irradiance that it was first read with, brought to the same distance
 * @param secondsWithoutGoggles longest look towards it within a day, at the distance of the last reading
 * @param gogglesMark by EN 170
 */
public record LampView(
        UUID id,
        String name,
        BigDecimal wavelengthNm,
        BigDecimal hours,
        int readEveryDays,
        List<Read> readings,
        @Nullable LocalDate readingDueOn,
        boolean readingDue,
        @Nullable Integer percentOfFirst,
        @Nullable Double secondsWithoutGoggles,
        String gogglesMark,
        boolean retired,
        int version) {
    public LampView {
        readings = List.copyOf(readings);
    }

    /** What a meter showed. */
    public record Read(
            LocalDate readOn, BigDecimal irradianceMwPerCm2, BigDecimal distanceMm, BigDecimal hours, String readBy) {
        LampReading of(BigDecimal wavelengthNm) {
            return new LampReading(
                    wavelengthNm.doubleValue(), irradianceMwPerCm2.doubleValue(), distanceMm.doubleValue());
        }
    }

    static LampView of(
            UUID id,
            String name,
            BigDecimal wavelengthNm,
            BigDecimal hours,
            int readEveryDays,
            List<Read> readings,
            boolean retired,
            int version,
            LocalDate today) {
        var last = readings.isEmpty() ? null : readings.getFirst();
        var due = last == null ? null : last.readOn().plusDays(readEveryDays);
        return new LampView(
                id,
                name,
                wavelengthNm,
                hours,
                readEveryDays,
                readings,
                due,
                due == null || due.isBefore(today),
                last == null ? null : percent(last, readings.getLast()),
                last == null
                        ? null
                        : EyeLimit.longestUnprotected(
                                                last.of(wavelengthNm),
                                                last.distanceMm().doubleValue())
                                        .toMillis()
                                / 1000.0,
                EyeLimit.GOGGLES_MARK,
                retired,
                version);
    }

    /** As from a point: what falls on a place times the square of its distance stays the same. */
    private static int percent(Read last, Read first) {
        var now = last.irradianceMwPerCm2().doubleValue()
                * Math.pow(last.distanceMm().doubleValue(), 2);
        var then = first.irradianceMwPerCm2().doubleValue()
                * Math.pow(first.distanceMm().doubleValue(), 2);
        return (int) Math.round(100 * now / then);
    }

    /** The newest reading by that day, if it still held then. */
    @Nullable
    Read trustedOn(LocalDate day) {
        return readings.stream()
                .filter(read -> !read.readOn().isAfter(day))
                .findFirst()
                .filter(read -> !read.readOn().plusDays(readEveryDays).isBefore(day))
                .orElse(null);
    }
}

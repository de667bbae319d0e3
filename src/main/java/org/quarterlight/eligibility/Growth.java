package org.quarterlight.eligibility;

import java.time.Duration;
import java.time.Instant;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.function.Predicate;
import org.apache.commons.statistics.distribution.TDistribution;
import org.quarterlight.glass.Measured;

/**
 * How a length grew: the straight line through its readings by least squares, each counted once (JCGM 100:2008, H.3, from
 * memory). With b = Σ(t − t̄)(x − x̄) / Σ(t − t̄)² the standard uncertainty of b is s / √Σ(t − t̄)², and of the line at t it
 * is s √(1/n + (t − t̄)² / Σ(t − t̄)²). s is the scatter about the line, √(Σ(x − x̂)² / (n − 2)), but never less than the
 * readings' own standard uncertainty: few points may lie on a line by chance. The interval holds 95 % by Student's t with
 * n − 2 degrees of freedom; two readings leave none, so theirs comes from their own uncertainty and the normal quantile.
 */
public final class Growth {
    public static final double CONFIDENCE = 0.95;
    private static final double NORMAL_QUANTILE = 1.959963984540054;
    private static final double SECONDS_A_DAY = Duration.ofDays(1).toSeconds();

    private final Instant begin;
    private final int count;
    private final double meanDay;
    private final double meanMm;
    private final double squares;
    private final double mmPerDay;
    /** Ours. */
    private static final Duration SHORTEST = Duration.ofHours(12);

    private final double scatterMm;
    private final double quantile;

    /** A length as it was once read. */
    public record Length(Instant at, Measured length) {}

    private Growth(List<Length> readings) {
        begin = readings.getFirst().at();
        count = readings.size();
        meanDay = readings.stream()
                .mapToDouble(reading -> day(reading.at()))
                .average()
                .orElseThrow();
        meanMm = readings.stream()
                .mapToDouble(reading -> reading.length().mm())
                .average()
                .orElseThrow();
        var both = 0.0;
        var days = 0.0;
        var doubt = 0.0;
        for (var reading : readings) {
            var day = day(reading.at()) - meanDay;
            days += day * day;
            both += day * (reading.length().mm() - meanMm);
            doubt += reading.length().standardUncertaintyMm() * reading.length().standardUncertaintyMm();
        }
        squares = days;
        mmPerDay = days == 0 ? 0 : both / days;
        var left = 0.0;
        for (var reading : readings) {
            var off = reading.length().mm() - mmAt(reading.at());
            left += off * off;
        }
        var freedom = count - 2;
        scatterMm = Math.max(freedom > 0 ? Math.sqrt(left / freedom) : 0, Math.sqrt(doubt / count));
        quantile = freedom > 0 ? studentsT(1 - (1 - CONFIDENCE) / 2, freedom) : NORMAL_QUANTILE;
    }

    /** Nothing where there are not two readings half a day apart: two looks at one time tell of the gauge, not of growth. */
    public static Optional<Growth> of(List<Length> readings) {
        var inOrder = readings.stream().sorted(Comparator.comparing(Length::at)).toList();
        if (inOrder.size() < 2
                || Duration.between(inOrder.getFirst().at(), inOrder.getLast().at())
                                .compareTo(SHORTEST)
                        < 0) {
            return Optional.empty();
        }
        return Optional.of(new Growth(inOrder));
    }

    public double mmPerDay() {
        return mmPerDay;
    }

    /** Half the interval of the rate. */
    public double halfIntervalMmPerDay() {
        return quantile * scatterMm / Math.sqrt(squares);
    }

    /** The line at this time. */
    public double mmAt(Instant at) {
        return meanMm + mmPerDay * (day(at) - meanDay);
    }

    /** Half the interval of the line at this time. */
    public double halfIntervalMmAt(Instant at) {
        var off = day(at) - meanDay;
        return quantile * scatterMm * Math.sqrt(1.0 / count + off * off / squares);
    }

    /** When the line first reaches a length after this time; nothing where it never does within the time given. */
    public Optional<Instant> reaches(double mm, Instant after, Instant until) {
        return first(at -> mmAt(at) >= mm, after, until);
    }

    /** When the upper end of the interval does. */
    public Optional<Instant> mayReach(double mm, Instant after, Instant until) {
        return first(at -> mmAt(at) + halfIntervalMmAt(at) >= mm, after, until);
    }

    /** Looked for a day at a time, as people act by days. */
    private static Optional<Instant> first(Predicate<Instant> there, Instant after, Instant until) {
        for (var at = after; !at.isAfter(until); at = at.plus(Duration.ofDays(1))) {
            if (there.test(at)) {
                return Optional.of(at);
            }
        }
        return Optional.empty();
    }

    private double day(Instant at) {
        return Duration.between(begin, at).toSeconds() / SECONDS_A_DAY;
    }

    static double studentsT(double probability, double freedom) {
        return TDistribution.of(freedom).inverseCumulativeProbability(probability);
    }
}

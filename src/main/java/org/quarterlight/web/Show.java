package org.quarterlight.web;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.time.temporal.ChronoUnit;
import java.util.Locale;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.glass.Measured;
import org.springframework.stereotype.Component;

/** How dates, times and lengths stand on pages; templates call it as {@code @show}. */
@Component("show")
public class Show {
    private static final DateTimeFormatter DAY = DateTimeFormatter.ofPattern("EEE d MMMM", Locale.ENGLISH);
    private static final DateTimeFormatter SHORT_DAY = DateTimeFormatter.ofPattern("EEE d MMM", Locale.ENGLISH);
    private static final DateTimeFormatter DAY_AND_YEAR = DateTimeFormatter.ofPattern("d MMM yyyy", Locale.ENGLISH);
    private static final DateTimeFormatter DATE_AND_YEAR = DateTimeFormatter.ofPattern("d MMMM uuuu", Locale.ENGLISH);
    private static final DateTimeFormatter UTC = DateTimeFormatter.ofPattern("d MMM uuuu HH:mm", Locale.ENGLISH);
    private static final DateTimeFormatter DATED = DateTimeFormatter.ofPattern("EEE d MMM uuuu, HH:mm", Locale.ENGLISH);
    private static final DateTimeFormatter MOMENT = DateTimeFormatter.ofPattern("EEE d MMM, HH:mm", Locale.ENGLISH);
    private static final DateTimeFormatter HOUR = DateTimeFormatter.ofPattern("HH:mm", Locale.ENGLISH);
    private static final int DAYS_WITHOUT_YEAR = 200;

    private final Today today;
    private final Clock clock;

    Show(Today today, Clock clock) {
        this.today = today;
        this.clock = clock;
    }

    /** {@code Wed 9 December}, with its year instead where that is far away. */
    public String date(@Nullable LocalDate date) {
        if (date == null) {
            return "";
        }
        return (isFar(date) ? DAY_AND_YEAR : DAY).format(date);
    }

    /** {@code 9 December 2026}: with its year, however near, where people agree on it or count by it. */
    public String dated(@Nullable LocalDate date) {
        return date == null ? "" : DATE_AND_YEAR.format(date);
    }

    /** The day of a moment where the organisation is, with its year. */
    public String dated(@Nullable Instant moment) {
        return moment == null ? "" : dated(moment.atZone(today.zone()).toLocalDate());
    }

    /** {@code Wed 9 Dec}, where there is little room; with its year where that is far away. */
    public String day(@Nullable LocalDate date) {
        if (date == null) {
            return "";
        }
        return (isFar(date) ? DAY_AND_YEAR : SHORT_DAY).format(date);
    }

    private boolean isFar(LocalDate date) {
        return Math.abs(ChronoUnit.DAYS.between(today.here(), date)) >= DAYS_WITHOUT_YEAR;
    }

    /** The day of a moment, there. */
    public String date(@Nullable Instant moment, ZoneId zone) {
        return moment == null ? "" : date(moment.atZone(zone).toLocalDate());
    }

    /** {@code Wed 9 Dec, 07:40}, there; with its year where that is far away. */
    public String moment(@Nullable Instant moment, ZoneId zone) {
        if (moment == null) {
            return "";
        }
        var there = moment.atZone(zone);
        return (isFar(there.toLocalDate()) ? DATED : MOMENT).format(there);
    }

    /** {@code Wed 9 Dec 2026, 07:40}, there: for what is read years later. */
    public String dated(@Nullable Instant moment, ZoneId zone) {
        return moment == null ? "" : DATED.format(moment.atZone(zone));
    }

    /** {@code 9 Dec 2026 06:40 UTC}, for what concerns no place. */
    public String utc(@Nullable Instant moment) {
        return moment == null ? "" : UTC.format(moment.atOffset(ZoneOffset.UTC)) + " UTC";
    }

    /** {@code 07:40}, there. */
    public String hour(@Nullable Instant moment, ZoneId zone) {
        return moment == null ? "" : HOUR.format(moment.atZone(zone));
    }

    /** {@code today}, {@code in 3 days}, {@code 2 days late}. */
    public String until(@Nullable LocalDate date) {
        if (date == null) {
            return "";
        }
        var days = ChronoUnit.DAYS.between(today.here(), date);
        if (days == 0) {
            return "today";
        }
        return days > 0 ? "in " + days(days) : days(-days) + " late";
    }

    /** {@code just now}, {@code 2 h ago}, {@code yesterday}, {@code 5 days ago}. */
    public String ago(@Nullable Instant moment) {
        if (moment == null) {
            return "";
        }
        var since = Duration.between(moment, clock.instant());
        if (since.toMinutes() < 2) {
            return "just now";
        }
        if (since.toHours() < 1) {
            return since.toMinutes() + " min ago";
        }
        if (since.toDays() < 1) {
            return since.toHours() + " h ago";
        }
        return since.toDays() == 1 ? "yesterday" : since.toDays() + " days ago";
    }

    public boolean past(@Nullable LocalDate date) {
        return date != null && date.isBefore(today.here());
    }

    /** A length as it was typed, without needless noughts; a true minus. */
    public String mm(@Nullable BigDecimal length) {
        if (length == null) {
            return "–";
        }
        var plain = length.setScale(
                        Math.min(1, Math.max(0, length.stripTrailingZeros().scale())), RoundingMode.HALF_UP)
                .abs()
                .toPlainString();
        return length.signum() < 0 ? "−" + plain : plain;
    }

    /** {@code 24.6 ± 0.5}. */
    public String measured(BigDecimal length, BigDecimal standardUncertainty) {
        return new Measured(length.doubleValue(), standardUncertainty.doubleValue()).text();
    }

    /** A probability in words that do not claim more than it says. */
    public String probability(@Nullable Double probability) {
        if (probability == null) {
            return "";
        }
        if (probability > 0.999) {
            return "over 99.9 %";
        }
        if (probability < 0.001) {
            return "under 0.1 %";
        }
        return BigDecimal.valueOf(probability * 100).setScale(1, RoundingMode.HALF_UP) + " %";
    }

    /** {@code star-break} or {@code STAR_BREAK} as {@code Star break}. */
    public String word(Object word) {
        var text = word instanceof Enum<?> constant
                ? Words.spoken(constant)
                : word.toString().replace('-', ' ');
        return text.substring(0, 1).toUpperCase(Locale.ROOT) + text.substring(1);
    }

    /** {@code STAND_DOWN} as {@code stand-down}, for marks and addresses. */
    public String kebab(Enum<?> constant) {
        return Words.of(constant);
    }

    /** A new key for a form that must not be sent twice. */
    public String newKey() {
        return UUID.randomUUID().toString();
    }

    private static String days(long days) {
        return days == 1 ? "1 day" : days + " days";
    }
}

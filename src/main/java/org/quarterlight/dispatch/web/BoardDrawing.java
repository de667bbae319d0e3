package org.quarterlight.dispatch.web;

import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.time.ZonedDateTime;
import java.time.format.DateTimeFormatter;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.UUID;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.quarterlight.dispatch.DayView;
import org.quarterlight.dispatch.StopView;
import org.quarterlight.repair.Work;

/**
 * A day's board as it is drawn: one row of 92 px for each van, hands above, lamps below. Places along the hours are percent
 * of the axis, so that a row fills what room there is while its letters stay as large as they are; heights are px.
 *
 * @param zone whose clock the axis shows
 * @param now where that is on the axis of this day
 */
public record BoardDrawing(
        ZoneId zone, List<Hour> hours, @Nullable Mark now, List<Row> rows) {
    /** How wide the axis is at a desk of 1440 px: the board's 976 without the vans' names. */
    static final double AXIS_PX = 864;

    private static final DateTimeFormatter CLOCK = DateTimeFormatter.ofPattern("HH:mm", Locale.ROOT);
    private static final int EARLIEST_HOUR = 7;
    private static final int LATEST_HOUR = 17;
    private static final double LETTER_PX = 6.9;
    private static final double NOW_TAG_PX = 46;
    private static final int LABELS_WITHOUT_EDGE = 15;

    public BoardDrawing {
        hours = List.copyOf(hours);
        rows = List.copyOf(rows);
    }

    /** A place on the axis with words. */
    public record Mark(double x, String words) {}

    /** An hour's line; the words are missing below the tag of now, and a minor hour's go where the axis is short. */
    public record Hour(double x, @Nullable String words, boolean minor) {}

    /** From one place on the axis to another. */
    public record Span(double x, double width) {
        public double end() {
            return rounded(x + width);
        }
    }

    /**
     * A stop's work.
     *
     * @param state ahead, under-way or done
     * @param donePart percent of its own width, where it is under way
     */
    public record Block(
            UUID job,
            Span span,
            String state,
            double donePart,
            @Nullable String label,
            boolean selected) {}

    /** A flag on a pole; the words stand on the side where there is room. */
    public record Pennant(double x, String path, double wordsX, String words) {}

    /**
     * One van.
     *
     * @param words the same for somebody who does not see it
     * @param frame around the selected stop
     */
    public record Row(
            DayView day,
            String words,
            Span shift,
            List<Span> travel,
            List<Span> waits,
            List<Block> blocks,
            List<Span> cures,
            List<Pennant> pennants,
            @Nullable Span frame) {
        public Row {
            travel = List.copyOf(travel);
            waits = List.copyOf(waits);
            blocks = List.copyOf(blocks);
            cures = List.copyOf(cures);
            pennants = List.copyOf(pennants);
        }
    }

    /** The hours that are drawn. */
    private record Axis(Instant from, Instant to) {
        double x(Instant at) {
            var share = (double) ChronoUnit.SECONDS.between(from, at) / ChronoUnit.SECONDS.between(from, to);
            return rounded(100 * Math.clamp(share, 0.0, 1.0));
        }

        Span span(Instant begins, Instant ends) {
            return new Span(x(begins), rounded(x(ends) - x(begins)));
        }
    }

    /** Draws these days, all of one date, on the clock of one zone; selected is a stop's job. */
    static BoardDrawing of(LocalDate date, ZoneId zone, List<DayView> days, Instant now, @Nullable UUID selected) {
        var axis = axis(date, zone, days);
        var present = now.isBefore(axis.from) || now.isAfter(axis.to)
                ? null
                : new Mark(axis.x(now), CLOCK.format(now.atZone(zone)));
        var hours = new ArrayList<Hour>();
        var many = Duration.between(axis.from, axis.to).toHours() > 12;
        // Where the clock is put back an hour stands twice, and where it is put forward one is missing: as it is.
        for (var at = axis.from.atZone(zone); !at.toInstant().isAfter(axis.to); at = at.plusHours(1)) {
            var x = axis.x(at.toInstant());
            // The last stands at the edge, its words before it: too near to those of the hour before where hours are
            // short.
            var hidden = x == 100 && hours.size() > LABELS_WITHOUT_EDGE
                    || present != null && Math.abs(px(x - present.x())) < NOW_TAG_PX;
            hours.add(new Hour(x, hidden ? null : clock(at), many && hours.size() % 2 == 1));
        }
        return new BoardDrawing(
                zone,
                hours,
                present,
                days.stream().map(day -> row(day, axis, now, selected)).toList());
    }

    /** Whole hours around everything there is to draw, from 7 to 17 at least. */
    private static Axis axis(LocalDate date, ZoneId zone, List<DayView> days) {
        var from = date.atTime(EARLIEST_HOUR, 0).atZone(zone);
        var to = date.atTime(LATEST_HOUR, 0).atZone(zone);
        var moments = days.stream().flatMap(BoardDrawing::moments).map(moment -> moment.atZone(zone));
        for (var moment : moments.toList()) {
            if (moment.isBefore(from)) {
                from = moment.truncatedTo(ChronoUnit.HOURS);
            }
            if (moment.isAfter(to)) {
                to = moment.truncatedTo(ChronoUnit.HOURS).plusHours(1);
            }
        }
        // The day's own hours only: what goes on past midnight is cut off at the edge and told in words.
        var midnight = date.atStartOfDay(zone);
        var next = date.plusDays(1).atStartOfDay(zone);
        return new Axis(
                (from.isBefore(midnight) ? midnight : from).toInstant(), (to.isAfter(next) ? next : to).toInstant());
    }

    private static Stream<Instant> moments(DayView day) {
        return Stream.concat(
                Stream.of(day.leaves(), day.back(), starts(day), ends(day)).filter(moment -> moment != null),
                day.stops().stream().flatMap(stop -> Stream.of(stop.begins(), stop.ends())));
    }

    private static Row row(DayView day, Axis axis, Instant now, @Nullable UUID selected) {
        var travel = new ArrayList<Span>();
        var waits = new ArrayList<Span>();
        var blocks = new ArrayList<Block>();
        var cures = new ArrayList<Span>();
        var pennants = new ArrayList<Pennant>();
        Span frame = null;
        var inTime = day.stops().stream()
                .sorted(Comparator.comparing(StopView::begins))
                .toList();
        var last = day.leaves();
        for (var stop : inTime) {
            add(travel, axis, stop.departs(), stop.arrives());
            add(waits, axis, stop.arrives(), stop.begins());
            var chosen = stop.job().equals(selected);
            blocks.add(block(stop, axis, now, chosen));
            stop.cures().forEach(cure -> add(cures, axis, cure.begins(), cure.ends()));
            if (chosen) {
                frame = axis.span(stop.begins(), stop.ends());
            }
            pennant(stop, axis, pennants);
            if (last == null || stop.ends().isAfter(last)) {
                last = stop.ends();
            }
        }
        if (last != null && day.back() != null) {
            add(travel, axis, last, day.back());
            if (day.overtimeMinutes() > 0) {
                pennants.add(pennant(axis.x(day.back()), minutes(day.overtimeMinutes()) + " over"));
            }
        }
        return new Row(
                day,
                words(day, inTime),
                axis.span(starts(day), ends(day)),
                travel,
                waits,
                blocks,
                cures,
                apart(pennants),
                frame);
    }

    private static void add(List<Span> spans, Axis axis, Instant begins, Instant ends) {
        var span = axis.span(begins, ends);
        if (span.width() > 0) {
            spans.add(span);
        }
    }

    private static Block block(StopView stop, Axis axis, Instant now, boolean selected) {
        var whole = ChronoUnit.SECONDS.between(stop.begins(), stop.ends());
        var spent = ChronoUnit.SECONDS.between(stop.begins(), now);
        var span = axis.span(stop.begins(), stop.ends());
        var wholeWords = stop.registration() + " replacement";
        var label =
                stop.work() == Work.REPLACEMENT && fits(wholeWords, span) ? wholeWords : lastGroup(stop.registration());
        return new Block(
                stop.job(),
                span,
                stop.done() ? "done" : stop.underWay() ? "under-way" : "ahead",
                stop.underWay() && whole > 0 ? rounded(100 * Math.clamp((double) spent / whole, 0.0, 1.0)) : 0,
                fits(label, span) ? label : null,
                selected);
    }

    private static boolean fits(String label, Span span) {
        return LETTER_PX * label.length() + 4 <= px(span.width());
    }

    private static double px(double percent) {
        return percent * AXIS_PX / 100;
    }

    /** {@code KTB} of {@code QV23 KTB}; a plate of one group is shown by its last four. */
    static String lastGroup(String registration) {
        var groups = registration.trim().split("[ -]+");
        var last = groups[groups.length - 1];
        return groups.length == 1 && last.length() > 4 ? last.substring(last.length() - 4) : last;
    }

    private static void pennant(StopView stop, Axis axis, List<Pennant> pennants) {
        if (stop.flag() != null) {
            pennants.add(pennant(axis.x(stop.ends()), stop.flag().startsWith("Nobody") ? "not done" : "gate closed"));
        } else if (stop.lateMinutes() > 0) {
            pennants.add(pennant(axis.x(stop.ends()), minutes(stop.lateMinutes()) + " late"));
        }
    }

    private static Pennant pennant(double x, String words) {
        var width = 18 + LETTER_PX * words.length();
        var side = px(x) + width > AXIS_PX ? -1 : 1;
        return new Pennant(
                x,
                "M0 -6V22M0 0H%sl%s 11 %s 11H0".formatted(rounded(side * width), -6 * side, 6 * side),
                rounded(side * (width - 6) / 2),
                words);
    }

    /** Those that do not lie upon each other: the first and the last before those between. */
    private static List<Pennant> apart(List<Pennant> pennants) {
        var byWeight = new ArrayList<>(pennants);
        if (byWeight.size() > 2) {
            byWeight.add(1, byWeight.removeLast());
        }
        var kept = new ArrayList<Pennant>();
        for (var pennant : byWeight) {
            if (kept.stream().noneMatch(other -> overlap(other, pennant))) {
                kept.add(pennant);
            }
        }
        kept.sort(Comparator.comparingDouble(Pennant::x));
        return kept;
    }

    private static boolean overlap(Pennant one, Pennant other) {
        return left(one) < right(other) && left(other) < right(one);
    }

    private static double left(Pennant pennant) {
        return px(pennant.x()) + Math.min(0, 2 * pennant.wordsX() - 6);
    }

    private static double right(Pennant pennant) {
        return px(pennant.x()) + Math.max(0, 2 * pennant.wordsX() + 6);
    }

    /** {@code 12}, {@code 1 h}, {@code 2 h 05}. */
    static String minutes(int minutes) {
        if (minutes < 60) {
            return Integer.toString(minutes);
        }
        return minutes / 60 + " h" + (minutes % 60 == 0 ? "" : " %02d".formatted(minutes % 60));
    }

    private static String words(DayView day, List<StopView> inTime) {
        var head = "%s, shift %s to %s".formatted(day.van().name(), day.startsAt(), day.endsAt());
        if (inTime.isEmpty()) {
            return head + ": nothing on this day";
        }
        return inTime.stream()
                .map(stop -> "%s–%s %s at %s, %s%s"
                        .formatted(
                                CLOCK.format(stop.begins().atZone(stop.zone())),
                                CLOCK.format(stop.ends().atZone(stop.zone())),
                                stop.registration(),
                                stop.depot(),
                                stop.done() ? "done" : stop.underWay() ? "under way" : "to come",
                                stop.lateMinutes() > 0 ? ", " + minutes(stop.lateMinutes()) + " late" : ""))
                .collect(Collectors.joining("; ", head + ": ", day.flag() == null ? "" : ". " + day.flag()));
    }

    private static String clock(ZonedDateTime at) {
        return at.getHour() + ":" + "%02d".formatted(at.getMinute());
    }

    private static Instant starts(DayView day) {
        return day.date().atTime(day.startsAt()).atZone(day.van().zone()).toInstant();
    }

    private static Instant ends(DayView day) {
        return day.date().atTime(day.endsAt()).atZone(day.van().zone()).toInstant();
    }

    private static double rounded(double value) {
        return Math.round(value * 1000) / 1000.0;
    }
}

package org.quarterlight.damage.web;

import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import org.quarterlight.damage.GrowthView;
import org.quarterlight.eligibility.Growth;
import org.quarterlight.glass.Measured;

/** Readings over time with the line through them, its interval, and the planned day, as SVG in a page. */
final class GrowthChart {
    private static final double WIDTH = 640;
    private static final double HEIGHT = 260;
    private static final double LEFT = 52;
    private static final double RIGHT = 620;
    private static final double TOP = 14;
    private static final double BOTTOM = 222;
    private static final int PIECES = 40;
    private static final DateTimeFormatter DAY = DateTimeFormatter.ofPattern("d MMM", Locale.ENGLISH);

    private final GrowthView view;
    private final ZoneId zone;
    private final Instant begin;
    private final Instant end;
    private final double highestMm;
    private final Growth growth;
    private final StringBuilder svg = new StringBuilder();

    private GrowthChart(GrowthView view, Growth growth, ZoneId zone) {
        this.view = view;
        this.growth = growth;
        this.zone = zone;
        begin = view.readings().getFirst().seenAt();
        var last = view.readings().getLast().seenAt();
        var planned = view.plannedFor();
        var until = planned == null ? last : latest(last, noon(planned));
        var span = Duration.between(begin, until);
        end = until.plus(span.dividedBy(12));
        highestMm = 1.1
                * Math.max(
                        growth.mmAt(end) + growth.halfIntervalMmAt(end) > 4 * largest(view)
                                ? 2 * largest(view)
                                : growth.mmAt(end) + growth.halfIntervalMmAt(end),
                        largest(view));
    }

    /** Empty where the readings make no line. */
    static String of(GrowthView view, ZoneId zone) {
        return Growth.of(view.readings().stream()
                        .map(each ->
                                new Growth.Length(each.seenAt(), new Measured(each.mm(), each.standardUncertaintyMm())))
                        .toList())
                .map(growth -> new GrowthChart(view, growth, zone).draw())
                .orElse("");
    }

    private static double largest(GrowthView view) {
        return view.readings().stream()
                .mapToDouble(each -> each.mm() + 2 * each.standardUncertaintyMm())
                .max()
                .orElse(1);
    }

    private static Instant latest(Instant one, Instant other) {
        return one.isAfter(other) ? one : other;
    }

    private Instant noon(LocalDate day) {
        return day.atTime(12, 0).atZone(zone).toInstant();
    }

    private String draw() {
        var rate = Objects.requireNonNull(view.rate());
        svg.append("<svg class=\"glass-drawing growth\" viewBox=\"0 0 640 260\" width=\"")
                .append(Math.round(WIDTH))
                .append("\" height=\"")
                .append(Math.round(HEIGHT))
                .append("\" role=\"img\" aria-label=\"")
                .append(String.format(
                        Locale.ROOT,
                        "%d readings, growing %.1f mm a week, between %.1f and %.1f",
                        view.readings().size(),
                        rate.mmPerWeek(),
                        rate.lowestMmPerWeek(),
                        rate.highestMmPerWeek()))
                .append("\">");
        band();
        axes();
        var last = view.readings().getLast().seenAt();
        path("growth-line", line(begin, last));
        path("growth-line forecast", line(last, end));
        turn();
        planned();
        for (var each : view.readings()) {
            var x = x(each.seenAt());
            var reach = 2 * each.standardUncertaintyMm();
            path("dimension", "M%sV%s".formatted(point(x, y(each.mm() - reach)), n(y(each.mm() + reach))));
            svg.append("<circle class=\"pit\" cx=\"")
                    .append(n(x))
                    .append("\" cy=\"")
                    .append(n(y(each.mm())))
                    .append("\" r=\"4\"/>");
        }
        return svg.append("</svg>").toString();
    }

    private void band() {
        var upper = new StringBuilder("M");
        var lower = new StringBuilder();
        for (var i = 0; i <= PIECES; i++) {
            var at = begin.plus(Duration.between(begin, end).multipliedBy(i).dividedBy(PIECES));
            var half = growth.halfIntervalMmAt(at);
            upper.append(i == 0 ? "" : "L").append(point(x(at), y(growth.mmAt(at) + half)));
            lower.insert(0, "L" + point(x(at), y(growth.mmAt(at) - half)));
        }
        path("growth-band", upper.append(lower).append('Z').toString());
    }

    private void axes() {
        path("tick", "M%sH%s".formatted(point(LEFT, BOTTOM), n(RIGHT)));
        var step = step();
        for (var mm = 0.0; mm <= highestMm; mm += step) {
            path("tick", "M%sH%s".formatted(point(LEFT - 6, y(mm)), n(LEFT)));
            text(LEFT - 9, y(mm) + 4, "end", n(mm));
        }
        text(LEFT - 9, TOP - 2, "end", "mm");
        var labels = List.of(begin, view.readings().getLast().seenAt());
        for (var at : labels) {
            path("tick", "M%sV%s".formatted(point(x(at), BOTTOM), n(BOTTOM + 6)));
            text(x(at), BOTTOM + 20, x(at) > RIGHT - 30 ? "end" : "middle", DAY.format(at.atZone(zone)));
        }
    }

    private double step() {
        for (var step : new double[] {1, 2, 5, 10, 20, 50, 100, 200, 500, 1000}) {
            if (highestMm / step <= 6) {
                return step;
            }
        }
        return 2000;
    }

    private void planned() {
        var day = view.plannedFor();
        if (day == null) {
            return;
        }
        var x = x(noon(day));
        path("dimension-help", "M%sV%s".formatted(point(x, TOP), n(BOTTOM)));
        text(x, BOTTOM + 36, x > RIGHT - 60 ? "end" : "middle", "planned " + DAY.format(day));
    }

    private void turn() {
        var turn = view.expected() != null ? view.expected() : view.possible();
        if (turn == null || turn.mm() > highestMm) {
            return;
        }
        var level = y(turn.mm());
        path("growth-limit", "M%sH%s".formatted(point(LEFT, level), n(RIGHT)));
        text(LEFT + 6, level - 6, "start", "judged worse from " + new Measured(turn.mm(), 0).text() + " mm");
    }

    private String line(Instant from, Instant to) {
        return "M" + point(x(from), y(growth.mmAt(from))) + "L" + point(x(to), y(growth.mmAt(to)));
    }

    private void path(String pen, String data) {
        svg.append("<path class=\"").append(pen).append("\" d=\"").append(data).append("\"/>");
    }

    private void text(double x, double y, String anchor, String words) {
        svg.append("<text class=\"scale-figure\" font-size=\"12\" x=\"")
                .append(n(x))
                .append("\" y=\"")
                .append(n(y))
                .append("\" text-anchor=\"")
                .append(anchor)
                .append("\">")
                .append(words)
                .append("</text>");
    }

    private double x(Instant at) {
        var whole = Duration.between(begin, end).toSeconds();
        return LEFT + 8 + (RIGHT - LEFT - 8) * Duration.between(begin, at).toSeconds() / whole;
    }

    private double y(double mm) {
        return Math.clamp(BOTTOM - (BOTTOM - TOP) * mm / highestMm, TOP, BOTTOM);
    }

    private static String point(double x, double y) {
        return n(x) + " " + n(y);
    }

    private static String n(double value) {
        var text = String.format(Locale.ROOT, "%.1f", value);
        return text.endsWith(".0") ? text.substring(0, text.length() - 2) : text;
    }
}

package org.quarterlight.bench;

import java.time.Instant;
import java.time.LocalDate;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.Optional;
import org.jspecify.annotations.Nullable;

/** Whether the conditions allow the work: go, wait until something is changed, or stop. */
public sealed interface Readiness {
    /** What to take care of all the same, each a sentence. */
    List<String> cautions();

    /** What speaks against it; nothing where it may begin. */
    List<Objection> objections();

    /** Nothing speaks against it. */
    record Go(List<String> cautions) implements Readiness {
        public Go {
            cautions = List.copyOf(cautions);
        }

        @Override
        public List<Objection> objections() {
            return List.of();
        }
    }

    /** Something has to be changed, or to pass, first. */
    record Wait(List<Objection> objections, List<String> cautions) implements Readiness {
        public Wait {
            objections = List.copyOf(objections);
            cautions = List.copyOf(cautions);
        }

        /** When all of it has passed by itself; empty where somebody has to do something. */
        public Optional<Instant> betterAt() {
            return objections.stream().anyMatch(each -> each.betterAt() == null)
                    ? Optional.empty()
                    : objections.stream()
                            .map(Objection::betterAt)
                            .filter(Objects::nonNull)
                            .max(Comparator.naturalOrder());
        }
    }

    /** Working on would damage the glass. */
    record Stop(List<Objection> objections, List<String> cautions) implements Readiness {
        public Stop {
            objections = List.copyOf(objections);
            cautions = List.copyOf(cautions);
        }
    }

    /** By what was read, where, at this moment, and what the method asks for. */
    static Readiness of(Conditions read, Method.Limits limits, Workplace place, Instant at) {
        var waits = new ArrayList<Objection>();
        var stops = new ArrayList<Objection>();
        var cautions = new ArrayList<String>();
        wetness(read, limits, waits);
        warmth(read, limits, waits);
        sun(read, place, at, waits);
        shock(read, limits, stops, cautions);
        if (!stops.isEmpty()) {
            stops.addAll(waits);
            return new Stop(stops, cautions);
        }
        return waits.isEmpty() ? new Go(cautions) : new Wait(waits, cautions);
    }

    private static void wetness(Conditions read, Method.Limits limits, List<Objection> waits) {
        if (read.rain() && read.light() != Light.COVERED) {
            waits.add(new Objection(
                    "rain", "It rains on the glass.", "Drive it under a roof, or put up a tent and read again.", null));
        }
        if (!read.glassDry()) {
            waits.add(new Objection(
                    "wet-glass",
                    "The glass or the break is wet.",
                    "Dry it slowly, from inside, then read again.",
                    null));
        }
        var dew = read.dewPointCelsius();
        var margin = read.glassCelsius() - dew;
        if (margin < DewPoint.SAFE_MARGIN_K) {
            waits.add(new Objection(
                    "dew",
                    "The glass at " + oneDigit(read.glassCelsius()) + " °C is " + oneDigit(margin)
                            + " K above the dew point of " + oneDigit(dew)
                            + " °C. Under 3 K, moisture would be closed in.",
                    "Warm the glass to at least " + oneDigit(dew + DewPoint.SAFE_MARGIN_K) + " °C.",
                    null));
        }
        var most = limits.mostHumidityPercent();
        if (most != null && read.relativeHumidityPercent() > most) {
            waits.add(new Objection(
                    "humidity",
                    "The air has " + oneDigit(read.relativeHumidityPercent()) + " % humidity; the method allows "
                            + oneDigit(most) + " %.",
                    "Work in a dry bay, or wait for drier air.",
                    null));
        }
    }

    private static void warmth(Conditions read, Method.Limits limits, List<Objection> waits) {
        var least = limits.leastGlassCelsius();
        var most = limits.mostGlassCelsius();
        if (least != null && read.glassCelsius() < least) {
            waits.add(new Objection(
                    "cold-glass",
                    "The glass has " + oneDigit(read.glassCelsius()) + " °C; the method asks for at least "
                            + oneDigit(least) + " °C.",
                    "Warm it slowly from inside, never on one spot.",
                    null));
        }
        if (most != null && read.glassCelsius() > most) {
            waits.add(new Objection(
                    "hot-glass",
                    "The glass has " + oneDigit(read.glassCelsius()) + " °C; the method allows " + oneDigit(most)
                            + " °C.",
                    "Shade it and let it cool by itself. No cold water, no cold air.",
                    null));
        }
    }

    private static void sun(Conditions read, Workplace place, Instant at, List<Objection> waits) {
        var hour = DateTimeFormatter.ofPattern("HH:mm", Locale.ROOT).withZone(place.zone());
        var change = "Turn the vehicle, or shade the glass and read again.";
        if (read.light() == Light.SUN && read.bearingDegrees() == null) {
            waits.add(new Objection(
                    "direct-sun", "Direct sun falls on the glass: resin hardens before it has filled.", change, null));
            return;
        }
        if (read.light() == Light.SHADE || read.light() == Light.COVERED) {
            return;
        }
        var sun = Sun.at(at, place.latitude(), place.longitude());
        if (read.bearingDegrees() == null) {
            if (sun.isUp()) {
                waits.add(new Objection(
                        "bearing",
                        "The sun is up and nobody said which way the vehicle faces.",
                        "Give the bearing of its front, or shade the glass.",
                        null));
            }
            return;
        }
        var pane = new Pane(read.bearingDegrees(), place.rakeDegrees());
        if (read.light() == Light.SUN || pane.isLitBy(sun)) {
            var ends = endOfSun(pane, place, at);
            waits.add(new Objection(
                    "direct-sun",
                    "Direct sun falls on the glass, "
                            + Math.round(pane.incidenceDegrees(sun)) + "° from straight on"
                            + (ends == null ? "" : ", until " + hour.format(ends))
                            + ": resin hardens before it has filled.",
                    change,
                    ends));
        }
    }

    private static @Nullable Instant endOfSun(Pane pane, Workplace place, Instant at) {
        return Sun.windows(
                        LocalDate.ofInstant(at, place.zone()), place.zone(), place.latitude(), place.longitude(), pane)
                .stream()
                .filter(window -> window.holds(at))
                .map(SunWindow::to)
                .findFirst()
                .orElse(null);
    }

    /** Between glass and air, or between the glass as it is and as the method wants it, whichever is more. */
    private static void shock(Conditions read, Method.Limits limits, List<Objection> stops, List<String> cautions) {
        var difference = Math.abs(read.glassCelsius() - read.airCelsius());
        if (limits.leastGlassCelsius() != null) {
            difference = Math.max(difference, limits.leastGlassCelsius() - read.glassCelsius());
        }
        var stress = ThermalShock.stressMpa(difference);
        var words = oneDigit(difference) + " K between glass and what meets it can mean " + oneDigit(stress)
                + " MPa; sound annealed glass has a characteristic strength of "
                + oneDigit(ThermalShock.CHARACTERISTIC_STRENGTH_MPA) + " MPa (EN 572-1, secondary).";
        if (stress >= ThermalShock.CHARACTERISTIC_STRENGTH_MPA) {
            stops.add(new Objection(
                    "thermal-shock", words, "Leave the glass alone until both have come closer by themselves.", null));
        } else if (difference >= ThermalShock.ALLOWED_DIFFERENCE_K) {
            cautions.add(words + " A break has less. Neither warm nor cool it quickly.");
        }
    }

    private static String oneDigit(double value) {
        var text = String.format(Locale.ROOT, "%.1f", value);
        return text.startsWith("-") ? (text.equals("-0.0") ? "0.0" : "−" + text.substring(1)) : text;
    }
}

package org.quarterlight.rulebook.web;

import java.math.BigDecimal;
import java.time.LocalDate;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.Collection;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.Set;
import java.util.function.UnaryOperator;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.quarterlight.eligibility.Bound;
import org.quarterlight.eligibility.Grade;
import org.quarterlight.eligibility.OtherReading;
import org.quarterlight.eligibility.Quantity;
import org.quarterlight.eligibility.Question;
import org.quarterlight.eligibility.Rule;
import org.quarterlight.eligibility.Sheet;
import org.quarterlight.eligibility.Source;
import org.quarterlight.eligibility.Status;
import org.quarterlight.eligibility.VehicleTest;
import org.quarterlight.eligibility.Zone;
import org.quarterlight.glass.DamageKind;

/** A sheet in plain words, as somebody reads it at an inspection. */
final class SheetWords {
    private static final DateTimeFormatter DAY = DateTimeFormatter.ofPattern("d MMMM uuuu", Locale.ENGLISH);

    private static final int LONGEST_DRAWN = 300;

    private final Sheet sheet;

    SheetWords(Sheet sheet) {
        this.sheet = sheet;
    }

    /** A limit in words: what it is called, of what it speaks and where, what it asks, what follows, and whence it comes. */
    public record Limit(
            String name,
            String kinds,
            String where,
            String zone,
            String limit,
            String consequence,
            Source source,
            String status,
            String checkedOn,
            String others,
            String note) {
        /** Document, edition and section in a line. */
        public String from() {
            return source.document()
                    + (source.edition() == null ? "" : ", " + source.edition())
                    + (source.section() == null ? "" : ", " + source.section());
        }
    }

    List<Limit> limits() {
        return sheet.rules().stream()
                .map(rule -> new Limit(
                        capital(words(rule.name())),
                        kinds(rule),
                        rule.where() == null ? "Whole glass" : capital(place(rule.where())),
                        rule.where() == null ? "" : drawn(rule.where()),
                        limit(rule),
                        consequence(rule),
                        rule.source(),
                        status(rule.source().status()),
                        rule.source().checkedOn() == null
                                ? ""
                                : day(rule.source().checkedOn()),
                        others(rule.source()),
                        Objects.requireNonNullElse(rule.note(), "")))
                .toList();
    }

    /** What other readings of the same source say; nothing where sources agree. */
    private static String others(Source source) {
        return source.conflictsWith() == null
                ? ""
                : "Sources disagree: another reading says "
                        + source.conflictsWith().stream()
                                .map(OtherReading::says)
                                .distinct()
                                .collect(Collectors.joining("; another "));
    }

    static String asked(Question question) {
        return switch (question) {
            case ROADWORTHY, AS_REPAIRED -> "May the vehicle be on the road with the damage?";
            case REPAIRABLE -> "May the damage be repaired?";
            case ACCEPTABLE -> "Is a finished repair good enough?";
        };
    }

    static String status(Status status) {
        return switch (status) {
            case SEEN -> "read in the published text or a copy of it";
            case SECONDARY -> "read second-hand, not checked against the published text";
            case MEMORY -> "recalled, not checked against the published text";
            case COMPUTED -> "calculated from other figures";
            case COMMON_PRACTICE -> "common practice, no published source";
        };
    }

    /** With its year, for the page may be printed and kept. */
    static String day(LocalDate date) {
        return DAY.format(date);
    }

    /** Country and subdivision as people say them. */
    static String place(Sheet sheet) {
        if (sheet.country() == null) {
            return "Any country";
        }
        var country = Stream.concat(Stream.of(sheet.country()), sheet.alsoIn().stream())
                .map(SheetWords::country)
                .collect(Collectors.joining(" and "));
        return sheet.subdivision() == null ? country : country + ", " + sheet.subdivision();
    }

    private static String country(String code) {
        return code.equals("EU") ? "European Union" : Locale.of("", code).getDisplayCountry(Locale.ENGLISH);
    }

    static String vehicles(Collection<VehicleTest> tests) {
        if (tests.isEmpty()) {
            return "all vehicles";
        }
        return tests.stream().map(SheetWords::vehicles).collect(Collectors.joining("; "));
    }

    private static String vehicles(VehicleTest test) {
        var words = new ArrayList<String>();
        if (!test.categories().isEmpty()) {
            words.add(test.categories().stream().map(Enum::name).sorted().collect(Collectors.joining(", ")));
        }
        if (test.massOverKg() != null) {
            words.add("over " + number(test.massOverKg()) + " kg");
        }
        if (test.massUpToKg() != null) {
            words.add("up to " + number(test.massUpToKg()) + " kg");
        }
        return String.join(" ", words);
    }

    private String kinds(Rule rule) {
        var kinds = rule.kinds().isEmpty()
                ? rule.onlyFinishedRepairs() ? "Every finished repair" : "Every damage"
                : capital(kinds(rule.kinds()));
        var repairs = "";
        if (rule.onlyFinishedRepairs()) {
            repairs = ", as a finished repair";
        } else if (rule.countsFinishedRepairs() && sheet.question() == Question.ROADWORTHY) {
            repairs = ", finished repairs too";
        }
        var vehicles = rule.vehicles().isEmpty() ? "" : ", " + vehicles(rule.vehicles());
        return kinds + repairs + vehicles;
    }

    private static String kinds(Collection<DamageKind> kinds) {
        return kinds.stream().sorted().map(DamageKind::spoken).collect(Collectors.joining(", "));
    }

    private static String limit(Rule rule) {
        if (rule.quantity() == Quantity.DISTANCE_TO_ZONE
                && rule.bound() == Bound.MORE_THAN
                && Double.valueOf(0).equals(rule.limitMm())) {
            return "No part of it in the zone";
        }
        var words = reads(rule.quantity()) + " " + asked(rule);
        if (!rule.counted().isEmpty()) {
            words += ", counting "
                    + rule.counted().stream().map(SheetWords::counted).collect(Collectors.joining("; or "));
        }
        if (!rule.otherKinds().isEmpty()) {
            words += " (" + kinds(rule.otherKinds()) + ")";
        }
        if (rule.togetherWithinMm() != null) {
            words += rule.togetherWithinMm() == 0
                    ? "; marks that meet count as one"
                    : "; marks up to " + number(rule.togetherWithinMm()) + " mm apart count as one";
        }
        return words;
    }

    private static String asked(Rule rule) {
        if (rule.limitMm() != null) {
            return bound(rule) + " " + number(rule.limitMm()) + " mm";
        }
        if (rule.limitCount() != null) {
            return bound(rule) + " " + rule.limitCount();
        }
        return String.join(" or ", rule.allowed()).replace('-', ' ');
    }

    private static String counted(Rule.Counted counted) {
        var kinds = counted.kinds().isEmpty() ? "every damage" : kinds(counted.kinds());
        return counted.tests().stream()
                .map(test -> reads(test.quantity()).toLowerCase(Locale.ROOT) + " " + asked(test))
                .collect(Collectors.joining(", ", kinds + (counted.tests().isEmpty() ? "" : " with "), ""));
    }

    private static String bound(Rule rule) {
        return words(rule.bound());
    }

    private static String words(Bound bound) {
        return switch (bound) {
            case AT_MOST -> "at most";
            case LESS_THAN -> "less than";
            case AT_LEAST -> "at least";
            case MORE_THAN -> "more than";
            case ONE_OF -> "";
        };
    }

    /** What a rule reads; ends with a colon where words of its own follow. */
    static String reads(Quantity quantity) {
        return switch (quantity) {
            case OVERALL_DIAMETER -> "Circle round it";
            case PIT_DIAMETER -> "Pit";
            case LONGEST_LEG -> "Longest leg";
            case CRACK_LENGTH -> "Length";
            case BODY_DIAMETER -> "Body without legs";
            case LENGTH_IN_ZONE -> "Length in the zone";
            case DISTANCE_TO_EDGE -> "Distance to the edge of the glass";
            case DISTANCE_TO_ZONE -> "Distance to the zone";
            case DISTANCE_TO_OTHER_DAMAGE -> "Distance to the next damage";
            case DISTANCE_TO_FINISHED_REPAIR -> "Distance to an earlier repair";
            case COUNT -> "How many there";
            case EARLIER_REPAIRS -> "Earlier repairs there";
            case ENDS_AT_EDGE -> "Ends at the edge of the glass";
            case AGE_DAYS -> "Days since it arose";
            case LAYERS -> "Layers hit:";
            case CONDITION -> "Condition:";
            case CROSSES_ZONE -> "Crosses the zone:";
            case VIEW -> "View hampered, as an inspector finds:";
            case LEVEL -> "Level with the glass:";
            case CLEAR -> "Clear from outside and inside:";
        };
    }

    private String consequence(Rule rule) {
        return consequence(sheet.question(), rule.ifBroken());
    }

    /** What follows from a broken rule; no grade where the sheet does not ask for the road. */
    static String consequence(Question question, @Nullable Grade ifBroken) {
        if (ifBroken == null) {
            return question == Question.ACCEPTABLE ? "The repair is not good enough" : "May not be repaired";
        }
        return switch (ifBroken) {
            case NONE -> "Nothing";
            case MINOR -> grade(ifBroken) + ": may be driven";
            case MAJOR -> grade(ifBroken) + ": drive only to have it put right, as local law allows";
            case DANGEROUS -> grade(ifBroken) + ": must not be driven";
        };
    }

    private static String grade(Grade grade) {
        return capital(grade.word());
    }

    static String place(String zone) {
        return switch (zone) {
            case Zone.WHOLE_GLASS -> "whole glass";
            case Zone.SWEPT_AREA -> "swept area";
            case Zone.VISIBLE_GLASS -> "visible glass";
            case Zone.CAMERA_AREA -> "camera area";
            case Zone.DRIVERS_ZONE -> "driver's zone";
            default -> words(zone);
        };
    }

    /** The name of a rule or a zone as people say it. */
    static String words(String name) {
        return name.replace("drivers-", "driver's ").replace('-', ' ');
    }

    /** How a zone of the sheet is found. */
    public record Drawn(String name, String words) {}

    /** Every zone of the sheet, in the order in which they are written; parts are named, each stands in its own line. */
    List<Drawn> zones() {
        return sheet.zones().keySet().stream()
                .map(zone -> new Drawn(capital(place(zone)), ways(zone, part -> "the " + place(part))))
                .toList();
    }

    /**
     * How a zone of the sheet is found, and those it is made of: each told once, where it is named first. Nothing where that
     * is more than a line of a table holds; {@link #zones} has it.
     */
    String drawn(String zone) {
        if (zone.equals(Zone.VISIBLE_GLASS) && !sheet.zones().containsKey(zone)) {
            return "inside the printed border; the whole glass where the border's width is not known";
        }
        var words = new Telling().of(zone);
        return words.length() > LONGEST_DRAWN ? "" : words;
    }

    /** Parts told so far; a part of many is not told again, or words would double with each zone. */
    private final class Telling {
        private final Set<String> told = new HashSet<>();

        private String of(String zone) {
            told.add(zone);
            return ways(zone, this::part);
        }

        private String part(String zone) {
            if (!sheet.zones().containsKey(zone)) {
                return "the " + place(zone);
            }
            return told.contains(zone) ? place(zone) : place(zone) + " (" + of(zone) + ")";
        }
    }

    private String ways(String zone, UnaryOperator<String> part) {
        return sheet.zones().getOrDefault(zone, List.of()).stream()
                .map(way -> (way.vehicles().isEmpty() ? "" : vehicles(way.vehicles()) + ": ") + words(way.zone(), part))
                .collect(Collectors.joining("; else "));
    }

    private static String words(Zone zone, UnaryOperator<String> part) {
        return switch (zone) {
            case Zone.Band band ->
                number(band.widthMm()) + " mm wide about "
                        + (band.centre() == Zone.Centre.WHEEL
                                ? "the steering wheel's centre"
                                : "the driver's eye point")
                        + " in " + part.apply(band.within());
            case Zone.Without without ->
                part.apply(without.from()) + " without "
                        + without.without().stream().map(part).collect(Collectors.joining(" and "));
            case Zone.Square square ->
                number(square.sideMm()) + " mm square about the driver's eye point in " + part.apply(square.within());
            case Zone.Rectangle rectangle ->
                number(rectangle.widthMm()) + " mm wide and " + number(rectangle.heightMm())
                        + " mm high about the driver's eye point in " + part.apply(rectangle.within());
            case Zone.Strip strip ->
                number(strip.widthMm()) + " mm from the " + side(strip.side()) + "'s edge inwards in "
                        + part.apply(strip.within());
            case Zone.Half half -> "the " + side(half.side()) + "'s half of " + part.apply(half.within());
            case Zone.Union union -> union.zones().stream().map(part).collect(Collectors.joining(" together with "));
            case Zone.Inset inset -> part.apply(inset.within()) + borders(inset);
        };
    }

    private static String side(Zone.Side side) {
        return side.name().toLowerCase(Locale.ROOT);
    }

    private static String borders(Zone.Inset inset) {
        var borders = new ArrayList<String>();
        if (inset.topMm() > 0) {
            borders.add(number(inset.topMm()) + " mm along the top");
        }
        if (inset.bottomMm() > 0) {
            borders.add(number(inset.bottomMm()) + " mm along the bottom");
        }
        if (inset.sidesMm() > 0) {
            borders.add(number(inset.sidesMm()) + " mm along each side");
        }
        if (inset.fromWheelTop()) {
            borders.add("what lies lower than the steering wheel's top");
        }
        return borders.isEmpty() ? "" : " without " + String.join(", ", borders);
    }

    private static String number(double value) {
        return BigDecimal.valueOf(value).stripTrailingZeros().toPlainString();
    }

    static String capital(String words) {
        return words.isEmpty() ? words : words.substring(0, 1).toUpperCase(Locale.ROOT) + words.substring(1);
    }
}

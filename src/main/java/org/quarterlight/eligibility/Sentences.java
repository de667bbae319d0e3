package org.quarterlight.eligibility;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import org.jspecify.annotations.Nullable;

/** Says a verdict in one or two plain sentences: the fact, then what follows. Lengths are rounded here and nowhere else. */
final class Sentences {
    private static final Map<String, String> PLACES = Map.of(
            Zone.WHOLE_GLASS,
            "the glass",
            Zone.SWEPT_AREA,
            "the swept area",
            Zone.VISIBLE_GLASS,
            "the glass inside the printed border",
            Zone.CAMERA_AREA,
            "the camera area",
            "drivers-zone",
            "the driver's zone",
            "rest-of-swept-area",
            "the rest of the swept area",
            "zone-b",
            "zone B",
            "sound-area",
            "the area that must be sound");

    /** Finer than any gauge for glass, ours. */
    private static final double FINEST_MM = 0.01;

    static final String STANDS_DOWN = " The vehicle must not be driven until somebody clears it.";

    private Sentences() {}

    /** The findings that decided: on the road, for the repair, and for what would remain after one. */
    record Reasons(
            @Nullable Finding road,
            @Nullable Finding repair,
            @Nullable Finding repaired) {}

    static String of(
            Outcome outcome,
            Answers answers,
            Reasons why,
            List<Finding> findings,
            List<Measure> measure,
            boolean standsDown) {
        var sentence = switch (outcome) {
            case STAND_DOWN -> "It must not be driven: " + because(why.road()) + ".";
            case REPLACE -> replace(answers, why);
            case MEASURE_AGAIN -> measureAgain(answers, why) + measures(measure);
            case REPAIR -> repair(answers, why);
            case WATCH -> watch(answers, why);
        };
        if (standsDown && outcome != Outcome.STAND_DOWN) {
            return sentence + STANDS_DOWN;
        }
        return outcome == Outcome.REPAIR ? sentence + near(findings) : sentence;
    }

    static String forDriver(Verdict verdict, boolean standsDown, boolean untilMeasured) {
        var road = verdict.answers().roadworthy();
        if (standsDown) {
            return "Do not drive on. The damage takes this vehicle off the road until somebody clears it.";
        }
        if (untilMeasured) {
            return "Do not drive on until somebody has measured it. It may be dangerous.";
        }
        if (road.result() == Result.UNCLEAR) {
            return "You may drive on to have it measured. It may be too large for the road.";
        }
        if (road.grade() == Grade.MAJOR) {
            return "Drive only to have it put right, as local law allows.";
        }
        return verdict.outcome() == Outcome.REPAIR
                ? "You may drive on. Keep it dry and covered until it is repaired."
                : "You may drive on.";
    }

    /** Of a finished repair. */
    static String ofFinished(Result result, @Nullable Finding why, List<Measure> measure) {
        return switch (result) {
            case YES -> "All rules for finished repairs are kept.";
            case NO -> "It is not good enough: " + because(why) + ".";
            case UNCLEAR -> "Not sure that it is good enough: " + doubt(why) + "." + measures(measure);
        };
    }

    private static String replace(Answers answers, Reasons why) {
        if (answers.repairable().result() == Result.NO) {
            return "It cannot be repaired: " + because(why.repair()) + ".";
        }
        return "A repair would not help: " + because(why.repaired()) + ", and a repair counts too.";
    }

    private static String measureAgain(Answers answers, Reasons why) {
        if (answers.roadworthy().result() == Result.UNCLEAR) {
            return "Not sure enough for the road: " + doubt(why.road()) + ".";
        }
        if (answers.repairable().result() == Result.UNCLEAR) {
            return "Not sure enough for a repair: " + doubt(why.repair()) + ".";
        }
        return "Not sure enough that a repair would help: " + doubt(why.repaired()) + ".";
    }

    private static String measures(List<Measure> measure) {
        var wanted = measure.stream()
                .map(Measure::sentence)
                .filter(sentence -> !sentence.isEmpty())
                .distinct()
                .toList();
        return wanted.isEmpty() ? "" : " " + String.join(" ", wanted.subList(0, Math.min(2, wanted.size())));
    }

    /**
     * What to do about an unclear finding.
     *
     * @param neededMm the standard uncertainty that would do, null where nobody measured the length
     */
    static String measure(Finding finding, @Nullable Double neededMm, boolean onTheLimit) {
        if (onTheLimit) {
            return number(finding.marginMm()) == 0
                    ? "That lies on the limit, so no measurement decides it."
                    : "With no accepted risk no measurement decides it.";
        }
        if (neededMm != null) {
            return neededMm < FINEST_MM
                    ? "That lies so close to the limit that no gauge decides it."
                    : "Measure " + length(finding) + " to ± " + atMost(neededMm) + " mm or better.";
        }
        return switch (finding.quantity()) {
            case LAYERS -> finding.seen() == null ? "Stroke the inside of the glass and say whether it is whole." : "";
            case CONDITION -> "Say whether it is clean and dry.";
            case AGE_DAYS -> "Say since when it is there.";
            case ENDS_AT_EDGE, CROSSES_ZONE -> "Draw how the crack runs.";
            case COUNT, EARLIER_REPAIRS -> "";
            case VIEW -> finding.question() == Question.ACCEPTABLE ? "Say whether it disturbs the view." : "";
            case LEVEL -> "Feel whether it is level with the glass.";
            case CLEAR -> "Look at it from outside and from inside, and say whether it is clear.";
            case OVERALL_DIAMETER,
                    PIT_DIAMETER,
                    LONGEST_LEG,
                    CRACK_LENGTH,
                    BODY_DIAMETER,
                    LENGTH_IN_ZONE,
                    DISTANCE_TO_EDGE,
                    DISTANCE_TO_ZONE,
                    DISTANCE_TO_OTHER_DAMAGE,
                    DISTANCE_TO_FINISHED_REPAIR -> "Measure " + length(finding) + ".";
        };
    }

    /** Never more than it is, so that what is written does. */
    private static String atMost(double mm) {
        var digits = mm < 0.1 ? 2 : 1;
        return BigDecimal.valueOf(mm)
                .setScale(digits, RoundingMode.FLOOR)
                .stripTrailingZeros()
                .toPlainString();
    }

    private static String length(Finding finding) {
        return switch (finding.quantity()) {
            case PIT_DIAMETER -> "its pit";
            case LONGEST_LEG -> "its longest leg";
            case CRACK_LENGTH -> "the crack's length";
            case LENGTH_IN_ZONE -> "how much of the crack lies in " + place(finding);
            case BODY_DIAMETER -> "its body without the legs";
            case DISTANCE_TO_EDGE, DISTANCE_TO_ZONE, DISTANCE_TO_OTHER_DAMAGE, DISTANCE_TO_FINISHED_REPAIR ->
                "its distance to " + target(finding);
            case OVERALL_DIAMETER,
                    COUNT,
                    EARLIER_REPAIRS,
                    ENDS_AT_EDGE,
                    AGE_DAYS,
                    LAYERS,
                    CONDITION,
                    CROSSES_ZONE,
                    VIEW,
                    LEVEL,
                    CLEAR -> "its size";
        };
    }

    private static String repair(Answers answers, Reasons why) {
        return answers.roadworthy().grade() == Grade.MAJOR
                ? "As it is, it fails on the road: " + because(why.road()) + ". It may be repaired, first in line."
                : "All rules allow it.";
    }

    private static String watch(Answers answers, Reasons why) {
        return answers.repairable().result() == Result.YES
                ? "It is small enough to leave alone."
                : "It may be driven, and cannot be repaired: " + because(why.repair()) + ".";
    }

    /** What lies close to a limit that is kept, as a sentence of its own. */
    private static String near(List<Finding> findings) {
        return findings.stream()
                .filter(Finding::nearLimit)
                .min(Comparator.comparingDouble(finding -> number(finding.marginMm())))
                .map(finding -> " " + near(finding))
                .orElse("");
    }

    private static String near(Finding finding) {
        var marginMm = number(finding.marginMm());
        var measuredMm = number(finding.measuredMm());
        var limitMm = number(finding.limitMm());
        var about = marginMm >= 1 ? plain(Math.floor(marginMm), 0) + " mm" : "less than 1 mm";
        if (finding.quantity() == Quantity.DISTANCE_TO_ZONE && limitMm == 0) {
            return "It lies " + about + " from " + place(finding) + ".";
        }
        if (finding.quantity().isDistance()) {
            return "It lies " + apart(measuredMm, limitMm) + " mm from " + target(finding) + ", close to the limit of "
                    + plain(limitMm, 2) + " mm.";
        }
        return "It is " + about + " under the limit of " + plain(limitMm, 2) + " mm.";
    }

    private static String because(@Nullable Finding finding) {
        if (finding == null) {
            return "no sheet speaks of such a vehicle";
        }
        if (finding.measuredMm() != null && finding.limitMm() != null) {
            return becauseOfLength(finding, finding.measuredMm(), finding.limitMm());
        }
        return switch (finding.quantity()) {
            case LAYERS -> "the interlayer or the inner glass is broken";
            case CONDITION -> "it is " + Objects.requireNonNullElse(finding.seen(), "not clean and dry");
            case CROSSES_ZONE -> "the crack crosses " + place(finding);
            case COUNT -> "there are " + finding.seen() + " damages, more than the sheet allows";
            case EARLIER_REPAIRS -> "the glass has " + finding.seen() + " earlier repairs, more than the sheet allows";
            case ENDS_AT_EDGE ->
                "2".equals(finding.seen()) ? "the crack runs from edge to edge" : "the crack reaches the edge";
            case AGE_DAYS -> "it is " + finding.seen() + " days old, more than the sheet allows";
            case VIEW ->
                finding.question() == Question.ACCEPTABLE
                        ? "it disturbs the view, grade " + finding.seen()
                        : "an inspector finds the view " + graded(finding.seen());
            case LEVEL -> "it is not level with the glass";
            case CLEAR -> "it is not clear from outside and from inside";
            case OVERALL_DIAMETER,
                    PIT_DIAMETER,
                    LONGEST_LEG,
                    CRACK_LENGTH,
                    BODY_DIAMETER,
                    LENGTH_IN_ZONE,
                    DISTANCE_TO_EDGE,
                    DISTANCE_TO_ZONE,
                    DISTANCE_TO_OTHER_DAMAGE,
                    DISTANCE_TO_FINISHED_REPAIR -> doubt(finding);
        };
    }

    private static String graded(@Nullable String grade) {
        return "dangerous".equals(grade) ? "dangerously hampered" : "hampered, grade " + grade;
    }

    private static String becauseOfLength(Finding finding, double measuredMm, double limitMm) {
        if (finding.quantity() == Quantity.DISTANCE_TO_ZONE && measuredMm <= 0) {
            return "it reaches into " + place(finding);
        }
        if (finding.quantity().isDistance()) {
            return "it lies " + apart(measuredMm, limitMm) + " mm from " + target(finding) + ", "
                    + bound(finding.bound()) + " " + plain(limitMm, 2) + " mm is allowed";
        }
        var where = finding.where() == null ? "" : " in " + place(finding);
        return "it is " + apart(measuredMm, limitMm) + " mm " + extent(finding.quantity()) + ", "
                + bound(finding.bound()) + " " + plain(limitMm, 2) + " mm is allowed" + where;
    }

    private static String doubt(@Nullable Finding finding) {
        if (finding == null) {
            return "no sheet speaks of such a vehicle";
        }
        if (finding.measuredMm() != null && finding.limitMm() != null) {
            var measured = apart(finding.measuredMm(), finding.limitMm()) + " ± "
                    + plain(number(finding.standardUncertaintyMm()), 1) + " mm";
            var against = " against " + bound(finding.bound()) + " " + plain(finding.limitMm(), 2) + " mm";
            return finding.quantity().isDistance()
                    ? "the distance to " + target(finding) + " is " + measured + against
                    : "it is " + measured + " " + extent(finding.quantity()) + against;
        }
        return switch (finding.quantity()) {
            case LAYERS ->
                finding.seen() == null
                        ? "nobody has said whether the inner layers are whole"
                        : "the inner layers are broken, and it may reach into " + place(finding);
            case CONDITION -> "nobody has said whether it is clean and dry";
            case CROSSES_ZONE -> "the crack may cross " + place(finding);
            case COUNT -> "there are " + finding.seen() + " damages";
            case EARLIER_REPAIRS -> "the glass has " + finding.seen() + " earlier repairs";
            case ENDS_AT_EDGE -> "the crack may reach the edge";
            case AGE_DAYS -> "nobody knows how old it is";
            case BODY_DIAMETER -> "the body was not measured";
            case PIT_DIAMETER -> "the pit was not measured";
            case LONGEST_LEG -> "the longest leg was not measured";
            case CRACK_LENGTH, LENGTH_IN_ZONE -> "the crack was not measured";
            case VIEW -> "the view was not examined";
            case LEVEL -> "nobody felt whether it is level with the glass";
            case CLEAR -> "nobody looked whether it is clear from both sides";
            case OVERALL_DIAMETER,
                    DISTANCE_TO_EDGE,
                    DISTANCE_TO_ZONE,
                    DISTANCE_TO_OTHER_DAMAGE,
                    DISTANCE_TO_FINISHED_REPAIR -> "it was not measured";
        };
    }

    private static String extent(Quantity quantity) {
        return switch (quantity) {
            case PIT_DIAMETER -> "across the pit";
            case LONGEST_LEG -> "along its longest leg";
            case CRACK_LENGTH, LENGTH_IN_ZONE -> "long";
            case BODY_DIAMETER -> "across the body";
            case OVERALL_DIAMETER,
                    DISTANCE_TO_EDGE,
                    DISTANCE_TO_ZONE,
                    DISTANCE_TO_OTHER_DAMAGE,
                    DISTANCE_TO_FINISHED_REPAIR,
                    COUNT,
                    EARLIER_REPAIRS,
                    ENDS_AT_EDGE,
                    AGE_DAYS,
                    LAYERS,
                    CONDITION,
                    CROSSES_ZONE,
                    VIEW,
                    LEVEL,
                    CLEAR -> "across";
        };
    }

    private static String target(Finding finding) {
        return switch (finding.quantity()) {
            case DISTANCE_TO_EDGE ->
                Zone.VISIBLE_GLASS.equals(finding.where()) ? "the visible edge" : "the edge of the glass";
            case DISTANCE_TO_OTHER_DAMAGE -> "the next damage";
            case DISTANCE_TO_FINISHED_REPAIR -> "an earlier repair";
            case OVERALL_DIAMETER,
                    PIT_DIAMETER,
                    LONGEST_LEG,
                    CRACK_LENGTH,
                    BODY_DIAMETER,
                    LENGTH_IN_ZONE,
                    DISTANCE_TO_ZONE,
                    COUNT,
                    EARLIER_REPAIRS,
                    ENDS_AT_EDGE,
                    AGE_DAYS,
                    LAYERS,
                    CONDITION,
                    CROSSES_ZONE,
                    VIEW,
                    LEVEL,
                    CLEAR -> place(finding);
        };
    }

    private static String place(Finding finding) {
        var where = Objects.requireNonNullElse(finding.where(), Zone.WHOLE_GLASS);
        return PLACES.getOrDefault(where, "the " + where.replace('-', ' '));
    }

    private static String bound(Bound bound) {
        return bound.word().replace('-', ' ');
    }

    /** One decimal, or as many as it takes to tell it from the limit. */
    private static String apart(double mm, double limitMm) {
        for (var decimals = 1; decimals < 6; decimals++) {
            var shown = plain(mm, decimals);
            if (mm == limitMm || !shown.equals(plain(limitMm, decimals))) {
                return shown;
            }
        }
        return plain(mm, 6);
    }

    private static String plain(double mm, int decimals) {
        var rounded =
                BigDecimal.valueOf(mm).setScale(decimals, RoundingMode.HALF_UP).stripTrailingZeros();
        return (rounded.scale() < 0 ? rounded.setScale(0, RoundingMode.UNNECESSARY) : rounded)
                .toPlainString()
                .replace('-', '−');
    }

    private static double number(@Nullable Double mm) {
        return mm == null ? 0 : mm;
    }
}

package org.quarterlight.eligibility;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.quarterlight.eligibility.BrokenSheet.Problem;

/** What the schema cannot say: names that lead nowhere or in a circle, limits without meaning, limits that fight. */
final class SheetCheck {
    /** Zones are drawn anew on each glass, so there is an end to what one may be made of. The shipped sheets need 3 and 9. */
    private static final int DEEPEST_ZONE = 8;

    private static final int MOST_PARTS_OF_ZONES = 200;

    private final Sheet sheet;
    private final LocatedJson located;
    private final List<Problem> problems = new ArrayList<>();

    SheetCheck(Sheet sheet, LocatedJson located) {
        this.sheet = sheet;
        this.located = located;
    }

    /** Of a sheet that somebody writes now: also what its rules say against each other. */
    List<Problem> problems() {
        problemsOfKept();
        if (problems.isEmpty()) {
            new Contradictions(sheet, this::say).tell();
        }
        return problems;
    }

    /** Of a sheet that was kept: rules that fight were told when it was written, and to look for them takes long. */
    List<Problem> problemsOfKept() {
        texts();
        vehicles();
        zones();
        if (problems.isEmpty()) {
            circles();
        }
        if (problems.isEmpty()) {
            bounds();
        }
        var names = new HashMap<String, Integer>();
        for (var i = 0; i < sheet.rules().size(); i++) {
            var rule = sheet.rules().get(i);
            var earlier = names.putIfAbsent(rule.name(), i);
            if (earlier != null) {
                say("/rules/" + i + "/rule", "\"" + rule.name() + "\" is the name of rules[" + earlier + "] too");
            }
            rule(rule, "/rules/" + i);
        }
        return problems;
    }

    /** Whether it says enough to be judged by, whatever else is wrong with it. */
    boolean canJudge() {
        var known = sheet.zones().values().stream()
                .allMatch(ways -> !ways.isEmpty()
                        && ways.stream()
                                .allMatch(way -> way.zone().builtFrom().stream().allMatch(this::isKnown)));
        if (!known) {
            return false;
        }
        var before = problems.size();
        circles();
        return problems.size() == before && sheet.rules().stream().allMatch(this::canJudge);
    }

    private boolean canJudge(Rule rule) {
        return (rule.where() == null ? !needsZone(rule.quantity()) : isKnown(rule.where()))
                && (sheet.question() != Question.ROADWORTHY || rule.ifBroken() != null)
                && hasLimit(rule)
                && rule.counted().stream()
                        .allMatch(counted -> counted.tests().stream()
                                .allMatch(test -> hasLimit(test) && !needsZone(test.quantity())));
    }

    private static boolean hasLimit(Rule rule) {
        if (rule.quantity().isLength()) {
            return rule.limitMm() != null && rule.bound() != Bound.ONE_OF;
        }
        if (rule.quantity().isCount()) {
            return rule.limitCount() != null && rule.bound() != Bound.ONE_OF;
        }
        return !rule.allowed().isEmpty() && rule.bound() == Bound.ONE_OF;
    }

    /** Names and sources stand in one line of a page or a letter. */
    private void texts() {
        oneLine("/name");
        for (var i = 0; i < sheet.rules().size(); i++) {
            for (var part : List.of("document", "edition", "section")) {
                oneLine("/rules/" + i + "/source/" + part);
            }
        }
        for (var pointer : located.pointersTo("note")) {
            if (isBlank(located.root().at(pointer).asString(""))) {
                say(pointer, "is blank");
            }
        }
    }

    private void oneLine(String pointer) {
        var text = located.root().at(pointer);
        if (text.isString()) {
            if (isBlank(text.asString())) {
                say(pointer, "is blank");
            } else if (text.asString().codePoints().anyMatch(SheetCheck::breaksLine)) {
                say(pointer, "has more than one line");
            }
        }
    }

    private static boolean breaksLine(int point) {
        return Character.isISOControl(point) || point == 0x2028 || point == 0x2029;
    }

    /** Also where it is made of spaces that only look like nothing. */
    private static boolean isBlank(String text) {
        return text.codePoints()
                .allMatch(point -> Character.isWhitespace(point)
                        || Character.isSpaceChar(point)
                        || Character.getType(point) == Character.FORMAT);
    }

    private void vehicles() {
        for (var pointer : located.pointersTo("massOverKg")) {
            var test = located.root().at(pointer.substring(0, pointer.lastIndexOf('/')));
            if (test.has("massUpToKg")
                    && test.path("massOverKg").asDouble()
                            >= test.path("massUpToKg").asDouble()) {
                say(pointer, "leaves no mass below massUpToKg");
            }
        }
    }

    private void zones() {
        sheet.zones().forEach((name, ways) -> {
            var pointer = "/zones/" + name;
            if (Zone.OF_EVERY_GLASS.contains(name)) {
                say(pointer, "\"" + name + "\" is a zone of every glass and cannot be drawn anew");
            }
            var written = located.root().at(pointer);
            for (var i = 0; i < written.size(); i++) {
                var constructions = written.get(i).size() - (written.get(i).has("vehicles") ? 1 : 0);
                if (constructions != 1) {
                    say(
                            pointer + "/" + i,
                            "needs exactly one of band, without, square, inset, rectangle, strip, half, union");
                }
            }
            for (var i = 0; i < ways.size(); i++) {
                for (var used : ways.get(i).zone().builtFrom()) {
                    if (!isKnown(used)) {
                        say(
                                pointer + "/" + Math.min(i, written.size() - 1),
                                "is drawn from an unknown zone \"" + used + "\"");
                    }
                }
            }
        });
    }

    private boolean isKnown(String zone) {
        return Zone.OF_EVERY_GLASS.contains(zone) || sheet.zones().containsKey(zone);
    }

    private void circles() {
        var clear = new HashSet<String>();
        for (var zone : sheet.zones().keySet()) {
            circle(zone, new ArrayList<>(), clear);
        }
    }

    private void circle(String zone, List<String> path, Set<String> clear) {
        if (clear.contains(zone) || Zone.OF_EVERY_GLASS.contains(zone)) {
            return;
        }
        if (path.contains(zone)) {
            var round = new ArrayList<>(path.subList(path.indexOf(zone), path.size()));
            round.add(zone);
            say("/zones/" + zone, "is drawn from itself: " + String.join(" → ", round));
            clear.addAll(round);
            return;
        }
        path.add(zone);
        for (var way : sheet.zones().getOrDefault(zone, List.of())) {
            for (var used : way.zone().builtFrom()) {
                circle(used, path, clear);
            }
        }
        path.removeLast();
        clear.add(zone);
    }

    private void bounds() {
        var parts = 0;
        var depths = new HashMap<String, Integer>();
        for (var zone : sheet.zones().entrySet()) {
            parts += zone.getValue().stream()
                    .mapToInt(way -> way.zone().builtFrom().size())
                    .sum();
            if (parts > MOST_PARTS_OF_ZONES) {
                say("/zones", "are drawn from more than " + MOST_PARTS_OF_ZONES + " parts in all");
                return;
            }
            if (depth(zone.getKey(), depths) > DEEPEST_ZONE) {
                say(
                        "/zones/" + zone.getKey(),
                        "is drawn from zones that are drawn from others, more than " + DEEPEST_ZONE + " deep");
                return;
            }
        }
    }

    /** Of a zone of every glass 0. Circles are told before. */
    private int depth(String zone, Map<String, Integer> known) {
        var depth = known.get(zone);
        if (depth == null) {
            depth = 0;
            for (var way : sheet.zones().getOrDefault(zone, List.of())) {
                for (var used : way.zone().builtFrom()) {
                    depth = Math.max(depth, depth(used, known) + 1);
                }
            }
            known.put(zone, depth);
        }
        return depth;
    }

    private void rule(Rule rule, String pointer) {
        var quantity = rule.quantity();
        if (rule.where() != null && !isKnown(rule.where())) {
            say(pointer + "/where", "names an unknown zone \"" + rule.where() + "\"");
        }
        if (rule.where() == null && needsZone(quantity)) {
            say(pointer + "/where", "is missing: a rule about " + quantity.word() + " needs a zone");
        }
        bound(rule, pointer);
        kinds(rule, pointer);
        if (!rule.counted().isEmpty() && quantity != Quantity.COUNT && quantity != Quantity.EARLIER_REPAIRS) {
            say(pointer + "/counted", "goes with count and earlier-repairs only");
        }
        for (var i = 0; i < rule.counted().size(); i++) {
            counted(rule.counted().get(i), pointer + "/counted/" + i);
        }
        if (sheet.question() == Question.ROADWORTHY && rule.ifBroken() == null) {
            say(pointer + "/ifBroken", "must be a grade (minor, major, dangerous) on a roadworthiness sheet");
        }
        if (sheet.question() != Question.ROADWORTHY && rule.ifBroken() != null) {
            say(pointer + "/ifBroken", "must be \"no\" on a sheet that does not ask about roadworthiness");
        }
        if (rule.onlyFinishedRepairs() && !rule.countsFinishedRepairs()) {
            say(pointer + "/onlyFinishedRepairs", "needs countsFinishedRepairs to be true");
        }
        if (rule.onlyFinishedRepairs() && sheet.question() == Question.REPAIRABLE) {
            say(pointer + "/onlyFinishedRepairs", "makes no sense on a repair sheet");
        }
        if (quantity.isOfFinishedRepairs() && sheet.question() != Question.ACCEPTABLE) {
            say(pointer + "/quantity", quantity.word() + " is asked of finished repairs only");
        }
        if (rule.togetherWithinMm() != null && quantity != Quantity.OVERALL_DIAMETER) {
            say(pointer + "/togetherWithinMm", "goes with overall-diameter only");
        }
        if (!rule.otherKinds().isEmpty() && quantity != Quantity.DISTANCE_TO_OTHER_DAMAGE) {
            say(pointer + "/otherKinds", "goes with distance-to-other-damage only");
        }
    }

    private static boolean needsZone(Quantity quantity) {
        return quantity == Quantity.DISTANCE_TO_ZONE
                || quantity == Quantity.CROSSES_ZONE
                || quantity == Quantity.LENGTH_IN_ZONE;
    }

    private void kinds(Rule rule, String pointer) {
        if (!rule.kinds().isEmpty() && rule.kinds().stream().noneMatch(rule::speaksOf)) {
            say(pointer + "/kinds", "none of them has a " + rule.quantity().word());
        }
    }

    private void counted(Rule.Counted counted, String pointer) {
        for (var i = 0; i < counted.tests().size(); i++) {
            var test = counted.tests().get(i);
            var at = pointer + "/tests/" + i;
            bound(test, at);
            var quantity = test.quantity();
            if (needsZone(quantity)
                    || quantity == Quantity.COUNT
                    || quantity == Quantity.EARLIER_REPAIRS
                    || quantity == Quantity.DISTANCE_TO_OTHER_DAMAGE
                    || quantity == Quantity.DISTANCE_TO_FINISHED_REPAIR) {
                say(at + "/quantity", quantity.word() + " cannot be asked of a damage that is counted");
            }
            if (!counted.kinds().isEmpty() && counted.kinds().stream().noneMatch(test::speaksOf)) {
                say(at + "/quantity", "none of the kinds counted has a " + quantity.word());
            }
        }
    }

    /** A limit on a number or a size, which is never below 0, that every damage keeps or none can. */
    private void sense(Rule rule, String pointer) {
        var limit = rule.limitCount() != null ? Double.valueOf(rule.limitCount()) : rule.limitMm();
        if (limit == null) {
            return;
        }
        var field = pointer + (rule.limitCount() != null ? "/limitCount" : "/limitMm");
        if (!rule.quantity().isDistance() && limit == 0) {
            if (rule.bound() == Bound.LESS_THAN) {
                say(field, "can never be kept: nothing is less than 0");
            } else if (rule.bound() == Bound.AT_LEAST) {
                say(field, "can never be broken: nothing is less than 0");
            }
        }
        if (rule.quantity() == Quantity.DISTANCE_TO_ZONE
                && Zone.WHOLE_GLASS.equals(rule.where())
                && (rule.bound() == Bound.AT_LEAST || rule.bound() == Bound.MORE_THAN)) {
            say(pointer + "/where", "can never be kept: every damage lies on the glass");
        }
        if (rule.quantity() == Quantity.ENDS_AT_EDGE) {
            if (limit > 2 || (limit == 2 && rule.bound() == Bound.AT_MOST)) {
                say(field, "makes no sense: a crack has two ends");
            }
        }
    }

    private void bound(Rule rule, String pointer) {
        sense(rule, pointer);
        var quantity = rule.quantity();
        if (quantity.isLength()) {
            needs(rule.limitMm() != null, pointer + "/limitMm", quantity);
            forbids(rule.limitCount() != null, pointer + "/limitCount", quantity);
            forbids(!rule.allowed().isEmpty(), pointer + "/allowed", quantity);
            if (rule.bound() == Bound.ONE_OF) {
                say(pointer + "/bound", "one-of does not go with " + quantity.word());
            }
        } else if (quantity.isCount()) {
            needs(rule.limitCount() != null, pointer + "/limitCount", quantity);
            forbids(rule.limitMm() != null, pointer + "/limitMm", quantity);
            forbids(!rule.allowed().isEmpty(), pointer + "/allowed", quantity);
            if (rule.bound() == Bound.ONE_OF
                    || (quantity == Quantity.COUNT
                            && rule.bound() != Bound.AT_MOST
                            && rule.bound() != Bound.LESS_THAN)) {
                say(pointer + "/bound", rule.bound().word() + " does not go with " + quantity.word());
            }
        } else {
            needs(!rule.allowed().isEmpty(), pointer + "/allowed", quantity);
            forbids(rule.limitMm() != null, pointer + "/limitMm", quantity);
            forbids(rule.limitCount() != null, pointer + "/limitCount", quantity);
            if (rule.bound() != Bound.ONE_OF) {
                say(pointer + "/bound", rule.bound().word() + " does not go with " + quantity.word());
            }
            if (rule.allowed().containsAll(wordsOf(quantity))) {
                say(pointer + "/allowed", "can never be broken: everything is allowed");
            }
            for (var allowed : rule.allowed()) {
                if (!wordsOf(quantity).contains(allowed)) {
                    say(pointer + "/allowed", "\"" + allowed + "\" does not go with " + quantity.word());
                }
            }
        }
    }

    private static List<String> wordsOf(Quantity quantity) {
        return switch (quantity) {
            case LAYERS -> List.of("outer", "through");
            case CONDITION -> List.of("clean-dry", "wet", "dirty");
            case CROSSES_ZONE, LEVEL, CLEAR -> List.of("yes", "no");
            case VIEW -> List.of("none", "minor", "major", "dangerous");
            case OVERALL_DIAMETER,
                    PIT_DIAMETER,
                    LONGEST_LEG,
                    CRACK_LENGTH,
                    BODY_DIAMETER,
                    LENGTH_IN_ZONE,
                    DISTANCE_TO_EDGE,
                    DISTANCE_TO_ZONE,
                    DISTANCE_TO_OTHER_DAMAGE,
                    DISTANCE_TO_FINISHED_REPAIR,
                    COUNT,
                    EARLIER_REPAIRS,
                    ENDS_AT_EDGE,
                    AGE_DAYS -> List.of();
        };
    }

    private void needs(boolean there, String pointer, Quantity quantity) {
        if (!there) {
            say(pointer, "is missing: a rule about " + quantity.word() + " needs it");
        }
    }

    private void forbids(boolean there, String pointer, Quantity quantity) {
        if (there) {
            say(pointer, "does not go with " + quantity.word());
        }
    }

    private void say(String pointer, String message) {
        problems.add(located.problem(pointer, message));
    }
}

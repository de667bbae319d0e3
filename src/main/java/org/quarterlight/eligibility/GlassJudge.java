package org.quarterlight.eligibility;

import java.time.Instant;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Collections;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/** Judges damages on one glass by sheets whose zones are drawn already. Safe between threads. */
public final class GlassJudge {
    private final Glazing glazing;
    private final Choices choices;
    private final Areas areas;
    private final Area wholeGlass;
    private final List<ReadySheet> sheets;
    private final List<SheetReference> references;

    /** A rule with its zone on this glass; no zone where the rule names none. */
    private record ReadyRule(Rule rule, @Nullable Area area) {}

    private record ReadySheet(Question question, SheetReference reference, List<ReadyRule> rules) {}

    /** A rule's finding, the rule itself, and whether it says nothing: out of its zone and small enough for it too. */
    private record Said(Rule rule, Finding finding, boolean idle) {}

    GlassJudge(Glazing glazing, List<Sheet> sheets, Choices choices) {
        this.glazing = glazing;
        this.choices = choices;
        areas = new Areas(glazing);
        wholeGlass = areas.wholeGlass();
        this.sheets = sheets.stream()
                .filter(sheet -> sheet.appliesTo(glazing.vehicle()))
                .map(this::ready)
                .toList();
        references = this.sheets.stream().map(ReadySheet::reference).toList();
    }

    private ReadySheet ready(Sheet sheet) {
        var rules = sheet.rules().stream()
                .filter(rule -> VehicleTest.anyHolds(rule.vehicles(), glazing.vehicle()))
                .map(rule -> new ReadyRule(rule, rule.where() == null ? null : areas.zone(sheet, rule.where())))
                .toList();
        return new ReadySheet(sheet.question(), sheet.reference(), rules);
    }

    /** As {@link Eligibility#judge}. */
    public Map<UUID, Verdict> judge(List<DamageFacts> damages, Instant judgedAt) {
        var spots =
                damages.stream().map(facts -> new Spot(facts, areas.count())).toList();
        var verdicts = new LinkedHashMap<UUID, Verdict>();
        for (var spot : spots) {
            if (!spot.facts.finishedRepair()) {
                verdicts.put(spot.facts.damage(), verdict(spot, spots, judgedAt));
            }
        }
        return Collections.unmodifiableMap(verdicts);
    }

    /**
     * Whether a finished repair is good enough, by the acceptance sheets; yes where none objects, nothing where none
     * asks.
     */
    public Optional<Acceptance> accept(UUID finishedRepair, List<DamageFacts> damages) {
        var spots =
                damages.stream().map(facts -> new Spot(facts, areas.count())).toList();
        var spot = spots.stream()
                .filter(one -> one.facts.finishedRepair() && one.facts.damage().equals(finishedRepair))
                .findFirst()
                .orElseThrow(() -> new IllegalArgumentException("no finished repair " + finishedRepair));
        var said = said(Question.ACCEPTABLE, spot, spots);
        if (said.isEmpty()) {
            return Optional.empty();
        }
        return Optional.of(new Acceptance(
                Answer.of(worst(said)), said.stream().map(Said::finding).toList()));
    }

    private Verdict verdict(Spot spot, List<Spot> spots, Instant judgedAt) {
        var facts = spot.facts;
        var onTheRoad = said(Question.ROADWORTHY, spot, spots);
        var repair = said(Question.REPAIRABLE, spot, spots);
        var repaired = asRepaired(onTheRoad, spot, spots);
        var found = facts.found() == null ? Grade.NONE : facts.found();
        var answers = new Answers(
                answers(Question.ROADWORTHY) ? grade(onTheRoad, found) : unanswered(found),
                Answer.of(answers(Question.REPAIRABLE) ? worst(repair) : Result.UNCLEAR),
                answers(Question.ROADWORTHY) ? grade(repaired, Grade.NONE) : unanswered(Grade.NONE),
                null);
        var row = Row.deciding(
                Standing.of(answers.roadworthy()),
                answers.repairable().result(),
                Standing.of(answers.asRepaired()),
                facts,
                choices);
        var outcome = Row.TABLE.get(row).outcome();
        var ofInspector = inspectorsFinding(facts);
        var findings = new ArrayList<Finding>();
        ofInspector.ifPresent(findings::add);
        onTheRoad.forEach(said -> findings.add(said.finding()));
        repair.forEach(said -> findings.add(said.finding()));
        repaired.stream()
                .filter(said -> said.rule().onlyFinishedRepairs())
                .forEach(said -> findings.add(said.finding()));
        var standsDown = answers.roadworthy().grade() == Grade.MAJOR
                && choices.majorStandsDownFor().contains(glazing.vehicle().category());
        var reasons = new Sentences.Reasons(
                found == answers.roadworthy().grade() && answers.roadworthy().result() != Result.UNCLEAR
                        ? ofInspector.orElse(deciding(onTheRoad))
                        : deciding(onTheRoad),
                deciding(repair),
                deciding(repaired));
        return new Verdict(
                outcome,
                facts.seenOn().plusDays(choices.days(outcome)),
                Sentences.of(outcome, answers, reasons, findings, standsDown),
                answers,
                findings,
                judgedAt,
                new JudgedFrom(facts.observation(), glazing.reference(), references));
    }

    /** The finding that speaks loudest: the worst possible grade first, then what is certain. */
    private static @Nullable Finding deciding(List<Said> said) {
        return said.stream()
                .filter(one -> one.finding().result() != Result.YES)
                .max(Comparator.comparing(GlassJudge::gradeOf)
                        .thenComparing(one -> one.finding().result()))
                .map(Said::finding)
                .orElse(null);
    }

    private boolean answers(Question question) {
        return sheets.stream().anyMatch(sheet -> sheet.question() == question);
    }

    /** No sheet speaks of such a vehicle: nobody knows. */
    private static Answer unanswered(Grade found) {
        return found == Grade.DANGEROUS
                ? Answer.ofGrade(found, found)
                : new Answer(Result.UNCLEAR, found, Grade.DANGEROUS);
    }

    private static Answer grade(List<Said> said, Grade found) {
        var certain = found;
        var possible = found;
        for (var one : said) {
            var result = one.finding().result();
            if (result == Result.NO) {
                certain = certain.orWorse(gradeOf(one));
            }
            if (result != Result.YES) {
                possible = possible.orWorse(gradeOf(one));
            }
        }
        return Answer.ofGrade(certain, possible);
    }

    private static Grade gradeOf(Said said) {
        return said.rule().ifBroken() == null ? Grade.NONE : said.rule().ifBroken();
    }

    private static Result worst(List<Said> said) {
        return said.stream()
                .map(one -> one.finding().result())
                .max(Comparator.naturalOrder())
                .orElse(Result.YES);
    }

    private static Optional<Finding> inspectorsFinding(DamageFacts facts) {
        return Optional.ofNullable(facts.found())
                .filter(grade -> grade != Grade.NONE)
                .map(grade -> new Finding(
                        Question.ROADWORTHY,
                        "inspectors-finding",
                        Quantity.VIEW,
                        null,
                        null,
                        null,
                        Bound.ONE_OF,
                        null,
                        null,
                        grade.word(),
                        List.of(Grade.NONE.word()),
                        null,
                        Result.NO,
                        grade,
                        null,
                        null,
                        new Source("an inspector's finding on the view", null, null, Status.SEEN, facts.seenOn())));
    }

    /** What would be said of the finished repair: the same where the rule counts it, and what is said of repairs alone. */
    private List<Said> asRepaired(List<Said> onTheRoad, Spot spot, List<Spot> spots) {
        var all = said(Question.AS_REPAIRED, spot, spots);
        for (var said : onTheRoad) {
            if (said.rule().countsFinishedRepairs()) {
                all.add(said);
            }
        }
        return all;
    }

    private List<Said> said(Question question, Spot spot, List<Spot> spots) {
        var asked = question == Question.AS_REPAIRED ? Question.ROADWORTHY : question;
        var all = new ArrayList<Said>();
        for (var sheet : sheets) {
            if (sheet.question() == asked) {
                var before = all.size();
                var idle = new ArrayList<Said>();
                for (var ready : sheet.rules()) {
                    if (isAsked(ready.rule(), question) && spot.isUnder(ready.rule())) {
                        var said = say(question, sheet, ready, spot, spots);
                        if (said != null) {
                            (said.idle() ? idle : all).add(said);
                        }
                    }
                }
                if (all.size() == before) { // better to say where it lies than nothing
                    all.addAll(idle);
                }
            }
        }
        return all;
    }

    private static boolean isAsked(Rule rule, Question question) {
        return switch (question) {
            case ROADWORTHY, REPAIRABLE -> !rule.onlyFinishedRepairs();
            case AS_REPAIRED -> rule.onlyFinishedRepairs();
            case ACCEPTABLE -> rule.countsFinishedRepairs();
        };
    }

    private @Nullable Said say(Question question, ReadySheet sheet, ReadyRule ready, Spot spot, List<Spot> spots) {
        var rule = ready.rule();
        var risk = choices.acceptedRisk(question);
        var cluster = cluster(rule, spot, spots);
        var read = read(ready, spot, spots, cluster, risk);
        if (read == null) {
            return null;
        }
        var idle = false;
        if (ready.area() != null && isOnlyInsideItsZone(rule.quantity())) {
            var outside = outside(ready.area(), cluster, risk);
            if (outside == null) { // no such zone on this glass
                return null;
            }
            idle = outside.result() == Result.YES && read.result() == Result.YES;
            var liesOutside = outside.marginMm() != null && outside.marginMm() > 0;
            if (outside.isSurerThan(read) || (liesOutside && !read.isSurerThan(outside))) {
                read = outside;
            }
        }
        if (rule.isOnlySuspected(spot.facts.kind())) {
            read = read.onlySuspected();
        }
        return new Said(rule, finding(question, sheet, rule, read), idle);
    }

    private static boolean isOnlyInsideItsZone(Quantity quantity) {
        return quantity != Quantity.DISTANCE_TO_ZONE && quantity != Quantity.CROSSES_ZONE && quantity != Quantity.COUNT;
    }

    private Finding finding(Question question, ReadySheet sheet, Rule rule, Reading read) {
        var onGenericGlass = glazing.reference().generic() && read.quantity().isDistance();
        return new Finding(
                question,
                rule.name(),
                read.quantity(),
                rule.where(),
                read.measuredMm(),
                read.standardUncertaintyMm(),
                read.bound(),
                read.limitMm(),
                read.marginMm(),
                read.seen(),
                read.allowed(),
                read.conformity(),
                read.result(),
                rule.ifBroken(),
                onGenericGlass ? "generic" : null,
                sheet.reference(),
                rule.source());
    }

    /** How far the damage stays outside the rule's zone: outside, the rule has nothing to say. */
    private static @Nullable Reading outside(Area area, List<Spot> cluster, double risk) {
        if (area.isEmpty()) {
            return null;
        }
        Reading nearest = null;
        for (var member : cluster) {
            var reading = Reading.ofLength(
                    Quantity.DISTANCE_TO_ZONE,
                    member.distanceMm(area),
                    member.facts.distanceStandardUncertaintyMm(),
                    Bound.MORE_THAN,
                    0,
                    risk);
            nearest = nearest == null || nearest.isSurerThan(reading) ? reading : nearest;
        }
        return nearest;
    }

    /** The damage and, where the rule takes neighbours together, all that hang on to it without a wider gap. */
    private static List<Spot> cluster(Rule rule, Spot spot, List<Spot> spots) {
        if (rule.togetherWithinMm() == null || spots.size() == 1) {
            return List.of(spot);
        }
        var together = new LinkedHashSet<Spot>(List.of(spot));
        var open = new ArrayDeque<Spot>(together);
        while (!open.isEmpty()) {
            var from = open.remove();
            for (var other : spots) {
                if (!together.contains(other)
                        && other.isUnder(rule)
                        && counts(rule, other)
                        && from.gapMm(other) <= rule.togetherWithinMm()) {
                    together.add(other);
                    open.add(other);
                }
            }
        }
        return List.copyOf(together);
    }

    private static boolean counts(Rule rule, Spot spot) {
        return spot.facts.finishedRepair() ? rule.countsFinishedRepairs() : !rule.onlyFinishedRepairs();
    }

    private @Nullable Reading read(ReadyRule ready, Spot spot, List<Spot> spots, List<Spot> cluster, double risk) {
        var rule = ready.rule();
        var facts = spot.facts;
        return switch (rule.quantity()) {
            case OVERALL_DIAMETER -> overallDiameter(rule, cluster, risk);
            case PIT_DIAMETER -> {
                var pit = facts.pit();
                yield pit == null
                        ? withinDiameter(rule, facts, risk)
                        : length(rule, pit.mm(), pit.standardUncertaintyMm(), risk);
            }
            case LONGEST_LEG -> {
                var leg = facts.longestLeg();
                yield leg == null
                        ? withinDiameter(rule, facts, risk)
                        : length(rule, leg.mm(), leg.standardUncertaintyMm(), risk);
            }
            case CRACK_LENGTH -> {
                var length = Objects.requireNonNullElse(facts.longestLeg(), facts.overallDiameter());
                yield length(rule, length.mm(), length.standardUncertaintyMm(), risk);
            }
            case DISTANCE_TO_EDGE ->
                length(rule, wholeGlass.depthMm(spot.place), facts.distanceStandardUncertaintyMm(), risk);
            case DISTANCE_TO_ZONE -> {
                var area = Objects.requireNonNull(ready.area(), "the check of the sheet asks for a zone");
                yield area.isEmpty()
                        ? null
                        : length(rule, spot.distanceMm(area), facts.distanceStandardUncertaintyMm(), risk);
            }
            case DISTANCE_TO_OTHER_DAMAGE, DISTANCE_TO_FINISHED_REPAIR -> nearestOther(rule, spot, spots, risk);
            case COUNT -> count(ready, spot, spots, risk);
            case LAYERS ->
                fact(rule, facts.layers() == null ? null : facts.layers().word());
            case CONDITION ->
                fact(rule, facts.condition() == null ? null : facts.condition().word());
            case CROSSES_ZONE -> {
                var area = Objects.requireNonNull(ready.area(), "the check of the sheet asks for a zone");
                var toleranceMm = 2 * facts.positionStandardUncertaintyMm();
                var crosses = new Crossing(area).of(spot.place, toleranceMm);
                yield fact(rule, crosses.map(yes -> yes ? "yes" : "no").orElse(null));
            }
            case VIEW -> throw new IllegalStateException("no sheet reads the view");
        };
    }

    private static Reading length(Rule rule, double mm, double standardUncertaintyMm, double risk) {
        return Reading.ofLength(rule.quantity(), mm, standardUncertaintyMm, rule.bound(), limitMm(rule), risk);
    }

    private static double limitMm(Rule rule) {
        return Objects.requireNonNull(rule.limitMm(), "the check of the sheet asks for a limit");
    }

    private static Reading overallDiameter(Rule rule, List<Spot> cluster, double risk) {
        if (cluster.size() == 1) {
            var diameter = cluster.getFirst().facts.overallDiameter();
            return length(rule, diameter.mm(), diameter.standardUncertaintyMm(), risk);
        }
        var circles = cluster.stream()
                .map(member -> new Circle(
                        member.place.centre(), member.facts.overallDiameter().mm() / 2))
                .toList();
        // Two marks on opposite sides bear the joined circle.
        var worstUncertaintyMm = cluster.stream()
                .mapToDouble(member -> member.facts.distanceStandardUncertaintyMm())
                .max()
                .orElse(0);
        return length(rule, 2 * Circle.round(circles).radiusMm(), Math.sqrt(2) * worstUncertaintyMm, risk);
    }

    /** A pit or a leg that nobody measured is no longer than the whole; that may be enough to know. */
    private static Reading withinDiameter(Rule rule, DamageFacts facts, double risk) {
        if (rule.bound() == Bound.AT_MOST || rule.bound() == Bound.LESS_THAN) {
            var diameter = facts.overallDiameter();
            var whole = Reading.ofLength(
                    Quantity.OVERALL_DIAMETER,
                    diameter.mm(),
                    diameter.standardUncertaintyMm(),
                    rule.bound(),
                    limitMm(rule),
                    risk);
            if (whole.result() == Result.YES) {
                return whole;
            }
        }
        return Reading.notMeasured(rule.quantity(), rule.bound(), limitMm(rule));
    }

    /** The other damage that speaks most against the rule; nothing where there is no other. */
    private static @Nullable Reading nearestOther(Rule rule, Spot spot, List<Spot> spots, double risk) {
        Reading nearest = null;
        for (var other : spots) {
            var isOther = other != spot
                    && (rule.quantity() == Quantity.DISTANCE_TO_FINISHED_REPAIR
                            ? other.facts.finishedRepair()
                            : counts(rule, other) && rule.countsAsOther(other.facts.kind()));
            if (isOther) {
                var reading = length(rule, spot.gapMm(other), spot.gapStandardUncertaintyMm(other), risk);
                nearest = nearest == null || nearest.isSurerThan(reading) ? reading : nearest;
            }
        }
        return nearest;
    }

    /** How many lie in the zone for sure, and how many may: the rule is broken only by those for sure. */
    private static Reading count(ReadyRule ready, Spot judged, List<Spot> spots, double risk) {
        var rule = ready.rule();
        var sure = 0;
        var possible = 0;
        for (var spot : spots) {
            if (spot.isUnder(rule) && (spot == judged || counts(rule, spot))) {
                var outside = ready.area() == null ? null : outside(ready.area(), List.of(spot), risk);
                var isIn = ready.area() == null || (outside != null && outside.result() == Result.NO);
                var mayBeIn = isIn || (outside != null && outside.result() == Result.UNCLEAR);
                sure += isIn ? 1 : 0;
                possible += mayBeIn ? 1 : 0;
            }
        }
        var limit = Objects.requireNonNull(rule.limitCount(), "the check of the sheet asks for a limit");
        var result = Result.UNCLEAR;
        if (rule.bound().holdsAt(rule.bound().margin(possible, limit))) {
            result = Result.YES;
        } else if (!rule.bound().holdsAt(rule.bound().margin(sure, limit))) {
            result = Result.NO;
        }
        var seen = sure == possible ? Integer.toString(sure) : sure + " to " + possible;
        return Reading.ofFact(Quantity.COUNT, seen, rule.bound(), List.of(Integer.toString(limit)), result);
    }

    private static Reading fact(Rule rule, @Nullable String seen) {
        var result = Result.UNCLEAR;
        if (seen != null) {
            result = rule.allowed().contains(seen) ? Result.YES : Result.NO;
        }
        return Reading.ofFact(rule.quantity(), seen, rule.bound(), rule.allowed(), result);
    }
}

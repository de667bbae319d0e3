package org.quarterlight.eligibility;

import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
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
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.quarterlight.glass.DamageKind;

/** Judges damages on one glass by sheets whose zones are drawn already. Safe between threads. */
public final class GlassJudge {
    private final Glazing glazing;
    private final Choices choices;
    private final Areas areas;
    private final Area wholeGlass;
    private final List<ReadySheet> sheets;
    private final List<SheetReference> references;
    private final double outlineStandardUncertaintyMm;

    /** A rule with its zone on this glass; no zone where the rule names none. */
    private record ReadyRule(Rule rule, @Nullable Area area) {}

    private record ReadySheet(Question question, SheetReference reference, List<ReadyRule> rules) {}

    /** A rule's finding, the rule itself, and whether it says nothing: out of its zone and small enough for it too. */
    private record Said(Rule rule, Finding finding, boolean idle) {}

    GlassJudge(Glazing glazing, List<Sheet> sheets, Choices choices) {
        this(glazing, sheets, choices, new Areas(glazing), glazing.pattern().outlineStandardUncertaintyMm());
    }

    /** With what is drawn on the glass already, and how well it is known where that is. */
    GlassJudge(Glazing glazing, List<Sheet> sheets, Choices choices, Areas areas, double outlineStandardUncertaintyMm) {
        this.glazing = glazing;
        this.outlineStandardUncertaintyMm = outlineStandardUncertaintyMm;
        this.choices = choices;
        this.areas = areas;
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
        var spots = spots(damages, judgedAt.atZone(ZoneOffset.UTC).toLocalDate());
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
        var lastSeen = damages.stream().map(DamageFacts::seenOn).max(Comparator.naturalOrder());
        var spots = spots(damages, lastSeen.orElse(LocalDate.EPOCH));
        var spot = spots.stream()
                .filter(one -> one.facts.finishedRepair() && one.facts.damage().equals(finishedRepair))
                .findFirst()
                .orElseThrow(() -> new IllegalArgumentException("no finished repair " + finishedRepair));
        var said = said(Question.ACCEPTABLE, spot, spots);
        if (said.isEmpty()) {
            return Optional.empty();
        }
        var result = worst(said);
        var measure = result == Result.UNCLEAR ? measure(said, null) : List.<Measure>of();
        return Optional.of(new Acceptance(
                Answer.of(result),
                Sentences.ofFinished(result, deciding(said), measure),
                said.stream().map(Said::finding).toList(),
                measure));
    }

    private List<Spot> spots(List<DamageFacts> damages, LocalDate on) {
        return damages.stream()
                .map(facts -> new Spot(facts, outlineStandardUncertaintyMm, areas.count(), on))
                .toList();
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
        var measure =
                outcome == Outcome.MEASURE_AGAIN ? measure(answers, onTheRoad, repair, repaired) : List.<Measure>of();
        return new Verdict(
                outcome,
                facts.seenOn().plusDays(choices.days(outcome)),
                Sentences.of(outcome, answers, reasons, findings, measure, standsDown),
                answers,
                findings,
                judgedAt,
                new JudgedFrom(facts.observation(), glazing.reference(), references),
                measure);
    }

    /** What leaves the first question unclear that the outcome asks: the finding that decides first, each length once. */
    private List<Measure> measure(Answers answers, List<Said> onTheRoad, List<Said> repair, List<Said> repaired) {
        var road = answers.roadworthy();
        if (road.result() == Result.UNCLEAR) {
            return measure(onTheRoad, road.grade());
        }
        return answers.repairable().result() == Result.UNCLEAR
                ? measure(repair, null)
                : measure(repaired, answers.asRepaired().grade());
    }

    private List<Measure> measure(List<Said> said, @Nullable Grade certain) {
        var first = deciding(said);
        var wanted = new LinkedHashMap<String, Measure>();
        Stream.concat(
                        Stream.ofNullable(first),
                        said.stream()
                                .filter(one -> certain == null || couldBeWorse(one, certain))
                                .map(Said::finding))
                .filter(finding -> finding.result() == Result.UNCLEAR)
                .map(finding -> Measure.of(finding, choices.acceptedRisk(finding.question())))
                .forEach(each -> wanted.merge(each.quantity() + " " + each.where(), each, GlassJudge::harder));
        return List.copyOf(wanted.values());
    }

    private static boolean couldBeWorse(Said said, Grade certain) {
        return gradeOf(said).compareTo(certain) > 0 && !gradeOf(said).mayBeDriven();
    }

    private static Measure harder(Measure one, Measure other) {
        var needed = one.neededStandardUncertaintyMm();
        var others = other.neededStandardUncertaintyMm();
        return one.onTheLimit() || needed == null || (others != null && needed <= others) ? one : other;
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
                        new Source(
                                "an inspector's finding on the view", null, null, Status.SEEN, facts.seenOn(), null)));
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
            case ACCEPTABLE -> true; // such a sheet speaks of finished repairs alone
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
        if (ready.area() != null && rule.isOnlyInsideItsZone()) {
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
            case BODY_DIAMETER -> {
                var body = facts.body();
                yield body == null
                        ? withinDiameter(rule, facts, risk)
                        : length(rule, body.mm(), body.standardUncertaintyMm(), risk);
            }
            case LENGTH_IN_ZONE -> {
                var area = Objects.requireNonNull(ready.area(), "the check of the sheet asks for a zone");
                yield area.isEmpty() ? null : lengthInZone(rule, spot, area, risk);
            }
            case DISTANCE_TO_EDGE -> {
                var glass = ready.area() != null && rule.readsVisibleEdge() ? ready.area() : wholeGlass;
                yield length(rule, glass.depthMm(spot.place), facts.distanceStandardUncertaintyMm(), risk);
            }
            case DISTANCE_TO_ZONE -> {
                var area = Objects.requireNonNull(ready.area(), "the check of the sheet asks for a zone");
                yield area.isEmpty()
                        ? null
                        : length(rule, spot.distanceMm(area), facts.distanceStandardUncertaintyMm(), risk);
            }
            case DISTANCE_TO_OTHER_DAMAGE, DISTANCE_TO_FINISHED_REPAIR -> nearestOther(rule, spot, spots, risk);
            case COUNT -> count(ready, spot, spots, risk);
            case EARLIER_REPAIRS -> earlierRepairs(ready, spot, spots, risk);
            case ENDS_AT_EDGE -> {
                var ends = new CrackEnds(wholeGlass, spot.place);
                yield number(rule, ends.sure(), ends.possible(2 * facts.positionStandardUncertaintyMm()));
            }
            case AGE_DAYS -> number(rule, spot.ageDays, spot.ageDays);
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
            case VIEW -> fact(rule, facts.found() == null ? null : facts.found().word());
            case LEVEL, CLEAR -> fact(rule, finish(rule.quantity(), facts));
        };
    }

    /** Yes or no, null where nobody looked. */
    static @Nullable String finish(Quantity quantity, DamageFacts facts) {
        var finish = facts.finish();
        var seen = finish == null ? null : quantity == Quantity.LEVEL ? finish.level() : finish.clear();
        return seen == null ? null : seen ? "yes" : "no";
    }

    /** A crack that is short enough as a whole is so in the zone as well, wherever it lies. */
    private static Reading lengthInZone(Rule rule, Spot spot, Area area, double risk) {
        var length = Objects.requireNonNullElse(spot.facts.longestLeg(), spot.facts.overallDiameter());
        var inside = length(
                rule,
                area.lengthInsideMm(spot.place, length.mm()),
                Math.hypot(length.standardUncertaintyMm(), spot.facts.positionStandardUncertaintyMm()),
                risk);
        if (rule.bound() != Bound.AT_MOST && rule.bound() != Bound.LESS_THAN) {
            return inside;
        }
        var whole = Reading.ofLength(
                Quantity.CRACK_LENGTH, length.mm(), length.standardUncertaintyMm(), rule.bound(), limitMm(rule), risk);
        return whole.isSurerThan(inside) ? whole : inside;
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
                .mapToDouble(Spot::besideStandardUncertaintyMm)
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

    /**
     * How many lie in the zone for sure, and how many may: the rule is broken only by those for sure. It has nothing to say
     * of a damage that is not among them.
     */
    private @Nullable Reading count(ReadyRule ready, Spot judged, List<Spot> spots, double risk) {
        var rule = ready.rule();
        var sure = 0;
        var possible = 0;
        for (var spot : spots) {
            if (spot.isUnder(rule) && (spot == judged || counts(rule, spot))) {
                var isCounted = isCounted(ready, spot, risk);
                if (spot == judged && isCounted == Result.NO) {
                    return null;
                }
                sure += isCounted == Result.YES ? 1 : 0;
                possible += isCounted == Result.NO ? 0 : 1;
            }
        }
        return number(rule, sure, possible);
    }

    private Reading earlierRepairs(ReadyRule ready, Spot judged, List<Spot> spots, double risk) {
        var sure = 0;
        var possible = 0;
        for (var spot : spots) {
            if (spot != judged && spot.facts.finishedRepair()) {
                var isCounted = isCounted(ready, spot, risk);
                sure += isCounted == Result.YES ? 1 : 0;
                possible += isCounted == Result.NO ? 0 : 1;
            }
        }
        return number(ready.rule(), sure, possible);
    }

    /** Whether it lies in the rule's zone and is one of those that the rule counts. */
    private Result isCounted(ReadyRule ready, Spot spot, double risk) {
        var isIn = Result.YES;
        if (ready.area() != null) {
            var outside = outside(ready.area(), List.of(spot), risk);
            isIn = outside == null ? Result.NO : opposite(outside.result());
        }
        return worse(isIn, fits(ready.rule().counted(), spot, risk));
    }

    private Result fits(List<Rule.Counted> counted, Spot spot, double risk) {
        var best = counted.isEmpty() ? Result.YES : Result.NO;
        for (var each : counted) {
            var kind = spot.facts.kind();
            var fit = each.kinds().isEmpty() || each.kinds().contains(kind)
                    ? Result.YES
                    : kind == DamageKind.NOT_SURE ? Result.UNCLEAR : Result.NO;
            for (var test : each.tests()) {
                fit = worse(fit, passes(test, spot, risk));
            }
            best = fit.compareTo(best) < 0 ? fit : best;
        }
        return best;
    }

    private Result passes(Rule test, Spot spot, double risk) {
        if (!spot.isUnder(test)) {
            return Result.NO;
        }
        var read = read(new ReadyRule(test, null), spot, List.of(spot), List.of(spot), risk);
        var result = read == null ? Result.NO : read.result();
        return result == Result.YES && test.isOnlySuspected(spot.facts.kind()) ? Result.UNCLEAR : result;
    }

    private static Result worse(Result one, Result other) {
        return one.compareTo(other) >= 0 ? one : other;
    }

    private static Result opposite(Result result) {
        return switch (result) {
            case YES -> Result.NO;
            case UNCLEAR -> Result.UNCLEAR;
            case NO -> Result.YES;
        };
    }

    /** A number that lies between two: the rule is kept or broken where it is at both. */
    private static Reading number(Rule rule, int fewest, int most) {
        var limit = Objects.requireNonNull(rule.limitCount(), "the check of the sheet asks for a limit");
        var holdsAtFewest = rule.bound().holdsAt(rule.bound().margin(fewest, limit));
        var holdsAtMost = rule.bound().holdsAt(rule.bound().margin(most, limit));
        var result = Result.UNCLEAR;
        if (holdsAtFewest == holdsAtMost) {
            result = holdsAtFewest ? Result.YES : Result.NO;
        }
        var seen = fewest == most ? Integer.toString(fewest) : fewest + " to " + most;
        return Reading.ofFact(rule.quantity(), seen, rule.bound(), List.of(Integer.toString(limit)), result);
    }

    private static Reading fact(Rule rule, @Nullable String seen) {
        var result = Result.UNCLEAR;
        if (seen != null) {
            result = rule.allowed().contains(seen) ? Result.YES : Result.NO;
        }
        return Reading.ofFact(rule.quantity(), seen, rule.bound(), rule.allowed(), result);
    }
}

package org.quarterlight.eligibility;

import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.locationtech.jts.geom.Coordinate;
import org.quarterlight.glass.DamageKind;

/**
 * What {@link GlassJudge} would say, without saying why: outcomes alone, for judging whole fleets by other sheets. Bounds
 * from a grid decide nearly every distance and an exact one the rest; what takes more than that (courses of cracks,
 * neighbours that hang together) is judged in full. Safe between threads.
 */
public final class OutcomeJudge {
    /** Beyond this a grid has no cells; damages lie on the glass. */
    private static final double AROUND_GLASS_MM = 50;

    private final Glazing glazing;
    private final List<Sheet> chosen;
    private final Choices choices;
    private final Certainty safety;
    private final Certainty repair;
    private final DistanceGrid wholeGlass;
    private final int grids;
    private final Ready[] onTheRoad;
    private final Ready[] repairs;
    private final boolean answersRoad;
    private final boolean answersRepair;
    private final double outlineStandardUncertaintyMm;

    private volatile @Nullable GlassJudge full;

    /** A rule with its zone's grid, and of which kinds it speaks. */
    private record Ready(
            Rule rule,
            int grid,
            @Nullable DistanceGrid zone,
            boolean[] speaksOf,
            boolean[] onlySuspected,
            double limit) {}

    private OutcomeJudge(Glazing glazing, List<Sheet> sheets, Choices choices) {
        this.glazing = glazing;
        outlineStandardUncertaintyMm = glazing.pattern().outlineStandardUncertaintyMm();
        this.chosen = List.copyOf(sheets);
        this.choices = choices;
        safety = new Certainty(choices.acceptedRisk(Question.ROADWORTHY));
        repair = new Certainty(choices.acceptedRisk(Question.REPAIRABLE));
        var areas = new Areas(glazing);
        var glass = glazing.pattern().outline().getEnvelopeInternal();
        glass.expandBy(AROUND_GLASS_MM);
        var drawn = new LinkedHashMap<Integer, DistanceGrid>();
        wholeGlass = drawn.computeIfAbsent(
                areas.wholeGlass().index(), absent -> new DistanceGrid(areas.wholeGlass(), glass));
        var road = new ArrayList<Ready>();
        var mending = new ArrayList<Ready>();
        var asksRoad = false;
        var asksRepair = false;
        for (var sheet : sheets) {
            if (sheet.appliesTo(glazing.vehicle()) && sheet.question() != Question.ACCEPTABLE) {
                var isRoad = sheet.question() == Question.ROADWORTHY;
                asksRoad |= isRoad;
                asksRepair |= !isRoad;
                for (var rule : sheet.rules()) {
                    if (VehicleTest.anyHolds(rule.vehicles(), glazing.vehicle())) {
                        var area = rule.where() == null ? null : areas.zone(sheet, rule.where());
                        var zone = area == null
                                ? null
                                : drawn.computeIfAbsent(area.index(), absent -> new DistanceGrid(area, glass));
                        (isRoad ? road : mending).add(ready(rule, zone));
                    }
                }
            }
        }
        grids = areas.count();
        onTheRoad = road.toArray(Ready[]::new);
        repairs = mending.stream()
                .filter(ready -> !ready.rule().onlyFinishedRepairs())
                .toArray(Ready[]::new);
        answersRoad = asksRoad;
        answersRepair = asksRepair;
    }

    private static Ready ready(Rule rule, @Nullable DistanceGrid zone) {
        var kinds = DamageKind.values();
        var speaksOf = new boolean[kinds.length];
        var onlySuspected = new boolean[kinds.length];
        for (var kind : kinds) {
            speaksOf[kind.ordinal()] = rule.speaksOf(kind);
            onlySuspected[kind.ordinal()] = rule.isOnlySuspected(kind);
        }
        var limit = rule.limitMm() != null
                ? rule.limitMm()
                : Objects.requireNonNullElse(rule.limitCount(), 0).doubleValue();
        return new Ready(rule, zone == null ? -1 : zone.area().index(), zone, speaksOf, onlySuspected, limit);
    }

    /** Draws the sheets' zones on the glass once. Sheets that are not for the vehicle take no part. */
    public static OutcomeJudge on(Glazing glazing, List<Sheet> sheets, Choices choices) {
        return new OutcomeJudge(glazing, sheets, choices);
    }

    /**
     * What these sheets tell apart in a vehicle: two of the same kind on the same glass are judged alike, whatever else they
     * weigh. Good as a key for keeping judges.
     */
    public static List<Boolean> kindOf(VehicleFacts vehicle, List<Sheet> sheets) {
        var kind = new ArrayList<Boolean>();
        for (var sheet : sheets) {
            kind.add(sheet.appliesTo(vehicle));
            sheet.zones().values().forEach(ways -> ways.forEach(way -> tell(vehicle, way.vehicles(), kind)));
            sheet.rules().forEach(rule -> tell(vehicle, rule.vehicles(), kind));
        }
        return List.copyOf(kind);
    }

    private static void tell(VehicleFacts vehicle, List<VehicleTest> tests, List<Boolean> kind) {
        if (!tests.isEmpty()) {
            kind.add(VehicleTest.anyHolds(tests, vehicle));
        }
    }

    /** The outcome of every open damage of one glass, by its id and in the order given, as {@link Eligibility#judge} has it. */
    public Map<UUID, Outcome> outcomes(List<DamageFacts> damages, Instant judgedAt) {
        var outcomes = new LinkedHashMap<UUID, Outcome>();
        var on = judgedAt.atZone(ZoneOffset.UTC).toLocalDate();
        var neighbours = damages.size() == 1
                ? List.<Spot>of()
                : damages.stream()
                        .map(facts -> new Spot(facts, outlineStandardUncertaintyMm, 0, on))
                        .toList();
        for (var i = 0; i < damages.size(); i++) {
            var facts = damages.get(i).onGlassKnownTo(outlineStandardUncertaintyMm);
            if (!facts.finishedRepair()) {
                var outcome = quickly(facts, neighbours, i, on);
                if (outcome == null) {
                    full().judge(damages, judgedAt)
                            .forEach((damage, verdict) -> outcomes.put(damage, verdict.outcome()));
                    return outcomes;
                }
                outcomes.put(facts.damage(), outcome);
            }
        }
        return outcomes;
    }

    private GlassJudge full() {
        var known = full;
        if (known == null) {
            known = new GlassJudge(glazing, chosen, choices);
            full = known;
        }
        return known;
    }

    /** Null where it has to be judged in full. */
    private @Nullable Outcome quickly(DamageFacts facts, List<Spot> neighbours, int at, LocalDate on) {
        var lines = facts.shape().lines();
        if (lines != null && !lines.isEmpty()) {
            return null;
        }
        var one = new One(facts, neighbours, at, on);
        var certain = facts.found() == null ? Grade.NONE : facts.found();
        var possible = certain;
        var certainRepaired = Grade.NONE;
        var possibleRepaired = Grade.NONE;
        for (var ready : onTheRoad) {
            if (ready.speaksOf[facts.kind().ordinal()]) {
                var rule = ready.rule;
                // What is asked of the finished repair alone is a matter of the repair.
                var result = one.result(ready, rule.onlyFinishedRepairs() ? repair : safety);
                if (result == null) {
                    return null;
                }
                if (result != Result.YES) {
                    var grade = rule.ifBroken() == null ? Grade.NONE : rule.ifBroken();
                    if (!rule.onlyFinishedRepairs()) {
                        certain = result == Result.NO ? certain.orWorse(grade) : certain;
                        possible = possible.orWorse(grade);
                    }
                    if (rule.countsFinishedRepairs()) {
                        certainRepaired = result == Result.NO ? certainRepaired.orWorse(grade) : certainRepaired;
                        possibleRepaired = possibleRepaired.orWorse(grade);
                    }
                }
            }
        }
        var worst = answersRepair ? Result.YES : Result.UNCLEAR;
        for (var ready : repairs) {
            if (ready.speaksOf[facts.kind().ordinal()] && worst != Result.NO) {
                var result = one.result(ready, repair);
                if (result == null) {
                    return null;
                }
                worst = result.compareTo(worst) > 0 ? result : worst;
            }
        }
        return Row.TABLE
                .get(Row.deciding(
                        answersRoad ? standing(certain, possible) : unanswered(certain),
                        worst,
                        answersRoad ? standing(certainRepaired, possibleRepaired) : Standing.UNCLEAR,
                        facts,
                        choices))
                .outcome();
    }

    private static Standing standing(Grade certain, Grade possible) {
        return Standing.of(Answer.ofGrade(certain, possible));
    }

    private static Standing unanswered(Grade found) {
        return found == Grade.DANGEROUS ? Standing.DANGEROUS : Standing.UNCLEAR;
    }

    /** One damage while it is judged. */
    private final class One {
        private final DamageFacts facts;
        private final List<Spot> neighbours;
        private final int at;
        private final LocalDate on;
        private final double xMm;
        private final double yMm;
        private final double reachMm;
        private final double distanceUncertaintyMm;
        private final int cell;
        private final double slackMm;
        /** Exact distances of the middle, where bounds were not enough. */
        private double @Nullable [] exact;

        One(DamageFacts facts, List<Spot> neighbours, int at, LocalDate on) {
            this.facts = facts;
            this.neighbours = neighbours;
            this.at = at;
            this.on = on;
            xMm = facts.shape().xMm();
            yMm = facts.shape().yMm();
            reachMm = facts.shape().diameterMm() / 2;
            distanceUncertaintyMm = facts.distanceStandardUncertaintyMm();
            cell = wholeGlass.cell(xMm, yMm);
            slackMm = cell < 0 ? 0 : wholeGlass.slackMm(cell, xMm, yMm);
        }

        /** Yes also where the rule has nothing to say; null where it takes the full judgement to know. */
        @Nullable
        Result result(Ready ready, Certainty certainty) {
            var rule = ready.rule;
            var zone = ready.zone;
            if (zone != null && zone.area().isEmpty() && isOnlyInsideOrNearItsZone(rule.quantity())) {
                return Result.YES;
            }
            var result = read(ready, certainty);
            if (result == null || result == Result.YES) {
                return result;
            }
            if (zone != null && rule.isOnlyInsideItsZone()) {
                var outside = distance(zone, ready.grid, -reachMm, 1, Bound.MORE_THAN, 0, certainty);
                result = outside.compareTo(result) < 0 ? outside : result;
            }
            return result == Result.NO && ready.onlySuspected[facts.kind().ordinal()] ? Result.UNCLEAR : result;
        }

        /** Of a glass without such a zone a rule has nothing to say, but that nothing is counted or crossed there. */
        private static boolean isOnlyInsideOrNearItsZone(Quantity quantity) {
            return quantity != Quantity.COUNT && quantity != Quantity.CROSSES_ZONE;
        }

        private @Nullable Result read(Ready ready, Certainty certainty) {
            var rule = ready.rule;
            return switch (rule.quantity()) {
                case OVERALL_DIAMETER ->
                    rule.togetherWithinMm() != null && hangsTogether(rule)
                            ? null
                            : length(ready, facts.overallDiameter(), certainty);
                case PIT_DIAMETER -> partOfIt(ready, facts.pit(), certainty);
                case LONGEST_LEG -> partOfIt(ready, facts.longestLeg(), certainty);
                case BODY_DIAMETER -> partOfIt(ready, facts.body(), certainty);
                case CRACK_LENGTH ->
                    length(ready, Objects.requireNonNullElse(facts.longestLeg(), facts.overallDiameter()), certainty);
                case LENGTH_IN_ZONE -> {
                    var length = Objects.requireNonNullElse(facts.longestLeg(), facts.overallDiameter());
                    var isShortEnough = (rule.bound() == Bound.AT_MOST || rule.bound() == Bound.LESS_THAN)
                            && length(ready, length, certainty) == Result.YES;
                    yield isShortEnough ? Result.YES : null;
                }
                case DISTANCE_TO_EDGE -> {
                    var glass = ready.zone != null && rule.readsVisibleEdge() ? ready.zone : wholeGlass;
                    yield distance(glass, glass.area().index(), -reachMm, -1, rule.bound(), ready.limit, certainty);
                }
                case DISTANCE_TO_ZONE ->
                    distance(
                            Objects.requireNonNull(ready.zone, "the check of the sheet asks for a zone"),
                            ready.grid,
                            -reachMm,
                            1,
                            rule.bound(),
                            ready.limit,
                            certainty);
                case DISTANCE_TO_OTHER_DAMAGE, DISTANCE_TO_FINISHED_REPAIR -> nearestOther(ready, certainty);
                case COUNT, EARLIER_REPAIRS -> holdsUpTo(ready, Math.max(1, neighbours.size()));
                case ENDS_AT_EDGE -> {
                    var isClear = cell >= 0
                            && -wholeGlass.middleMm(cell) - slackMm - reachMm
                                    > 2 * facts.positionStandardUncertaintyMm();
                    yield isClear && holds(rule, 0, ready.limit) ? Result.YES : null;
                }
                case AGE_DAYS ->
                    holds(rule, Math.max(0, ChronoUnit.DAYS.between(facts.since(), on)), ready.limit)
                            ? Result.YES
                            : Result.NO;
                case LAYERS ->
                    fact(rule, facts.layers() == null ? null : facts.layers().word());
                case CONDITION ->
                    fact(
                            rule,
                            facts.condition() == null ? null : facts.condition().word());
                case VIEW ->
                    fact(rule, facts.found() == null ? null : facts.found().word());
                case LEVEL, CLEAR -> fact(rule, GlassJudge.finish(rule.quantity(), facts));
                case CROSSES_ZONE -> crosses(ready);
            };
        }

        private Result length(Ready ready, org.quarterlight.glass.Measured length, Certainty certainty) {
            return certainty.of(
                    ready.rule.bound(),
                    ready.rule.bound().margin(length.mm(), ready.limit),
                    length.standardUncertaintyMm());
        }

        /** What nobody measured is no longer than the whole; that may be enough to know. */
        private Result partOfIt(Ready ready, org.quarterlight.glass.@Nullable Measured part, Certainty certainty) {
            if (part != null) {
                return length(ready, part, certainty);
            }
            var bound = ready.rule.bound();
            return (bound == Bound.AT_MOST || bound == Bound.LESS_THAN)
                            && length(ready, facts.overallDiameter(), certainty) == Result.YES
                    ? Result.YES
                    : Result.UNCLEAR;
        }

        /** The result for {@code sign} times the middle's distance and the rest added; by bounds where both say the same. */
        private Result distance(
                DistanceGrid grid, int index, double added, int sign, Bound bound, double limit, Certainty certainty) {
            if (cell >= 0 && (exact == null || Double.isNaN(exact[index]))) {
                var about = sign * grid.middleMm(cell) + added;
                var least = certainty.of(bound, bound.margin(about - slackMm, limit), distanceUncertaintyMm);
                var most = certainty.of(bound, bound.margin(about + slackMm, limit), distanceUncertaintyMm);
                if (least == most) {
                    return least;
                }
            }
            return certainty.of(bound, bound.margin(sign * exactMm(grid, index) + added, limit), distanceUncertaintyMm);
        }

        private double exactMm(DistanceGrid grid, int index) {
            if (exact == null) {
                exact = new double[grids];
                Arrays.fill(exact, Double.NaN);
            }
            if (Double.isNaN(exact[index])) {
                exact[index] = grid.area().signedDistanceMm(new Coordinate(xMm, yMm));
            }
            return exact[index];
        }

        /** Whether another damage is near enough to be measured with this one. */
        private boolean hangsTogether(Rule rule) {
            for (var i = 0; i < neighbours.size(); i++) {
                if (i != at
                        && neighbours.get(at).gapMm(neighbours.get(i))
                                <= Objects.requireNonNull(rule.togetherWithinMm())) {
                    return true;
                }
            }
            return false;
        }

        private Result nearestOther(Ready ready, Certainty certainty) {
            var rule = ready.rule;
            var worst = Result.YES;
            for (var i = 0; i < neighbours.size(); i++) {
                var other = neighbours.get(i);
                var counts = other.facts.finishedRepair() ? rule.countsFinishedRepairs() : !rule.onlyFinishedRepairs();
                var isOther = rule.quantity() == Quantity.DISTANCE_TO_FINISHED_REPAIR
                        ? other.facts.finishedRepair()
                        : counts && rule.countsAsOther(other.facts.kind());
                if (i != at && isOther) {
                    var spot = neighbours.get(at);
                    var result = certainty.of(
                            rule.bound(),
                            rule.bound().margin(spot.gapMm(other), ready.limit),
                            spot.gapStandardUncertaintyMm(other));
                    worst = result.compareTo(worst) > 0 ? result : worst;
                }
            }
            return worst;
        }

        /** However many there are of as many as there could be. */
        private @Nullable Result holdsUpTo(Ready ready, int most) {
            return holds(ready.rule, 0, ready.limit) && holds(ready.rule, most, ready.limit) ? Result.YES : null;
        }

        private static boolean holds(Rule rule, double number, double limit) {
            return rule.bound().holdsAt(rule.bound().margin(number, limit));
        }

        private static Result fact(Rule rule, @Nullable String seen) {
            if (seen == null) {
                return Result.UNCLEAR;
            }
            return rule.allowed().contains(seen) ? Result.YES : Result.NO;
        }

        /** A circle that does not reach from one border of the zone to the other crosses nothing, whichever way its crack runs. */
        private @Nullable Result crosses(Ready ready) {
            var zone = Objects.requireNonNull(ready.zone, "the check of the sheet asks for a zone");
            var reach = reachMm + 2 * facts.positionStandardUncertaintyMm();
            return zone.area().mayBeCrossedFrom(xMm, yMm, reach) ? null : fact(ready.rule, "no");
        }
    }
}

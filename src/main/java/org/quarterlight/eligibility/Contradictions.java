package org.quarterlight.eligibility;

import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.NavigableSet;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.function.BiConsumer;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.quarterlight.glass.DamageKind;
import org.quarterlight.glass.GenericGlass;
import org.quarterlight.glass.GlassPattern;
import org.quarterlight.glass.SteeringSide;
import org.quarterlight.glass.VehicleCategory;

/**
 * Rules of one sheet that some damage can never keep together, and rules that no damage can break because their zone or
 * their vehicles are none. Two limits on one zone can always be kept outside of it; they are told all the same, since no
 * damage in the zone keeps both: who means to forbid a zone says so by the distance to it.
 *
 * <p>Anybody who may write a sheet has this looked for, so the work is bounded: vehicles come after all that is cheaper, are
 * combined to {@link #MOST_TESTS} tests at most, and compared {@link #MOST_COMPARED} times. Beyond that nothing more is
 * looked for: a sheet so large is judged by its rules one by one, and what was found until then is told.
 */
final class Contradictions {
    private static final List<Quantity> PARTS_OF_THE_WHOLE =
            List.of(Quantity.PIT_DIAMETER, Quantity.LONGEST_LEG, Quantity.BODY_DIAMETER);

    /** What two lists of tests may come to when they are combined; more is taken for vehicles that nobody knows. */
    static final int MOST_TESTS = 64;

    /** Comparisons of a test with a test of another rule, in one sheet. Of the shipped ones none needs a tenth. */
    static final int MOST_COMPARED = 20_000;

    /** Masses that the zones of a sheet tell apart; beyond, none of them is looked at for being empty. */
    private static final int MOST_MASSES_OF_ZONES = 8;

    /** Drawings of a zone on a generic glass, in one sheet. */
    private static final int MOST_DRAWN = 240;

    private static final int MOST_TOLD = 50;

    private final Sheet sheet;
    private final BiConsumer<String, String> tell;
    private final Map<String, Set<String>> around = new HashMap<>();
    private final Map<String, Boolean> seenByCamera = new HashMap<>();
    private int compared;
    private int drawn;
    private int told;

    /** By a pointer and what is wrong there. The sheet's zones are known and go in no circle. */
    Contradictions(Sheet sheet, BiConsumer<String, String> say) {
        this.sheet = sheet;
        this.tell = say;
    }

    private void say(String pointer, String message) {
        if (told < MOST_TOLD) {
            told++;
            tell.accept(pointer, message);
        }
    }

    /** How often vehicles of two rules were compared, never much more than {@link #MOST_COMPARED}. */
    int compared() {
        return compared;
    }

    /**
     * Which damages on which vehicles a rule speaks of: of kinds, in a zone, repaired or not.
     *
     * @param vehicles null where there are too many tests to tell
     */
    private record Reach(
            EnumSet<DamageKind> kinds,
            @Nullable List<VehicleTest> vehicles,
            String zone,
            boolean damage,
            boolean finished) {
        boolean isForNone() {
            return vehicles != null && vehicles.isEmpty();
        }
    }

    void tell() {
        var reaches = sheet.rules().stream().map(this::reach).toList();
        for (var i = 0; i < reaches.size(); i++) {
            var rule = sheet.rules().get(i);
            if (reaches.get(i).isForNone()) {
                say("/rules/" + i + "/vehicles", "are none of those that the sheet is for");
            }
            for (var j = 0; j < i; j++) {
                var other = sheet.rules().get(j);
                if (fight(rule, other) && meet(reaches.get(i), reaches.get(j), rule.quantity())) {
                    say(
                            "/rules/" + i + "/" + field(rule),
                            "cannot be kept together with rules[" + j + "], \"" + other.name() + "\": no damage is "
                                    + words(rule) + " and " + words(other));
                }
            }
            facts(i, reaches);
        }
        silent(reaches);
    }

    private Reach reach(Rule rule) {
        var kinds = EnumSet.noneOf(DamageKind.class);
        for (var kind : DamageKind.values()) {
            if (rule.kinds().isEmpty()
                    ? kind != DamageKind.NOT_SURE
                    : rule.kinds().contains(kind)) {
                if (rule.speaksOf(kind)) {
                    kinds.add(kind);
                }
            }
        }
        return new Reach(
                kinds,
                common(sheet.vehicles(), rule.vehicles()),
                zone(rule),
                !rule.onlyFinishedRepairs(),
                rule.countsFinishedRepairs() && sheet.question() != Question.REPAIRABLE);
    }

    private static String zone(Rule rule) {
        return rule.where() == null ? Zone.WHOLE_GLASS : rule.where();
    }

    /** Whether there is something for sure that both speak of. */
    private boolean meet(Reach one, Reach other, Quantity quantity) {
        return meetBesidesVehicles(one, other, quantity) && someVehicle(one.vehicles(), other.vehicles());
    }

    /** What both speak of; null where that is nothing for sure. */
    private @Nullable Reach both(Reach one, Reach other, Quantity quantity) {
        if (!meet(one, other, quantity)) {
            return null;
        }
        var some = Objects.requireNonNull(one.vehicles());
        var others = Objects.requireNonNull(other.vehicles());
        compared += some.size() * others.size();
        var kinds = EnumSet.copyOf(one.kinds());
        kinds.retainAll(other.kinds());
        return new Reach(
                kinds,
                common(some, others),
                isPart(one.zone(), other.zone()) ? one.zone() : other.zone(),
                one.damage() && other.damage(),
                one.finished() && other.finished());
    }

    private boolean meetBesidesVehicles(Reach one, Reach other, Quantity quantity) {
        if (one.kinds().stream().noneMatch(other.kinds()::contains)
                || !((one.damage() && other.damage()) || (one.finished() && other.finished()))) {
            return false;
        }
        return quantity.isOnlyInsideItsZone()
                ? isPart(one.zone(), other.zone()) || isPart(other.zone(), one.zone())
                : quantity != Quantity.CROSSES_ZONE || one.zone().equals(other.zone());
    }

    private boolean someVehicle(@Nullable List<VehicleTest> some, @Nullable List<VehicleTest> others) {
        if (some == null || others == null) {
            return false;
        }
        for (var one : some) {
            for (var other : others) {
                if (compared >= MOST_COMPARED) {
                    return false;
                }
                compared++;
                if (common(one, other) != null) {
                    return true;
                }
            }
        }
        return false;
    }

    /**
     * Vehicles that pass a test of each; no tests pass every vehicle, but an empty answer is none. Null where that takes more
     * than {@link #MOST_TESTS}, of which none is part of another.
     */
    private static @Nullable List<VehicleTest> common(List<VehicleTest> some, List<VehicleTest> others) {
        var every = List.of(new VehicleTest(Set.of(), null, null));
        var common = new ArrayList<VehicleTest>();
        for (var one : some.isEmpty() ? every : some) {
            for (var other : others.isEmpty() ? every : others) {
                var both = common(one, other);
                if (both != null && common.stream().noneMatch(each -> isPart(both, each))) {
                    common.removeIf(each -> isPart(each, both));
                    common.add(both);
                    if (common.size() > MOST_TESTS) {
                        return null;
                    }
                }
            }
        }
        return common;
    }

    /** Null where no vehicle passes both. It names its categories, also where it is for all of them. */
    private static @Nullable VehicleTest common(VehicleTest one, VehicleTest other) {
        var categories = EnumSet.allOf(VehicleCategory.class);
        if (!one.categories().isEmpty()) {
            categories.retainAll(one.categories());
        }
        if (!other.categories().isEmpty()) {
            categories.retainAll(other.categories());
        }
        var over = larger(one.massOverKg(), other.massOverKg());
        var upTo = smaller(one.massUpToKg(), other.massUpToKg());
        return categories.isEmpty() || (over != null && upTo != null && over >= upTo)
                ? null
                : new VehicleTest(categories, over, upTo);
    }

    /** Whether who passes the first test passes the second too. */
    private static boolean isPart(VehicleTest one, VehicleTest of) {
        return of.categories().containsAll(one.categories())
                && (of.massOverKg() == null || (one.massOverKg() != null && one.massOverKg() >= of.massOverKg()))
                && (of.massUpToKg() == null || (one.massUpToKg() != null && one.massUpToKg() <= of.massUpToKg()));
    }

    private static @Nullable Double larger(@Nullable Double one, @Nullable Double other) {
        return one == null ? other : other == null ? one : Double.valueOf(Math.max(one, other));
    }

    private static @Nullable Double smaller(@Nullable Double one, @Nullable Double other) {
        return one == null ? other : other == null ? one : Double.valueOf(Math.min(one, other));
    }

    private boolean fight(Rule one, Rule other) {
        return leavesNothing(one, other) || leavesNothing(other, one);
    }

    private boolean leavesNothing(Rule upper, Rule lower) {
        var most = limit(upper, Bound.AT_MOST, Bound.LESS_THAN);
        var least = limit(lower, Bound.AT_LEAST, Bound.MORE_THAN);
        if (most == null || least == null || !isAtMost(lower, upper)) {
            return false;
        }
        var bothTouch = upper.bound() == Bound.AT_MOST && lower.bound() == Bound.AT_LEAST;
        // A number is whole: less than 2 and more than 1 leaves none between.
        var step = upper.quantity().isCount() && upper.bound() == Bound.LESS_THAN && lower.bound() == Bound.MORE_THAN
                ? 1
                : 0;
        return most - step < least || (most - step == least && !bothTouch);
    }

    /** Whether what the first rule reads of a damage is never more than what the second reads of it. */
    private boolean isAtMost(Rule less, Rule more) {
        var same = less.quantity() == more.quantity();
        return switch (more.quantity()) {
            case OVERALL_DIAMETER ->
                PARTS_OF_THE_WHOLE.contains(less.quantity())
                        || (same && (less.togetherWithinMm() == null || isNoWider(less, more)));
            case DISTANCE_TO_ZONE -> same && isPart(zone(more), zone(less));
            case LENGTH_IN_ZONE -> same && isPart(zone(less), zone(more));
            case DISTANCE_TO_EDGE -> same && (less.readsVisibleEdge() || !more.readsVisibleEdge());
            case EARLIER_REPAIRS ->
                same
                        && isPart(zone(less), zone(more))
                        && (more.counted().isEmpty() || more.counted().equals(less.counted()));
            case DISTANCE_TO_OTHER_DAMAGE ->
                same
                        && (less.otherKinds().isEmpty()
                                || more.otherKinds().isEmpty()
                                || less.otherKinds().stream().anyMatch(more.otherKinds()::contains));
            default -> same;
        };
    }

    /** Whether the first takes no more marks together than the second. */
    private static boolean isNoWider(Rule less, Rule more) {
        return more.togetherWithinMm() != null
                && Objects.requireNonNull(less.togetherWithinMm()) <= more.togetherWithinMm()
                && less.countsFinishedRepairs() == more.countsFinishedRepairs()
                && less.kinds().equals(more.kinds());
    }

    private static @Nullable Double limit(Rule rule, Bound closed, Bound open) {
        if (rule.bound() != closed && rule.bound() != open) {
            return null;
        }
        return rule.limitCount() != null ? Double.valueOf(rule.limitCount()) : rule.limitMm();
    }

    /** A fact is one word, so the words that are allowed must have one in common: of two rules, or of more. */
    private void facts(int last, List<Reach> reaches) {
        var rule = sheet.rules().get(last);
        if (rule.bound() == Bound.ONE_OF) {
            var others =
                    without(new LinkedHashSet<>(rule.allowed()), rule.quantity(), reaches.get(last), last, reaches);
            if (others != null && !others.isEmpty()) {
                var other = sheet.rules().get(others.getFirst());
                say(
                        "/rules/" + last + "/allowed",
                        "cannot be kept together with rules[" + others.getFirst() + "], \"" + other.name()
                                + "\": there is nothing that " + (others.size() > 1 ? "all of them" : "both")
                                + " allow");
            }
        }
    }

    /** The rules before this one that leave none of the words; null where some word is left whatever is taken. */
    private @Nullable List<Integer> without(
            Set<String> words, Quantity quantity, Reach reach, int before, List<Reach> reaches) {
        for (var i = before - 1; i >= 0; i--) {
            var other = sheet.rules().get(i);
            if (other.quantity() != quantity
                    || other.bound() != Bound.ONE_OF
                    || other.allowed().containsAll(words)) {
                continue;
            }
            var shared = both(reach, reaches.get(i), quantity);
            if (shared == null) {
                continue;
            }
            var left = new LinkedHashSet<>(words);
            left.retainAll(other.allowed());
            var more = left.isEmpty() ? List.<Integer>of() : without(left, quantity, shared, i, reaches);
            if (more != null) {
                var all = new ArrayList<Integer>(List.of(i));
                all.addAll(more);
                return all;
            }
        }
        return null;
    }

    private static String field(Rule rule) {
        return rule.limitCount() != null ? "limitCount" : "limitMm";
    }

    private static String words(Rule rule) {
        var limit = rule.limitCount() != null
                ? rule.limitCount().toString()
                : BigDecimal.valueOf(Objects.requireNonNull(rule.limitMm()))
                                .stripTrailingZeros()
                                .toPlainString()
                        + " mm";
        return rule.bound().word().replace('-', ' ') + " " + limit;
    }

    /** Whether all of the first zone lies in the second, whatever the glass. */
    private boolean isPart(String zone, String of) {
        return around(zone).contains(of);
    }

    private Set<String> around(String zone) {
        var known = around.get(zone);
        if (known == null) {
            known = new HashSet<>(List.of(zone, Zone.WHOLE_GLASS));
            Set<String> shared = null;
            for (var way : sheet.zones().getOrDefault(zone, List.of())) {
                var of = new HashSet<String>();
                var first = true;
                for (var part : cutFrom(way.zone())) {
                    if (first) {
                        of.addAll(around(part));
                    } else {
                        of.retainAll(around(part));
                    }
                    first = false;
                }
                if (shared == null) {
                    shared = of;
                } else {
                    shared.retainAll(of);
                }
            }
            known.addAll(shared == null ? Set.of() : shared);
            around.put(zone, known);
        }
        return known;
    }

    /** The zones that together hold all of it. */
    private static List<String> cutFrom(Zone zone) {
        return zone instanceof Zone.Without without ? List.of(without.from()) : zone.builtFrom();
    }

    /** Rules that never speak, for their zone is nowhere: on no generic glass of the vehicles that they are for. */
    private void silent(List<Reach> reaches) {
        var ofZones = new TreeSet<Double>();
        sheet.zones().values().forEach(ways -> ways.forEach(way -> masses(way.vehicles(), ofZones)));
        if (ofZones.size() > MOST_MASSES_OF_ZONES) {
            return;
        }
        var every = vehicles(List.of(), ofZones);
        var known = new HashMap<Drawing, Boolean>();
        var areas = new HashMap<VehicleFacts, List<Areas>>();
        var empty = new HashSet<String>();
        for (var i = 0; i < sheet.rules().size(); i++) {
            var rule = sheet.rules().get(i);
            var zone = rule.where();
            if (zone == null || Zone.OF_EVERY_GLASS.contains(zone) || empty.contains(zone) || isSeenByCamera(zone)) {
                continue;
            }
            var asked = reaches.get(i).vehicles();
            if (asked == null
                    || asked.isEmpty()
                    || vehicles(asked, ofZones).stream().anyMatch(each -> isSomewhere(zone, each, known, areas))) {
                continue;
            }
            var elsewhere = every.stream().anyMatch(each -> isSomewhere(zone, each, known, areas));
            if (drawn >= MOST_DRAWN) {
                return;
            }
            if (elsewhere) {
                say("/rules/" + i + "/where", "\"" + zone + "\" is not drawn for the vehicles of this rule");
            } else {
                empty.add(zone);
                say("/zones/" + zone, "is empty: nothing of the glass is left in it, so its rules never speak");
            }
        }
    }

    /** A camera may look through any part of a glass, and through none. */
    private boolean isSeenByCamera(String zone) {
        var known = seenByCamera.get(zone);
        if (known == null) {
            known = zone.equals(Zone.CAMERA_AREA)
                    || sheet.zones().getOrDefault(zone, List.of()).stream()
                            .flatMap(way -> cutFrom(way.zone()).stream())
                            .anyMatch(this::isSeenByCamera);
            seenByCamera.put(zone, known);
        }
        return known;
    }

    /** A zone on the glasses of a vehicle. */
    private record Drawing(String zone, VehicleFacts vehicle) {}

    /** Also where there was no more time to draw it. */
    private boolean isSomewhere(
            String zone, VehicleFacts vehicle, Map<Drawing, Boolean> known, Map<VehicleFacts, List<Areas>> areas) {
        return known.computeIfAbsent(
                new Drawing(zone, vehicle),
                drawing -> areas.computeIfAbsent(vehicle, Contradictions::glasses).stream()
                        .anyMatch(glass ->
                                ++drawn > MOST_DRAWN || !glass.zone(sheet, zone).isEmpty()));
    }

    private static List<Areas> glasses(VehicleFacts vehicle) {
        return Stream.of(SteeringSide.values())
                .map(side -> GlassPattern.of(GenericGlass.of(vehicle.category()).measurements(side)))
                .map(pattern -> new Areas(new Glazing(pattern, new PatternReference("generic", 1, true), vehicle)))
                .toList();
    }

    private static void masses(List<VehicleTest> tests, Set<Double> masses) {
        for (var test : tests) {
            Stream.of(Optional.ofNullable(test.massOverKg()), Optional.ofNullable(test.massUpToKg()))
                    .flatMap(Optional::stream)
                    .forEach(masses::add);
        }
    }

    /**
     * For each category the vehicles that pass the tests, one for each span of masses on which zones are drawn alike: what
     * else a sheet asks of masses draws nothing.
     */
    private static Set<VehicleFacts> vehicles(List<VehicleTest> asked, NavigableSet<Double> ofZones) {
        var bounds = new TreeSet<>(ofZones);
        masses(asked, bounds);
        var vehicles = new LinkedHashSet<VehicleFacts>();
        for (var category : VehicleCategory.values()) {
            Stream.concat(
                            Stream.of(new VehicleFacts(category, null)),
                            bounds.stream()
                                    .flatMap(mass -> Stream.of(mass, Math.nextUp(mass)))
                                    .map(mass -> new VehicleFacts(category, mass)))
                    .filter(vehicle -> VehicleTest.anyHolds(asked, vehicle))
                    .map(vehicle -> {
                        var upTo = ofZones.ceiling(vehicle.massKg());
                        return new VehicleFacts(category, upTo == null ? Double.valueOf(Double.MAX_VALUE) : upTo);
                    })
                    .forEach(vehicles::add);
        }
        return vehicles;
    }
}

package org.quarterlight.eligibility;

import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Objects;
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
 */
final class Contradictions {
    private static final List<Quantity> PARTS_OF_THE_WHOLE =
            List.of(Quantity.PIT_DIAMETER, Quantity.LONGEST_LEG, Quantity.BODY_DIAMETER);

    private final Sheet sheet;
    private final BiConsumer<String, String> say;
    private final Map<String, Set<String>> around = new HashMap<>();

    /** By a pointer and what is wrong there. The sheet's zones are known and go in no circle. */
    Contradictions(Sheet sheet, BiConsumer<String, String> say) {
        this.sheet = sheet;
        this.say = say;
    }

    /** Which damages on which vehicles a rule speaks of: of kinds, in a zone, repaired or not. */
    private record Reach(
            EnumSet<DamageKind> kinds, List<VehicleTest> vehicles, String zone, boolean damage, boolean finished) {}

    void tell() {
        var reaches = sheet.rules().stream().map(this::reach).toList();
        for (var i = 0; i < reaches.size(); i++) {
            var rule = sheet.rules().get(i);
            if (reaches.get(i).vehicles().isEmpty()) {
                say.accept("/rules/" + i + "/vehicles", "are none of those that the sheet is for");
            }
            for (var j = 0; j < i; j++) {
                var other = sheet.rules().get(j);
                if (fight(rule, other) && both(reaches.get(i), reaches.get(j), rule.quantity()) != null) {
                    say.accept(
                            "/rules/" + i + "/" + field(rule),
                            "cannot be kept together with rules[" + j + "], \"" + other.name() + "\": no damage is "
                                    + words(rule) + " and " + words(other));
                }
            }
            facts(i, reaches);
        }
        silent();
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

    /** What both speak of; null where that is nothing for sure. */
    private @Nullable Reach both(Reach one, Reach other, Quantity quantity) {
        var kinds = EnumSet.copyOf(one.kinds());
        kinds.retainAll(other.kinds());
        var vehicles = common(one.vehicles(), other.vehicles());
        var zone = isPart(one.zone(), other.zone()) ? one.zone() : other.zone();
        var damage = one.damage() && other.damage();
        var finished = one.finished() && other.finished();
        var meet = quantity.isOnlyInsideItsZone()
                ? isPart(one.zone(), other.zone()) || isPart(other.zone(), one.zone())
                : quantity != Quantity.CROSSES_ZONE || one.zone().equals(other.zone());
        return kinds.isEmpty() || vehicles.isEmpty() || !meet || !(damage || finished)
                ? null
                : new Reach(kinds, vehicles, zone, damage, finished);
    }

    /** Vehicles that pass a test of each; no tests pass every vehicle, but an empty answer is none. */
    private static List<VehicleTest> common(List<VehicleTest> some, List<VehicleTest> others) {
        var every = List.of(new VehicleTest(Set.of(), null, null));
        var common = new ArrayList<VehicleTest>();
        for (var one : some.isEmpty() ? every : some) {
            for (var other : others.isEmpty() ? every : others) {
                var categories = EnumSet.allOf(VehicleCategory.class);
                if (!one.categories().isEmpty()) {
                    categories.retainAll(one.categories());
                }
                if (!other.categories().isEmpty()) {
                    categories.retainAll(other.categories());
                }
                var over = larger(one.massOverKg(), other.massOverKg());
                var upTo = smaller(one.massUpToKg(), other.massUpToKg());
                if (!categories.isEmpty() && (over == null || upTo == null || over < upTo)) {
                    common.add(new VehicleTest(categories, over, upTo));
                }
            }
        }
        return common;
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
                say.accept(
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
    private void silent() {
        var drawn = new HashMap<String, Boolean>();
        var told = new HashSet<String>();
        var areas = new HashMap<VehicleFacts, List<Areas>>();
        var vehicles = vehicles();
        for (var i = 0; i < sheet.rules().size(); i++) {
            var rule = sheet.rules().get(i);
            var zone = rule.where();
            if (zone == null || Zone.OF_EVERY_GLASS.contains(zone) || told.contains(zone) || isSeenByCamera(zone)) {
                continue;
            }
            var asked = common(sheet.vehicles(), rule.vehicles());
            if (asked.isEmpty()) {
                continue;
            }
            var somewhere = vehicles.stream()
                    .filter(vehicle -> VehicleTest.anyHolds(asked, vehicle))
                    .anyMatch(vehicle -> isSomewhere(zone, vehicle, areas));
            if (somewhere) {
                continue;
            }
            if (drawn.computeIfAbsent(zone, each -> vehicles.stream().anyMatch(v -> isSomewhere(each, v, areas)))) {
                say.accept("/rules/" + i + "/where", "\"" + zone + "\" is not drawn for the vehicles of this rule");
            } else {
                told.add(zone);
                say.accept("/zones/" + zone, "is empty: nothing of the glass is left in it, so its rules never speak");
            }
        }
    }

    /** A camera may look through any part of a glass, and through none. */
    private boolean isSeenByCamera(String zone) {
        return zone.equals(Zone.CAMERA_AREA)
                || sheet.zones().getOrDefault(zone, List.of()).stream()
                        .flatMap(way -> cutFrom(way.zone()).stream())
                        .anyMatch(this::isSeenByCamera);
    }

    private boolean isSomewhere(String zone, VehicleFacts vehicle, Map<VehicleFacts, List<Areas>> areas) {
        return areas.computeIfAbsent(vehicle, Contradictions::glasses).stream()
                .anyMatch(glass -> !glass.zone(sheet, zone).isEmpty());
    }

    private static List<Areas> glasses(VehicleFacts vehicle) {
        return Stream.of(SteeringSide.values())
                .map(side -> GlassPattern.of(GenericGlass.of(vehicle.category()).measurements(side)))
                .map(pattern -> new Areas(new Glazing(pattern, new PatternReference("generic", 1, true), vehicle)))
                .toList();
    }

    /** One vehicle for each category and for each mass that the sheet tells apart. */
    private List<VehicleFacts> vehicles() {
        var masses = new TreeSet<Double>();
        Stream.of(
                        sheet.vehicles().stream(),
                        sheet.rules().stream().flatMap(rule -> rule.vehicles().stream()),
                        sheet.zones().values().stream()
                                .flatMap(ways -> ways.stream().flatMap(way -> way.vehicles().stream())))
                .flatMap(tests -> tests)
                .forEach(test -> {
                    if (test.massOverKg() != null) {
                        masses.add(Math.nextUp(test.massOverKg()));
                    }
                    if (test.massUpToKg() != null) {
                        masses.add(test.massUpToKg());
                    }
                });
        var vehicles = new ArrayList<VehicleFacts>();
        for (var category : VehicleCategory.values()) {
            vehicles.add(new VehicleFacts(category, null));
            masses.forEach(mass -> vehicles.add(new VehicleFacts(category, mass)));
        }
        return vehicles;
    }
}

package org.quarterlight.eligibility;

import java.util.List;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import org.quarterlight.glass.DamageKind;

/**
 * One limit of a sheet, as data. No kinds means every kind, no vehicles every vehicle of the sheet, no {@code where} the
 * whole glass. {@code ifBroken} is the grade on a roadworthiness sheet and null elsewhere, where a broken rule means no.
 * {@code counted} narrows what a count counts: a damage that fits one of them, or every damage where there are none.
 * Damages whose gap is at most {@code togetherWithinMm} are measured by one circle round all of them.
 */
public record Rule(
        String name,
        Set<DamageKind> kinds,
        List<VehicleTest> vehicles,
        @Nullable String where,
        Quantity quantity,
        Bound bound,
        @Nullable Double limitMm,
        @Nullable Integer limitCount,
        List<String> allowed,
        @Nullable Grade ifBroken,
        boolean countsFinishedRepairs,
        boolean onlyFinishedRepairs,
        @Nullable Double togetherWithinMm,
        Set<DamageKind> otherKinds,
        List<Counted> counted,
        @Nullable String note,
        Source source) {
    public Rule {
        kinds = Set.copyOf(kinds);
        vehicles = List.copyOf(vehicles);
        allowed = List.copyOf(allowed);
        otherKinds = Set.copyOf(otherKinds);
        counted = List.copyOf(counted);
    }

    /** Whether the rule speaks of this kind. Where nobody could tell the kind, every rule may. */
    boolean speaksOf(DamageKind kind) {
        if (kind == DamageKind.CRACK && quantity == Quantity.LONGEST_LEG) {
            return false;
        }
        if (quantity == Quantity.BODY_DIAMETER && kind != DamageKind.COMBINATION_BREAK && kind != DamageKind.NOT_SURE) {
            return false;
        }
        if (kind != DamageKind.CRACK && kind != DamageKind.NOT_SURE && quantity.isOfCracks()) {
            return false;
        }
        return kinds.isEmpty() || kind == DamageKind.NOT_SURE || kinds.contains(kind);
    }

    /** Whether it asks how far the edge is that can be seen, rather than that of the glass. */
    boolean readsVisibleEdge() {
        return quantity == Quantity.DISTANCE_TO_EDGE && Zone.VISIBLE_GLASS.equals(where);
    }

    /** Whether its limit holds in its zone alone, and is kept as well by lying outside. */
    boolean isOnlyInsideItsZone() {
        return quantity.isOnlyInsideItsZone() && !readsVisibleEdge();
    }

    /** Whether a broken rule is only a suspicion, because the kind it speaks of is not certain. */
    boolean isOnlySuspected(DamageKind kind) {
        return kind == DamageKind.NOT_SURE
                && ((!kinds.isEmpty() && !kinds.contains(kind))
                        || quantity == Quantity.BODY_DIAMETER
                        || quantity.isOfCracks());
    }

    /** The same rule reading something else of a damage, wherever it lies: one thing that a counted damage must show. */
    Rule reading(Quantity read, Bound side, @Nullable Double mm, @Nullable Integer count, List<String> words) {
        return new Rule(
                name,
                Set.of(),
                List.of(),
                null,
                read,
                side,
                mm,
                count,
                words,
                ifBroken,
                countsFinishedRepairs,
                onlyFinishedRepairs,
                null,
                Set.of(),
                List.of(),
                null,
                source);
    }

    Rule counting(List<Counted> those) {
        return new Rule(
                name,
                kinds,
                vehicles,
                where,
                quantity,
                bound,
                limitMm,
                limitCount,
                allowed,
                ifBroken,
                countsFinishedRepairs,
                onlyFinishedRepairs,
                togetherWithinMm,
                otherKinds,
                those,
                note,
                source);
    }

    /** What a count counts: damages of these kinds, or of every kind where none is named, that pass all tests. */
    public record Counted(Set<DamageKind> kinds, List<Rule> tests) {
        public Counted {
            kinds = Set.copyOf(kinds);
            tests = List.copyOf(tests);
        }
    }

    boolean countsAsOther(DamageKind kind) {
        return otherKinds.isEmpty() || kind == DamageKind.NOT_SURE || otherKinds.contains(kind);
    }
}

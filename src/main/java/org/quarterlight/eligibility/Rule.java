package org.quarterlight.eligibility;

import java.util.List;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import org.quarterlight.glass.DamageKind;

/**
 * One limit of a sheet, as data. No kinds means every kind, no vehicles every vehicle of the sheet, no {@code where} the
 * whole glass. {@code ifBroken} is the grade on a roadworthiness sheet and null elsewhere, where a broken rule means no.
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
        @Nullable String note,
        Source source) {
    public Rule {
        kinds = Set.copyOf(kinds);
        vehicles = List.copyOf(vehicles);
        allowed = List.copyOf(allowed);
        otherKinds = Set.copyOf(otherKinds);
    }

    /** Whether the rule speaks of this kind. Where nobody could tell the kind, every rule may. */
    boolean speaksOf(DamageKind kind) {
        if (kind == DamageKind.CRACK && quantity == Quantity.LONGEST_LEG) {
            return false;
        }
        if (kind != DamageKind.CRACK
                && kind != DamageKind.NOT_SURE
                && (quantity == Quantity.CRACK_LENGTH || quantity == Quantity.CROSSES_ZONE)) {
            return false;
        }
        return kinds.isEmpty() || kind == DamageKind.NOT_SURE || kinds.contains(kind);
    }

    /** Whether a broken rule is only a suspicion, because the kind it speaks of is not certain. */
    boolean isOnlySuspected(DamageKind kind) {
        return kind == DamageKind.NOT_SURE
                && ((!kinds.isEmpty() && !kinds.contains(kind))
                        || quantity == Quantity.CRACK_LENGTH
                        || quantity == Quantity.CROSSES_ZONE);
    }

    boolean countsAsOther(DamageKind kind) {
        return otherKinds.isEmpty() || kind == DamageKind.NOT_SURE || otherKinds.contains(kind);
    }
}

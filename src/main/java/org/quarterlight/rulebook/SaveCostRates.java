package org.quarterlight.rulebook;

import jakarta.validation.constraints.Max;
import jakarta.validation.constraints.Min;
import jakarta.validation.constraints.NotNull;

/** Says what a repair and a replacement cost, in the smallest unit of the currency. */
public record SaveCostRates(
        @NotNull @Min(0) @Max(100_000_000) Long repairMinor,
        @NotNull @Min(0) @Max(100_000_000) Long replacementMinor,

        @NotNull String currency) {
    /** What stands now, to be changed in part; nothing where nobody has said it. */
    @SuppressWarnings("NullAway") // not a command yet: the change has to fill it
    public static SaveCostRates of(CostRates rates) {
        var repair = rates.repair();
        var replacement = rates.replacement();
        return new SaveCostRates(
                repair == null ? null : repair.amountMinor(),
                replacement == null ? null : replacement.amountMinor(),
                repair == null ? null : repair.currency());
    }
}

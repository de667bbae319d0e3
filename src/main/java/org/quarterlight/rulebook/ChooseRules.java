package org.quarterlight.rulebook;

import jakarta.validation.constraints.DecimalMax;
import jakarta.validation.constraints.DecimalMin;
import jakarta.validation.constraints.Max;
import jakarta.validation.constraints.Min;
import jakarta.validation.constraints.NotNull;
import java.math.BigDecimal;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import org.quarterlight.eligibility.Outcome;
import org.quarterlight.glass.VehicleCategory;

/** Changes what an organisation judges by. What is left out stays; an empty list of sheets means the country's own. */
public record ChooseRules(
        @Nullable Map<VehicleCategory, @NotNull List<@NotNull String>> sheets,
        @DecimalMin("0") @DecimalMax("0.4") @Nullable BigDecimal acceptedRiskForSafety,
        @DecimalMin("0") @DecimalMax("0.4") @Nullable BigDecimal acceptedRiskForRepair,
        @DecimalMin("0") @DecimalMax("20") @Nullable BigDecimal leaveAlonePitMm,
        @Nullable Boolean replaceWhatCannotBeRepaired,
        @Nullable Set<@NotNull VehicleCategory> majorStandsDownFor,
        @Nullable Map<Outcome, @NotNull @Min(0) @Max(3650) Integer> daysByOutcome) {}

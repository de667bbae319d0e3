package org.quarterlight.agreement;

import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import java.time.LocalDate;
import java.util.List;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/** Limits what a partner is given; what is left out has no limit. */
public record SaveLimits(
        @Size(min = 1, max = 500) @Nullable List<@NotNull UUID> depots,
        @Nullable LocalDate worksFrom,
        @Nullable LocalDate worksUntil,
        @Nullable Boolean agreedPricesOnly) {
    public SaveLimits {
        depots = depots == null ? null : java.util.Collections.unmodifiableList(depots);
    }
}

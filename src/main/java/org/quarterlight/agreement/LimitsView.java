package org.quarterlight.agreement;

import java.time.LocalDate;
import java.util.List;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/**
 * What a fleet gives a partner.
 *
 * @param depots null where it is all of them
 */
public record LimitsView(
        UUID partner,
        @Nullable List<UUID> depots,
        @Nullable LocalDate worksFrom,
        @Nullable LocalDate worksUntil,
        boolean agreedPricesOnly,
        int version) {
    public LimitsView {
        depots = depots == null ? null : List.copyOf(depots);
    }
}

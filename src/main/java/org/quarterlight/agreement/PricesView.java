package org.quarterlight.agreement;

import java.time.Instant;
import java.time.LocalDate;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.kernel.Money;

/** Prices as both sides see them; they hold until the next ones do. */
public record PricesView(
        UUID id,
        LocalDate validFrom,
        Money repair,
        Money further,
        Money callOut,
        @Nullable Money replacement,
        Instant madeAt,
        String madeBy) {}

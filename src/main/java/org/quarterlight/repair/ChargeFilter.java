package org.quarterlight.repair;

import java.time.LocalDate;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/** Which charges are asked for; null leaves a question open. Both days are in the period. */
public record ChargeFilter(
        @Nullable UUID fleet,
        @Nullable LocalDate from,
        @Nullable LocalDate to,
        @Nullable Payer payer,
        @Nullable Boolean invoiced) {}

package org.quarterlight.repair;

import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import java.time.Instant;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/** Something of a lot goes into a job. {@code amount} with its unit, as it was measured. */
public record UseLot(
        @NotNull UUID lot,
        @Size(max = 60) @Nullable String amount,
        @Nullable Instant occurredAt) {}

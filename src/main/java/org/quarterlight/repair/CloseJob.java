package org.quarterlight.repair;

import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import java.time.Instant;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/** Ends a job: how it came out, in words too, with which resin, and for new glass its marking. */
public record CloseJob(
        @NotNull Result result,
        @NotBlank @Size(max = 4000) String notes,
        @Nullable UUID resinLot,
        @Size(max = 120) @Nullable String glassMarking,
        @Nullable Instant occurredAt) {}

package org.quarterlight.repair;

import jakarta.validation.constraints.NotEmpty;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import java.time.Instant;
import java.util.List;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/**
 * Asks for work on damages of one windscreen in one visit. With {@code approve} the manager approves it in the
 * same breath. With {@code warrantyFor} a repair of that closed job failed: its damages are open again and the new job
 * refers to it.
 */
public record RequestJob(
        @NotNull Work work,
        @NotEmpty @Size(max = 50) List<@NotNull UUID> damages,
        @Nullable Boolean approve,
        @Nullable UUID warrantyFor,
        @Nullable Instant occurredAt) {}

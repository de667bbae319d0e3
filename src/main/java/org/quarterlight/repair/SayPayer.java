package org.quarterlight.repair;

import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import org.jspecify.annotations.Nullable;

/**
 * Says who pays for a job.
 *
 * @param claimReference the insurer's, where the insurer pays
 * @param reason for a correction after the job has ended
 */
public record SayPayer(
        @NotNull Payer payer,
        @Size(max = 60) @Nullable String claimReference,
        @Size(max = 500) @Nullable String reason) {}

package org.quarterlight.repair;

import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import java.time.Instant;
import org.jspecify.annotations.Nullable;
import org.quarterlight.repair.Calibration.Manner;

/**
 * The camera behind new glass was set again, or that failed.
 *
 * @param manner standing before a target, driving, or both
 * @param tool what it was done with, or the firm that did it
 * @param words figures, or why it failed
 * @param deviceClock what the device's clock says while it sends this, where it measured the time without a network
 */
public record CalibrateCamera(
        @NotNull Boolean passed,
        @NotNull Manner manner,
        @NotBlank @Size(max = 120) String tool,
        @Size(max = 1000) @Nullable String words,
        @Nullable Instant occurredAt,
        @Nullable Instant deviceClock) {}

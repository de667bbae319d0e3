package org.quarterlight.dispatch;

import jakarta.validation.constraints.Max;
import jakarta.validation.constraints.Min;
import jakarta.validation.constraints.NotNull;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/** A job's place in a day; without minutes it gets the usual time for its work. */
public record PlanStop(
        @NotNull UUID job, @Min(1) @Max(720) @Nullable Integer minutes) {}

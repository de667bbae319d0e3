package org.quarterlight.fleet;

import jakarta.validation.constraints.Size;
import java.time.LocalDate;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/**
 * A new windscreen takes the old one's place. Without a pattern it is as the old one was.
 *
 * @param id given by whoever may say the same twice; the second time nothing changes
 */
public record FitWindscreen(
        @Nullable UUID id,
        @Nullable UUID pattern,
        @Nullable LocalDate fittedOn,
        @Size(max = 120) @Nullable String marking,
        @Size(max = 500) @Nullable String reason) {}

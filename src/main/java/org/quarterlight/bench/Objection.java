package org.quarterlight.bench;

import java.time.Instant;
import org.jspecify.annotations.Nullable;

/**
 * One thing that speaks against working now.
 *
 * @param code names it, such as {@code direct-sun}
 * @param reason what is wrong, with its figures
 * @param change what to do about it
 * @param betterAt when it passes by itself, as far as that can be known
 */
public record Objection(
        String code, String reason, String change, @Nullable Instant betterAt) {}

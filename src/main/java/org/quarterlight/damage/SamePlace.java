package org.quarterlight.damage;

import java.time.Instant;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/**
 * The repaired damage that one reported later lies on.
 *
 * @param job that repaired it, where it still counts as repaired
 */
public record SamePlace(
        UUID damage,
        int number,
        @Nullable Instant repairedAt,
        @Nullable UUID job) {}

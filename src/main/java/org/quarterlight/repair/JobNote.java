package org.quarterlight.repair;

import java.time.Instant;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/**
 * A remark in the record.
 *
 * @param phase while or after which it was written; null where it is about the job as a whole
 * @param arrivedAt when the service heard of it; null where that was not kept yet
 * @param measuredDamage the damage that was measured at the vehicle, where the note tells that
 */
public record JobNote(
        UUID id,
        String text,
        @Nullable UUID phase,
        Instant writtenAt,
        String writtenBy,
        @Nullable Instant arrivedAt,
        @Nullable UUID measuredDamage) {}

package org.quarterlight.repair;

import java.time.Instant;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/** A remark in the record. {@code arrivedAt}: when the service heard of it; null where that was not kept yet. */
public record JobNote(
        UUID id,
        String text,
        Instant writtenAt,
        String writtenBy,
        @Nullable Instant arrivedAt) {}

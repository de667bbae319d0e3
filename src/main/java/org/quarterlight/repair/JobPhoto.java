package org.quarterlight.repair;

import java.time.Instant;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/**
 * A photo in the record. Sizes in pixels as it is shown.
 *
 * @param addedAt when it was taken, as told
 * @param arrivedAt when it reached the service; null where that was not kept yet
 */
public record JobPhoto(
        UUID id,
        PhotoShows shows,
        String sha256,
        int width,
        int height,
        Instant addedAt,
        String addedBy,
        @Nullable Instant arrivedAt) {}

package org.quarterlight.repair;

import java.time.Instant;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/**
 * A photo in the record. Sizes in pixels as it is shown.
 *
 * @param phase while or after which it was taken; null where it is of the job as a whole
 * @param addedAt when it was taken, as told
 * @param arrivedAt when it reached the service; null where that was not kept yet
 */
public record JobPhoto(
        UUID id,
        PhotoShows shows,
        String sha256,
        int width,
        int height,
        @Nullable UUID phase,
        Instant addedAt,
        String addedBy,
        @Nullable Instant arrivedAt) {}

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
 * @param takenAt when the camera says that it was taken; null where the file does not tell
 * @param queued a device had to keep it for want of a network, as far as the service can tell; null where that was not asked
 * @param pictureSha256 of what is to be seen, however the file was written; null where that was not kept yet
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
        @Nullable Instant arrivedAt,
        @Nullable Instant takenAt,
        @Nullable Boolean queued,
        @Nullable String pictureSha256) {
    /** That it was told late, or taken long before it came, in words; else null. */
    public @Nullable String toldLate() {
        if (queued == null || arrivedAt == null) {
            return null;
        }
        var earliest = takenAt != null && takenAt.isBefore(addedAt) ? takenAt : addedAt;
        return Lateness.told(earliest, arrivedAt, queued);
    }
}

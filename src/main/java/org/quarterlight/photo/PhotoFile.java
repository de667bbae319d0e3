package org.quarterlight.photo;

import java.time.Instant;
import java.time.ZoneId;
import org.jspecify.annotations.Nullable;

/**
 * A photo in the store, as the record that owns it remembers it. Sizes in pixels as it is shown, upright.
 *
 * @param sha256 of the bytes as they came, in hexadecimal: its name in the store
 * @param pictureSha256 of what is to be seen: the same where the file says something else besides
 * @param taken by the camera's clock; null where the file does not tell
 */
public record PhotoFile(
        String sha256,
        String mediaType,
        long bytes,
        int width,
        int height,
        String pictureSha256,
        @Nullable TakenAt taken) {
    /** In a zone, for where the camera does not say which time it keeps; null where the file does not tell. */
    public @Nullable Instant takenAt(ZoneId zone) {
        return taken == null ? null : taken.in(zone);
    }
}

package org.quarterlight.repair;

import java.time.Instant;
import java.util.Map;
import org.jspecify.annotations.Nullable;

/**
 * What a device told of a job after it had been without a network.
 *
 * @param what the last word of the address that it was sent to, such as {@code notes}
 * @param doneAt by the service's clock
 * @param offsetSeconds how far the device's clock was ahead when it was done; corrected in {@code doneAt}
 * @param clockChangedSeconds how far that clock was put forward before it was sent; null where it was left alone
 */
public record JobDeviceTime(
        String what,
        Instant doneAt,
        int offsetSeconds,
        @Nullable Integer clockChangedSeconds) {
    private static final Map<String, String> WORDS = Map.ofEntries(
            Map.entry("start", "Start of the work"),
            Map.entry("phases", "Start of a phase"),
            Map.entry("end", "End of a phase"),
            Map.entry("conditions", "Air and glass"),
            Map.entry("materials", "Lot"),
            Map.entry("calibrate", "Calibration"),
            Map.entry("notes", "Note"),
            Map.entry("photos", "Photo"),
            Map.entry("measurements", "Measured again"),
            Map.entry("inspect", "Look over"),
            Map.entry("close", "Closing"),
            Map.entry("abandon", "Abandoned"));

    /** For a page. */
    public String words() {
        return WORDS.getOrDefault(what, what);
    }
}

package org.quarterlight.fleet;

import jakarta.validation.constraints.NotNull;
import java.util.UUID;
import org.quarterlight.glass.KnownLength;
import org.quarterlight.glass.PicturePlace;
import org.quarterlight.glass.PictureScale;
import org.quarterlight.glass.TracedFrom;

/**
 * How an outline was found: over which picture, by which two lengths on it, and where the glass frame begins there. The
 * outline itself stands in the pattern's measurements.
 */
public record PatternTrace(
        @NotNull UUID picture,
        @NotNull TracedFrom from,
        @NotNull KnownLength across,
        @NotNull KnownLength up,
        @NotNull PicturePlace origin) {
    public PictureScale scale() {
        return PictureScale.of(across, up, origin);
    }
}

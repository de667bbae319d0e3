package org.quarterlight.fleet;

import jakarta.validation.Valid;
import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import org.jspecify.annotations.Nullable;
import org.quarterlight.glass.GlassMeasurements;

/** A glass pattern as a tape measures it, or as its outline was traced: then how, where that was over a picture. */
public record SavePattern(
        @NotBlank @Size(max = 120) String name,
        @NotNull GlassMeasurements measurements,
        @Valid @Nullable PatternTrace trace) {}

package org.quarterlight.fleet;

import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import org.quarterlight.glass.GlassMeasurements;

/** A glass pattern as a tape measures it. */
public record SavePattern(
        @NotBlank @Size(max = 120) String name, @NotNull GlassMeasurements measurements) {}

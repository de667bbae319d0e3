package org.quarterlight.fleet;

import jakarta.validation.Valid;
import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import org.quarterlight.glass.GlassMeasurements;

/**
 * A glass pattern as a tape measures it, or as its outline was traced: then how, where that was over a picture.
 *
 * @param assumed what nobody measured but took from another glass; a traced glass says it, if only that there is nothing
 */
public record SavePattern(
        @NotBlank @Size(max = 120) String name,
        @NotNull GlassMeasurements measurements,
        @Valid @Nullable PatternTrace trace,
        @Nullable Set<@NotNull ToldLength> assumed) {}

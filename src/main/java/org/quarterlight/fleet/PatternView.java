package org.quarterlight.fleet;

import java.time.Instant;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.glass.GlassMeasurements;

/** A pattern in its newest version. */
public record PatternView(
        UUID id,
        String name,
        boolean generic,
        int patternVersion,
        GlassMeasurements measurements,
        @Nullable PatternTrace trace,
        Instant madeAt,
        String madeBy,
        int version) {}

package org.quarterlight.fleet;

import java.time.Instant;
import java.util.List;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.glass.GlassMeasurements;

/**
 * A pattern in its newest version.
 *
 * @param assumed what nobody measured but took from another glass; null where nobody was asked
 */
public record PatternView(
        UUID id,
        String name,
        boolean generic,
        int patternVersion,
        GlassMeasurements measurements,
        @Nullable PatternTrace trace,
        @Nullable List<ToldLength> assumed,
        Instant madeAt,
        String madeBy,
        int version) {}

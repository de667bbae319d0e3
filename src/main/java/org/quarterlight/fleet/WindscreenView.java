package org.quarterlight.fleet;

import java.time.LocalDate;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/** A piece of glass, fitted to a vehicle now or before. */
public record WindscreenView(
        UUID id,
        UUID vehicle,
        UUID pattern,
        int patternVersion,
        String patternName,
        boolean genericPattern,
        @Nullable LocalDate fittedOn,
        @Nullable LocalDate removedOn,
        @Nullable String removedBecause,
        String marking) {}

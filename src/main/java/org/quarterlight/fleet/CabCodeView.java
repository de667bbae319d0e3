package org.quarterlight.fleet;

import java.time.Instant;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/** A vehicle's cab code. The code itself is part of an address that anybody in the cab may open. */
public record CabCodeView(
        UUID id,
        UUID vehicle,
        String code,
        Instant madeAt,
        @Nullable Instant revokedAt) {}

package org.quarterlight.damage;

import java.time.Instant;
import java.util.UUID;

/** A photo of a damage. Sizes in pixels as it is shown. */
public record DamagePhoto(
        UUID id,
        UUID damage,
        String sha256,
        String mediaType,
        int width,
        int height,
        Instant addedAt,
        String addedBy) {}

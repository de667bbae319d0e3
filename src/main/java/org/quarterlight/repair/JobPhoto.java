package org.quarterlight.repair;

import java.time.Instant;
import java.util.UUID;

/** A photo in the record. Sizes in pixels as it is shown. */
public record JobPhoto(
        UUID id, PhotoShows shows, String sha256, int width, int height, Instant addedAt, String addedBy) {}

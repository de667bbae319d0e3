package org.quarterlight.repair;

import java.time.Instant;
import java.util.UUID;

/** Somebody answered for a gap. */
public record JobOverride(UUID id, Gap gap, String reason, Instant madeAt, String madeBy) {}

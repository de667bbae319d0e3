package org.quarterlight.repair;

import java.time.Instant;
import java.util.UUID;

/** A remark in the record. */
public record JobNote(UUID id, String text, Instant writtenAt, String writtenBy) {}

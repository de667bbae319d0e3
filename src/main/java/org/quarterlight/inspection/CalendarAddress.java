package org.quarterlight.inspection;

import java.net.URI;
import java.time.Instant;
import java.util.UUID;

/**
 * Where a calendar program finds the inspections that wait, without signing in. Whoever knows the address may read them, so
 * it is told once.
 *
 * @param key by which it is revoked, like any other key
 */
public record CalendarAddress(UUID key, URI address, Instant expiresAt) {}

package org.quarterlight.history;

import java.time.Instant;
import java.util.UUID;

/**
 * An end of the chain that the service has signed.
 *
 * @param jws the signed form: kept somewhere else, it proves later that nothing before it was changed
 */
public record SealedHead(UUID organisation, long number, String hash, Instant sealedAt, String jws) {}

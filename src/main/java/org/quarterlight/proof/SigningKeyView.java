package org.quarterlight.proof;

import java.time.Instant;
import org.jspecify.annotations.Nullable;

/**
 * The public half of a key.
 *
 * @param id its thumbprint (RFC 7638), which signatures name
 * @param x the 32 bytes of the key in base64url, as a JWK has them (RFC 8037)
 * @param retiredAt since when nothing is signed with it; what was stays valid
 */
public record SigningKeyView(
        String id, String x, Instant madeAt, @Nullable Instant retiredAt) {}

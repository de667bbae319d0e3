package org.quarterlight.repair;

import java.time.Instant;
import org.jspecify.annotations.Nullable;

/**
 * All that anybody may know of a certificate: whether it is one.
 *
 * @param hash of the signed content, SHA-256 in hexadecimal
 * @param key the id of the key that signed it
 * @param sound the content kept here bears a signature of this service
 * @param matches the hash that was asked about is this one; null where none was
 */
public record CheckedCertificate(
        int number,
        Instant issuedAt,
        String hash,
        String key,
        boolean sound,
        @Nullable Boolean matches) {}

package org.quarterlight.repair;

import java.nio.ByteBuffer;
import java.util.Base64;
import java.util.UUID;
import org.quarterlight.proof.Signed;

/**
 * A certificate with its signature.
 *
 * @param seal opens the page where anybody may check it: the fleet's id and the certificate's, which is random
 */
public record IssuedCertificate(String seal, Certificate content, Signed signed) {
    private static final int SEAL_BYTES = 32;

    static String seal(UUID fleet, UUID id) {
        var bytes = ByteBuffer.allocate(SEAL_BYTES)
                .putLong(fleet.getMostSignificantBits())
                .putLong(fleet.getLeastSignificantBits())
                .putLong(id.getMostSignificantBits())
                .putLong(id.getLeastSignificantBits());
        return Base64.getUrlEncoder().withoutPadding().encodeToString(bytes.array());
    }
}

package org.quarterlight.proof;

import java.security.GeneralSecurityException;
import java.security.KeyFactory;
import java.security.PublicKey;
import java.security.Signature;
import java.security.spec.X509EncodedKeySpec;
import java.time.OffsetDateTime;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/** The public halves of all keys that the installation ever signed with, and what they say of a signature. */
@Component
public class PublishedKeys {
    static final String ALGORITHM = "Ed25519";
    static final int KEY_BYTES = 32;

    private final JdbcClient jdbc;

    public PublishedKeys(JdbcClient jdbc) {
        this.jdbc = jdbc;
    }

    /** The newest first; of them only the first may still sign. */
    public List<SigningKeyView> all() {
        return jdbc.sql("select id, public_key, made_at, retired_at from signing_key order by made_at desc, id")
                .query((row, number) -> {
                    var retired = row.getObject("retired_at", OffsetDateTime.class);
                    return new SigningKeyView(
                            row.getString("id"),
                            Signed.encode(raw(row.getBytes("public_key"))),
                            row.getObject("made_at", OffsetDateTime.class).toInstant(),
                            retired == null ? null : retired.toInstant());
                })
                .list();
    }

    /** What was signed, where one of our keys did sign it just so. */
    public Optional<Signed> verified(String jws) {
        try {
            var signed = Signed.read(jws);
            var key = key(signed.key());
            if (key.isEmpty()) {
                return Optional.empty();
            }
            var signature = Signature.getInstance(ALGORITHM);
            signature.initVerify(key.get());
            signature.update(signed.input());
            return signature.verify(signed.signature()) ? Optional.of(signed) : Optional.empty();
        } catch (GeneralSecurityException | IllegalArgumentException e) {
            return Optional.empty(); // no signature at all
        }
    }

    private Optional<PublicKey> key(String id) throws GeneralSecurityException {
        var encoded = jdbc.sql("select public_key from signing_key where id = :id")
                .param("id", id)
                .query((row, number) -> row.getBytes("public_key"))
                .optional();
        return encoded.isEmpty() ? Optional.empty() : Optional.of(publicKey(encoded.get()));
    }

    private static PublicKey publicKey(byte[] encoded) throws GeneralSecurityException {
        return KeyFactory.getInstance(ALGORITHM).generatePublic(new X509EncodedKeySpec(encoded));
    }

    /** The point alone: the encoding of RFC 8410 has twelve bytes before it, always the same. */
    static byte[] raw(byte[] encoded) {
        return Arrays.copyOfRange(encoded, encoded.length - KEY_BYTES, encoded.length);
    }
}

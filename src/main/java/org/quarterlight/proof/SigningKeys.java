package org.quarterlight.proof;

import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.security.GeneralSecurityException;
import java.security.KeyFactory;
import java.security.KeyPairGenerator;
import java.security.PrivateKey;
import java.security.SecureRandom;
import java.security.Signature;
import java.security.spec.PKCS8EncodedKeySpec;
import java.time.Clock;
import java.time.ZoneOffset;
import java.util.HexFormat;
import java.util.List;
import java.util.Optional;
import javax.crypto.AEADBadTagException;
import javax.crypto.Cipher;
import javax.crypto.SecretKey;
import javax.crypto.spec.GCMParameterSpec;
import org.quarterlight.web.Secrets;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;
import tools.jackson.databind.json.JsonMapper;

/**
 * Signs for the installation. One key is in use at a time, made when something is to be signed and there is none; all nodes
 * read it from the database, so a rotation holds for all of them at once.
 */
@Service
public class SigningKeys {
    /** Takes the present key out of use, whoever asks; the next signature makes another. */
    public static final String RETIRE =
            "update signing_key set retired_at = now(), private_key = null where retired_at is null";

    private static final Logger LOG = LoggerFactory.getLogger(SigningKeys.class);
    private static final int NONCE_BYTES = 12;
    private static final int TAG_BITS = 128;

    private final JdbcClient jdbc;
    private final PublishedKeys published;
    private final SecretKey wrapping;
    private final JsonMapper json;
    private final Clock clock;
    private final SecureRandom random = new SecureRandom();

    SigningKeys(JdbcClient jdbc, PublishedKeys published, Secrets secrets, JsonMapper json, Clock clock) {
        this.jdbc = jdbc;
        this.published = published;
        this.wrapping = secrets.encryptionKey("signing-key");
        this.json = json;
        this.clock = clock;
    }

    private record Present(String id, PrivateKey key) {}

    private record Kept(String id, ByteBuffer encrypted) {}

    /** Signs a value, in its canonical form. */
    @Transactional
    public Signed sign(Object value) {
        var payload = CanonicalJson.of(json, value);
        try {
            var present = present();
            var input = Signed.input(present.id(), payload);
            var signature = Signature.getInstance(PublishedKeys.ALGORITHM);
            signature.initSign(present.key());
            signature.update(input.getBytes(StandardCharsets.US_ASCII));
            return Signed.read(input + "." + Signed.encode(signature.sign()));
        } catch (GeneralSecurityException e) {
            throw new IllegalStateException(e);
        }
    }

    /** Every key, the newest first. */
    @Transactional(readOnly = true)
    @PreAuthorize("hasRole('OPERATOR')")
    public List<SigningKeyView> all() {
        return published.all();
    }

    /** Takes the present key out of use and makes the next. What it signed stays valid, for its public half stays. */
    @Transactional
    @PreAuthorize("hasRole('OPERATOR')")
    public SigningKeyView rotate() {
        jdbc.sql(RETIRE).update();
        try {
            present();
        } catch (GeneralSecurityException e) {
            throw new IllegalStateException(e);
        }
        return published.all().getFirst();
    }

    private Present present() throws GeneralSecurityException {
        var kept = kept();
        if (kept.isPresent()) {
            try {
                return unwrapped(kept.get());
            } catch (AEADBadTagException e) {
                LOG.warn(
                        "The secret of the installation has changed, so key {} cannot be used any more",
                        kept.get().id());
                jdbc.sql("update signing_key set retired_at = :now, private_key = null where id = :id")
                        .param("now", clock.instant().atOffset(ZoneOffset.UTC))
                        .param("id", kept.get().id())
                        .update();
            }
        }
        make();
        return unwrapped(kept().orElseThrow());
    }

    private Optional<Kept> kept() {
        return jdbc.sql("select id, private_key from signing_key where retired_at is null")
                .query((row, number) -> new Kept(row.getString("id"), ByteBuffer.wrap(row.getBytes("private_key"))))
                .optional();
    }

    /** Where two make one at once, the first one's counts: the other waits at the index and then reads it. */
    private void make() throws GeneralSecurityException {
        var pair = KeyPairGenerator.getInstance(PublishedKeys.ALGORITHM).generateKeyPair();
        var encoded = pair.getPublic().getEncoded();
        var id = thumbprint(PublishedKeys.raw(encoded));
        jdbc.sql("""
            insert into signing_key (id, public_key, private_key, made_at) values (:id, :public, :private, :now)
            on conflict ((retired_at is null)) where retired_at is null do nothing\
            """)
                .param("id", id)
                .param("public", encoded)
                .param("private", wrapped(id, pair.getPrivate().getEncoded()))
                .param("now", clock.instant().atOffset(ZoneOffset.UTC))
                .update();
    }

    /** RFC 7638: the hash of the members that make the key, by name and without spaces. */
    static String thumbprint(byte[] raw) {
        var members = "{\"crv\":\"Ed25519\",\"kty\":\"OKP\",\"x\":\"" + Signed.encode(raw) + "\"}";
        return Signed.encode(HexFormat.of().parseHex(CanonicalJson.sha256(members.getBytes(StandardCharsets.UTF_8))));
    }

    /** AES-256-GCM, bound to the id, so that no row can take another's key. */
    private byte[] wrapped(String id, byte[] key) throws GeneralSecurityException {
        var nonce = new byte[NONCE_BYTES];
        random.nextBytes(nonce);
        var encrypted = cipher(Cipher.ENCRYPT_MODE, id, nonce).doFinal(key);
        return ByteBuffer.allocate(nonce.length + encrypted.length)
                .put(nonce)
                .put(encrypted)
                .array();
    }

    private Present unwrapped(Kept kept) throws GeneralSecurityException {
        var bytes = kept.encrypted().duplicate();
        var nonce = new byte[NONCE_BYTES];
        bytes.get(nonce);
        var encrypted = new byte[bytes.remaining()];
        bytes.get(encrypted);
        var key = cipher(Cipher.DECRYPT_MODE, kept.id(), nonce).doFinal(encrypted);
        return new Present(
                kept.id(),
                KeyFactory.getInstance(PublishedKeys.ALGORITHM).generatePrivate(new PKCS8EncodedKeySpec(key)));
    }

    private Cipher cipher(int mode, String id, byte[] nonce) throws GeneralSecurityException {
        var cipher = Cipher.getInstance("AES/GCM/NoPadding");
        cipher.init(mode, wrapping, new GCMParameterSpec(TAG_BITS, nonce));
        cipher.updateAAD(id.getBytes(StandardCharsets.US_ASCII));
        return cipher;
    }
}

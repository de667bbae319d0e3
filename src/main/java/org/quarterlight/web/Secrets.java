package org.quarterlight.web;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.nio.file.attribute.PosixFilePermissions;
import java.security.GeneralSecurityException;
import java.security.SecureRandom;
import java.util.Arrays;
import java.util.HexFormat;
import javax.crypto.Mac;
import javax.crypto.SecretKey;
import javax.crypto.spec.SecretKeySpec;
import org.springframework.beans.factory.annotation.Value;
import org.springframework.stereotype.Component;

/**
 * Signs what leaves the service and comes back: tokens and cab codes. The key of the installation comes from
 * {@code QUARTERLIGHT_SECRET}, or from a file made in the data folder at the first start.
 */
@Component
public class Secrets {
    private static final int SIGNATURE_BYTES = 16;
    private static final int SHORTEST = 32;

    private final SecretKeySpec key;

    Secrets(@Value("${quarterlight.secret:}") String given, @Value("${quarterlight.data}") Path data)
            throws IOException {
        var secret = given.isBlank() ? keptIn(data) : given;
        if (secret.length() < SHORTEST) {
            throw new IllegalStateException("QUARTERLIGHT_SECRET needs at least " + SHORTEST + " characters");
        }
        this.key = new SecretKeySpec(secret.getBytes(StandardCharsets.UTF_8), "HmacSHA256");
    }

    /** HMAC-SHA-256 (RFC 2104), cut to 128 bits; the purpose keeps a signature of one kind from passing as another. */
    public byte[] sign(String purpose, byte[] message) {
        try {
            var mac = Mac.getInstance("HmacSHA256");
            mac.init(key);
            mac.update(purpose.getBytes(StandardCharsets.UTF_8));
            mac.update((byte) 0);
            return Arrays.copyOf(mac.doFinal(message), SIGNATURE_BYTES);
        } catch (GeneralSecurityException e) {
            throw new IllegalStateException(e);
        }
    }

    /** AES-256, of its own for each purpose: what is kept with it can be read by every node and by nobody else. */
    public SecretKey encryptionKey(String purpose) {
        try {
            var mac = Mac.getInstance("HmacSHA256");
            mac.init(key);
            return new SecretKeySpec(mac.doFinal(("encrypt " + purpose).getBytes(StandardCharsets.UTF_8)), "AES");
        } catch (GeneralSecurityException e) {
            throw new IllegalStateException(e);
        }
    }

    private static String keptIn(Path data) throws IOException {
        var file = data.resolve("secret");
        Files.createDirectories(data);
        if (!Files.exists(file)) {
            var bytes = new byte[32];
            new SecureRandom().nextBytes(bytes);
            try {
                if (Files.getFileStore(data).supportsFileAttributeView("posix")) {
                    Files.createFile(
                            file, PosixFilePermissions.asFileAttribute(PosixFilePermissions.fromString("rw-------")));
                } else {
                    Files.createFile(file);
                }
                Files.writeString(file, HexFormat.of().formatHex(bytes), StandardOpenOption.WRITE);
            } catch (FileAlreadyExistsException e) {
                // another node was first
            }
        }
        return Files.readString(file).trim();
    }
}

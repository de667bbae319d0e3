package org.quarterlight.proof;

import java.io.IOException;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;
import org.erdtman.jcs.JsonCanonicalizer;
import tools.jackson.databind.json.JsonMapper;

/** JSON as RFC 8785 has it: one value is the same bytes whoever writes it, so its hash says what it is. */
public final class CanonicalJson {
    private CanonicalJson() {}

    /** The bytes, UTF-8. */
    public static byte[] of(JsonMapper json, Object value) {
        return of(json.writeValueAsString(value));
    }

    static byte[] of(String text) {
        try {
            return new JsonCanonicalizer(text).getEncodedUTF8();
        } catch (IOException e) {
            throw new IllegalArgumentException("This is no JSON", e);
        }
    }

    /** SHA-256, in hexadecimal. */
    public static String sha256(byte[] bytes) {
        try {
            return HexFormat.of().formatHex(MessageDigest.getInstance("SHA-256").digest(bytes));
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException(e);
        }
    }
}

package org.quarterlight.proof;

import java.nio.charset.StandardCharsets;
import java.util.Base64;

/**
 * What was signed, as the compact form of a JWS (RFC 7515): header, payload and signature, each in base64url. The payload
 * is canonical JSON.
 *
 * @param key the id of the key that signed it
 */
public record Signed(String jws, String key, String payload) {
    private static final String HEADER = "{\"alg\":\"EdDSA\",\"kid\":\"";
    private static final int PARTS = 3;

    /** What is signed with this key: header and payload, as they stand in the compact form. */
    static String input(String key, byte[] payload) {
        return encode((HEADER + key + "\"}").getBytes(StandardCharsets.UTF_8)) + "." + encode(payload);
    }

    /** Reads the compact form; says nothing of the signature. We read only what we have written, by one algorithm. */
    static Signed read(String jws) {
        var parts = jws.split("\\.", -1);
        if (parts.length != PARTS) {
            throw new IllegalArgumentException("A compact JWS has three parts");
        }
        var header = text(parts[0]);
        if (!header.startsWith(HEADER) || !header.endsWith("\"}")) {
            throw new IllegalArgumentException("This header is none of ours");
        }
        return new Signed(jws, header.substring(HEADER.length(), header.length() - 2), text(parts[1]));
    }

    byte[] input() {
        return jws.substring(0, jws.lastIndexOf('.')).getBytes(StandardCharsets.US_ASCII);
    }

    byte[] signature() {
        return Base64.getUrlDecoder().decode(jws.substring(jws.lastIndexOf('.') + 1));
    }

    /** SHA-256 of the payload, in hexadecimal. */
    public String sha256() {
        return CanonicalJson.sha256(payload.getBytes(StandardCharsets.UTF_8));
    }

    private static String text(String part) {
        return new String(Base64.getUrlDecoder().decode(part), StandardCharsets.UTF_8);
    }

    static String encode(byte[] bytes) {
        return Base64.getUrlEncoder().withoutPadding().encodeToString(bytes);
    }
}

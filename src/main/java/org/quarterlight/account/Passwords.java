package org.quarterlight.account;

import java.nio.charset.StandardCharsets;
import org.quarterlight.kernel.Invalid;
import org.springframework.security.crypto.factory.PasswordEncoderFactories;
import org.springframework.security.crypto.password.PasswordEncoder;
import org.springframework.stereotype.Component;

/** Hashes with bcrypt. Its 72 bytes are the longest password we take, so none is silently cut. */
@Component
class Passwords {
    private static final int SHORTEST = 10;
    private static final int LONGEST_BYTES = 72;

    private final PasswordEncoder encoder = PasswordEncoderFactories.createDelegatingPasswordEncoder();
    /** Compared with where nobody has the e-mail, so that both answers take as long. */
    private final String nobodys = encoder.encode("nobody has this password");

    String hash(String field, String password) {
        if (password.length() < SHORTEST) {
            throw new Invalid(field, "A password has at least " + SHORTEST + " characters");
        }
        if (!acceptableLength(password)) {
            throw new Invalid(field, "A password has at most " + LONGEST_BYTES + " bytes");
        }
        return encoder.encode(password);
    }

    boolean matches(String password, String hash) {
        return acceptableLength(password) && encoder.matches(password, hash);
    }

    void pretend(String password) {
        matches(password, nobodys);
    }

    private static boolean acceptableLength(String password) {
        return password.getBytes(StandardCharsets.UTF_8).length <= LONGEST_BYTES;
    }
}

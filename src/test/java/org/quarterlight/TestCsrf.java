package org.quarterlight;

import jakarta.servlet.http.Cookie;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.Base64;
import java.util.UUID;
import org.springframework.test.web.servlet.request.RequestPostProcessor;

/**
 * Gives a request the token of a page and its cookie. The one of Spring's test support puts a repository of its own into
 * the filter, which keeps tokens in sessions from then on, and the tests of signing in share the filter.
 */
public final class TestCsrf {
    private TestCsrf() {}

    public static RequestPostProcessor csrf() {
        return request -> {
            var token = UUID.randomUUID().toString().getBytes(StandardCharsets.US_ASCII);
            // Half of it is a mask for the other half; this one masks nothing.
            var masked = new byte[2 * token.length];
            System.arraycopy(token, 0, masked, token.length, token.length);
            var cookies = request.getCookies() == null ? new Cookie[0] : request.getCookies();
            var all = Arrays.copyOf(cookies, cookies.length + 1);
            all[cookies.length] = new Cookie("XSRF-TOKEN", new String(token, StandardCharsets.US_ASCII));
            request.setCookies(all);
            request.setParameter(
                    "_csrf", Base64.getUrlEncoder().withoutPadding().encodeToString(masked));
            return request;
        };
    }
}

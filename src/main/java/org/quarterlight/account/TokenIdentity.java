package org.quarterlight.account;

import jakarta.servlet.http.HttpServletRequest;
import java.nio.charset.StandardCharsets;
import java.util.Base64;
import java.util.Optional;
import java.util.UUID;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.web.RequestIdentity;
import org.springframework.http.HttpHeaders;
import org.springframework.security.authentication.BadCredentialsException;
import org.springframework.stereotype.Component;

/**
 * The {@code Authorization} header of a program: a bearer token everywhere in the API, and e-mail with password (HTTP
 * Basic) for the one call that makes a token. And a key in the address, for calendar programs, which send no header.
 */
@Component
class TokenIdentity implements RequestIdentity {
    private static final Pattern CALENDAR = Pattern.compile("/calendars/([A-Za-z0-9_-]{1,200})\\.ics");
    private static final String BEARER = "bearer ";
    private static final String BASIC = "basic ";

    private final Tokens tokens;
    private final PasswordSignIn passwords;

    TokenIdentity(Tokens tokens, PasswordSignIn passwords) {
        this.tokens = tokens;
        this.passwords = passwords;
    }

    @Override
    public Optional<Acting> of(HttpServletRequest request) {
        var calendar = CALENDAR.matcher(request.getRequestURI());
        if (calendar.matches()) {
            return tokens.actingForCalendar(calendar.group(1));
        }
        var header = request.getHeader(HttpHeaders.AUTHORIZATION);
        if (header == null || !request.getRequestURI().startsWith("/api/")) {
            return Optional.empty();
        }
        if (header.regionMatches(true, 0, BEARER, 0, BEARER.length())) {
            var acting = tokens.acting(header.substring(BEARER.length()).trim());
            if (acting.isPresent()) {
                return acting;
            }
        } else if (header.regionMatches(true, 0, BASIC, 0, BASIC.length())
                && "POST".equals(request.getMethod())
                && request.getRequestURI().equals("/api/v1/tokens")) {
            return Optional.of(signedIn(header.substring(BASIC.length()).trim(), request));
        }
        throw new BadCredentialsException("This key is not valid");
    }

    private Acting signedIn(String encoded, HttpServletRequest request) {
        String text;
        try {
            text = new String(Base64.getDecoder().decode(encoded), StandardCharsets.UTF_8);
        } catch (IllegalArgumentException e) {
            throw new BadCredentialsException("Not HTTP Basic");
        }
        var colon = text.indexOf(':');
        if (colon < 0) {
            throw new BadCredentialsException("Not HTTP Basic");
        }
        return passwords.signIn(
                text.substring(0, colon),
                text.substring(colon + 1),
                String.valueOf(request.getRemoteAddr()),
                organisation(request.getParameter("organisation")));
    }

    private static @Nullable UUID organisation(@Nullable String asked) {
        try {
            return asked == null || asked.isBlank() ? null : UUID.fromString(asked);
        } catch (IllegalArgumentException e) {
            throw new BadCredentialsException("There is no such organisation");
        }
    }
}

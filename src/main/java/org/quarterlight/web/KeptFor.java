package org.quarterlight.web;

import jakarta.servlet.FilterChain;
import jakarta.servlet.ServletException;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.io.IOException;
import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.tenancy.Role;
import org.springframework.security.authentication.InsufficientAuthenticationException;
import org.springframework.web.filter.OncePerRequestFilter;

/**
 * Says on each page whose it is, so that a device keeps it for nobody else, and refuses what a device has kept for somebody
 * else than whoever is signed in by now.
 */
class KeptFor extends OncePerRequestFilter {
    static final String HEADER = "Kept-For";

    /** Somebody is signed in for whom a device keeps nothing. */
    static final String NOBODY = "-";

    /** A driver without account: whose report it is stands in its address. */
    private static final String CAB = "cab";

    /** A person in an organisation; null where nobody acts. */
    static @Nullable String of(@Nullable Acting acting) {
        if (acting == null) {
            return null;
        }
        if (acting.is(Role.CAB_CODE)) {
            return CAB;
        }
        return acting.person() != null && acting.isAny(Role.TECHNICIAN, Role.DRIVER)
                ? acting.person() + "." + acting.organisation().value()
                : NOBODY;
    }

    @Override
    protected void doFilterInternal(HttpServletRequest request, HttpServletResponse response, FilterChain chain)
            throws ServletException, IOException {
        var own = of(Acting.current().orElse(null));
        var kept = request.getHeader(HEADER);
        if (own != null && kept != null && !kept.equals(own)) {
            throw new InsufficientAuthenticationException("kept for somebody else");
        }
        if (own != null && !request.getRequestURI().startsWith("/api/")) {
            response.setHeader(HEADER, Objects.requireNonNull(own));
        }
        chain.doFilter(request, response);
    }
}

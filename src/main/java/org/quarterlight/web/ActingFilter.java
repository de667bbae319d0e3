package org.quarterlight.web;

import jakarta.servlet.FilterChain;
import jakarta.servlet.ServletException;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.tenancy.Tenants;
import org.springframework.security.authentication.CredentialsExpiredException;
import org.springframework.security.core.context.SecurityContextHolder;
import org.springframework.web.filter.OncePerRequestFilter;

/**
 * Finds out who acts and binds their organisation to the request. A secret in the request goes before the session, and a
 * wrong one never falls back to it. Stands inside the security chain, so that its refusals are answered there.
 */
class ActingFilter extends OncePerRequestFilter {
    private final List<RequestIdentity> identities;
    private final Memberships memberships;

    ActingFilter(List<RequestIdentity> identities, Memberships memberships) {
        this.identities = identities;
        this.memberships = memberships;
    }

    @Override
    protected void doFilterInternal(HttpServletRequest request, HttpServletResponse response, FilterChain chain)
            throws ServletException, IOException {
        var acting = carried(request);
        if (acting.isEmpty() && Acting.current().isPresent()) {
            acting = refreshed(Acting.require());
            if (acting.isEmpty()) {
                SecurityContextHolder.clearContext();
                var session = request.getSession(false);
                if (session != null) {
                    session.invalidate();
                }
                throw new CredentialsExpiredException("This membership has ended");
            }
        }
        if (acting.isEmpty()) {
            chain.doFilter(request, response);
            return;
        }
        var context = SecurityContextHolder.createEmptyContext();
        context.setAuthentication(new ActingAuthentication(acting.get()));
        SecurityContextHolder.setContext(context);
        try {
            Tenants.runAs(acting.get().organisation(), () -> {
                try {
                    chain.doFilter(request, response);
                } catch (IOException e) {
                    throw new UncheckedIOException(e);
                } catch (ServletException e) {
                    throw new Carried(e);
                }
            });
        } catch (UncheckedIOException e) {
            throw Objects.requireNonNull(e.getCause());
        } catch (Carried e) {
            throw e.exception;
        }
    }

    @Override
    protected boolean shouldNotFilterErrorDispatch() {
        return false; // the error page has the header of whoever met the error
    }

    private Optional<Acting> carried(HttpServletRequest request) {
        return identities.stream()
                .map(identity -> identity.of(request))
                .flatMap(Optional::stream)
                .findFirst();
    }

    private Optional<Acting> refreshed(Acting acting) {
        return memberships.acting(Objects.requireNonNull(acting.person()), acting.organisation());
    }

    /** Takes a checked exception through a lambda. */
    private static final class Carried extends RuntimeException {
        private final transient ServletException exception;

        Carried(ServletException exception) {
            super(exception);
            this.exception = exception;
        }
    }
}

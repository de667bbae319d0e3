package org.quarterlight.web;

import jakarta.servlet.http.HttpServletRequest;
import java.util.Optional;
import org.quarterlight.tenancy.Acting;

/**
 * Tells who acts from something the request carries: a bearer token, a cab code. Each kind is implemented where its
 * secret is kept. Throws {@link org.springframework.security.core.AuthenticationException} for a secret that is wrong.
 */
public interface RequestIdentity {
    /** Empty where the request carries nothing of this kind. */
    Optional<Acting> of(HttpServletRequest request);
}

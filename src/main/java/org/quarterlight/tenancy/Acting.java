package org.quarterlight.tenancy;

import java.io.Serializable;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.springframework.security.core.context.SecurityContextHolder;

/**
 * Who acts, for which organisation, and what they may do there. A cab code acts without a person.
 *
 * @param token the key that a program came with, null for people at a page
 */
public record Acting(
        TenantId organisation,
        OrganisationKind kind,
        String organisationName,
        int pattern,
        @Nullable UUID person,
        String name,
        Set<Role> roles,
        @Nullable UUID token)
        implements Serializable {
    public Acting {
        roles = Set.copyOf(roles);
    }

    /** Whoever is signed in; nobody in listeners and scheduled work. */
    public static Optional<Acting> current() {
        var authentication = SecurityContextHolder.getContext().getAuthentication();
        return authentication != null && authentication.getPrincipal() instanceof Acting acting
                ? Optional.of(acting)
                : Optional.empty();
    }

    /** Whoever is signed in; asked only where the rules let nobody else come. */
    public static Acting require() {
        return current().orElseThrow(() -> new IllegalStateException("nobody is signed in"));
    }

    public boolean is(Role role) {
        return roles.contains(role);
    }

    public boolean isAny(Role... any) {
        return Stream.of(any).anyMatch(roles::contains);
    }
}

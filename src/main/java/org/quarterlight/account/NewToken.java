package org.quarterlight.account;

import java.time.Instant;
import java.util.Set;
import java.util.UUID;
import org.quarterlight.tenancy.Role;

/** A key just made, with its secret, which nobody can read again. */
public record NewToken(UUID id, String name, Set<Role> roles, Instant createdAt, Instant expiresAt, String secret) {
    public NewToken {
        roles = Set.copyOf(roles);
    }
}

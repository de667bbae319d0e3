package org.quarterlight.account;

import java.time.Instant;
import java.util.Set;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.tenancy.Role;

/** A key without its secret. One that is for a calendar opens the calendar of inspections and nothing else. */
public record TokenView(
        UUID id,
        String name,
        Set<Role> roles,
        String person,
        Instant createdAt,
        Instant expiresAt,
        @Nullable Instant lastUsedAt,
        @Nullable Instant revokedAt,
        boolean forCalendar) {
    public TokenView {
        roles = Set.copyOf(roles);
    }
}

package org.quarterlight.account;

import java.util.Set;
import java.util.UUID;
import org.quarterlight.tenancy.Role;

/** A person in an organisation and what they may do there. */
public record Member(UUID person, String name, String email, Set<Role> roles, int version) {
    public Member {
        roles = Set.copyOf(roles);
    }
}

package org.quarterlight.account;

import java.util.Set;
import java.util.UUID;
import org.quarterlight.tenancy.Role;

/** An organisation that would take somebody in, and what they would do there. */
public record Invitation(UUID organisation, String name, Set<Role> roles) {
    public Invitation {
        roles = Set.copyOf(roles);
    }
}

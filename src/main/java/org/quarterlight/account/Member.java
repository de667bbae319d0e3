package org.quarterlight.account;

import java.util.Set;
import java.util.UUID;
import org.quarterlight.tenancy.Role;

/**
 * A person in an organisation and what they may do there.
 *
 * @param name the e-mail as long as they are invited
 * @param invited until they have accepted, or have replaced the first password; they may do nothing before
 */
public record Member(UUID person, String name, String email, Set<Role> roles, boolean invited, int version) {
    public Member {
        roles = Set.copyOf(roles);
    }
}

package org.quarterlight.account;

import jakarta.validation.constraints.Email;
import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.NotEmpty;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import org.quarterlight.tenancy.Role;

/**
 * Takes somebody into the organisation. A first password is given for everybody; somebody who has a login already keeps
 * name and password, and is asked before they count as a member.
 */
public record AddMember(
        @NotBlank @Email @Size(max = 254) String email,
        @NotBlank @Size(max = 120) String name,
        @NotEmpty Set<@NotNull Role> roles,
        @Size(min = 10, max = 72) @Nullable String password) {}

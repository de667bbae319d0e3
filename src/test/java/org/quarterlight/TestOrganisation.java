package org.quarterlight;

import java.util.EnumMap;
import java.util.Map;
import java.util.Objects;
import java.util.UUID;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.tenancy.OrganisationKind;
import org.quarterlight.tenancy.Role;
import org.quarterlight.tenancy.TenantId;

/** An organisation that one test made for itself, with somebody for each role and a key for each of them. */
public record TestOrganisation(
        TenantId tenant, OrganisationKind kind, String name, Map<Role, Acting> people, Map<Role, String> tokens) {
    public TestOrganisation {
        people = people.isEmpty() ? new EnumMap<>(Role.class) : new EnumMap<>(people);
        tokens = tokens.isEmpty() ? new EnumMap<>(Role.class) : new EnumMap<>(tokens);
    }

    public UUID id() {
        return tenant.value();
    }

    /** The value of an Authorization header. */
    public String bearer(Role role) {
        return "Bearer " + Objects.requireNonNull(tokens.get(role), () -> name + " has no " + role);
    }

    public Acting person(Role role) {
        return Objects.requireNonNull(people.get(role), () -> name + " has no " + role);
    }
}

package org.quarterlight.account;

import jakarta.persistence.Entity;
import jakarta.persistence.EnumType;
import jakarta.persistence.Enumerated;
import jakarta.persistence.Id;
import jakarta.persistence.Version;
import java.time.Instant;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.kernel.Stale;
import org.quarterlight.tenancy.OrganisationKind;
import org.quarterlight.tenancy.TenantId;

/** A tenant: a fleet, a repairer, or the platform itself. */
@Entity
class Organisation {
    @Id
    private UUID id;

    private @Enumerated(EnumType.STRING) OrganisationKind kind;
    private String name;
    private String country;
    private int pattern;
    private @Version @Nullable Integer version;
    private Instant createdAt;

    protected Organisation() {}

    Organisation(UUID id, OrganisationKind kind, String name, String country, int pattern, Instant createdAt) {
        this.id = id;
        this.kind = kind;
        this.name = name;
        this.country = country;
        this.pattern = pattern;
        this.createdAt = createdAt;
    }

    void rename(String newName, int newPattern, int expectedVersion) {
        Stale.check("The organisation", expectedVersion, version());
        name = newName;
        pattern = newPattern;
    }

    TenantId tenant() {
        return new TenantId(id);
    }

    OrganisationKind kind() {
        return kind;
    }

    String name() {
        return name;
    }

    int pattern() {
        return pattern;
    }

    private int version() {
        return version == null ? 0 : version;
    }

    OrganisationView view() {
        return new OrganisationView(id, kind, name, country, pattern, createdAt, version());
    }
}

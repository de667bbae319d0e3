package org.quarterlight.account;

import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import java.time.Instant;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.springframework.data.domain.Persistable;

/** Somebody with one login, whatever organisations they act for. */
@Entity
class Person implements Persistable<UUID> {
    @Id
    private UUID id;

    private String email;
    private String name;
    private String passwordHash;
    /** Given by somebody else, who knows it. */
    private boolean passwordIsFirst;

    private Instant createdAt;
    private @Nullable UUID lastTenantId;

    protected Person() {}

    Person(UUID id, String email, String name, String passwordHash, Instant createdAt) {
        this.id = id;
        this.email = email;
        this.name = name;
        this.passwordHash = passwordHash;
        this.passwordIsFirst = true;
        this.createdAt = createdAt;
    }

    @Override
    public UUID getId() {
        return id;
    }

    /** Persons are only ever saved when they are made. */
    @Override
    public boolean isNew() {
        return true;
    }

    String name() {
        return name;
    }

    String email() {
        return email;
    }

    boolean passwordIsFirst() {
        return passwordIsFirst;
    }

    String passwordHash() {
        return passwordHash;
    }

    /** The organisation they switched to last, if they ever did. */
    @Nullable
    UUID lastTenantId() {
        return lastTenantId;
    }
}

package org.quarterlight.tenancy;

import java.io.Serializable;
import java.util.UUID;

/** An organisation, as the database knows it: the owner of rows. */
public record TenantId(UUID value) implements Serializable {
    @Override
    public String toString() {
        return value.toString();
    }
}

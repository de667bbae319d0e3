package org.quarterlight.web;

import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.tenancy.TenantId;

/** For which organisations a person may act; implemented by the module that keeps people. */
public interface Memberships {
    /** The person's present rights in that organisation: asked at every request, so that what is taken away is gone at once. */
    Optional<Acting> acting(UUID person, TenantId organisation);

    /** All organisations of a person, by name. */
    List<Acting> of(UUID person);
}

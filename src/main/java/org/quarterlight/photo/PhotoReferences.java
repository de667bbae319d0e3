package org.quarterlight.photo;

import java.util.Collection;
import java.util.Set;
import org.quarterlight.tenancy.TenantId;

/** Which photos the records of one module still need; implemented above, so that nothing in use is swept away. */
public interface PhotoReferences {
    /** Those of the given names that are in use. Called as that organisation. */
    Set<String> inUse(TenantId owner, Collection<String> sha256);
}

package org.quarterlight.photo;

import java.util.Collection;
import java.util.Set;
import org.quarterlight.tenancy.TenantId;
import org.springframework.jdbc.core.simple.JdbcClient;

/** Which photos the records of one module still need; implemented above, so that nothing in use is swept away. */
public interface PhotoReferences {
    /** Those of the given names that are in use. Called as that organisation. */
    Set<String> inUse(TenantId owner, Collection<String> sha256);

    /** The same where they stand in the column {@code sha256} of a table, one organisation's rows beside another's. */
    static Set<String> in(String table, JdbcClient jdbc, TenantId owner, Collection<String> sha256) {
        return sha256.isEmpty()
                ? Set.of()
                : Set.copyOf(jdbc.sql("select sha256 from " + table
                                + " where tenant_id = :organisation and sha256 in (:names)")
                        .param("organisation", owner.value())
                        .param("names", sha256)
                        .query(String.class)
                        .list());
    }
}

package org.quarterlight.damage;

import java.util.Set;
import org.quarterlight.rulebook.HomeCountries;
import org.quarterlight.tenancy.Tenants;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/**
 * The countries of the depots, by whose sheets damages are judged where nothing else is chosen; before there is a depot, the
 * organisation's own.
 */
@Component
class DepotCountries implements HomeCountries {
    private final JdbcClient jdbc;

    DepotCountries(JdbcClient jdbc) {
        this.jdbc = jdbc;
    }

    @Override
    @Transactional(readOnly = true)
    public Set<String> homeCountries() {
        return Set.copyOf(jdbc.sql("""
            select country from depot where tenant_id = :organisation
            union
            select country from organisation where id = :organisation
                and not exists (select from depot where tenant_id = :organisation)\
            """)
                .param("organisation", Tenants.require().value())
                .query(String.class)
                .list());
    }
}

package org.quarterlight.damage;

import java.util.List;
import java.util.UUID;
import org.quarterlight.tenancy.Tenants;
import org.springframework.jdbc.core.simple.JdbcClient;

/** The windscreens of the organisation with open damage, in parts, for whoever goes through all of them. */
final class DamagedGlass {
    private DamagedGlass() {}

    /** How many glasses with something open come behind this one; the last id itself does not count. */
    static long countAfter(JdbcClient jdbc, UUID last) {
        return jdbc.sql("""
            select count(distinct windscreen_id) from damage
            where tenant_id = :organisation and state <> 'CLOSED' and windscreen_id > :last\
            """)
                .param("organisation", Tenants.require().value())
                .param("last", last)
                .query(Long.class)
                .single();
    }

    /** The next ones in the order of their ids, at most so many. */
    static List<UUID> after(JdbcClient jdbc, UUID last, int some) {
        return jdbc.sql("""
            select distinct windscreen_id from damage
            where tenant_id = :organisation and state <> 'CLOSED' and windscreen_id > :last
            order by windscreen_id limit :some\
            """)
                .param("organisation", Tenants.require().value())
                .param("last", last)
                .param("some", some)
                .query((row, number) -> row.getObject("windscreen_id", UUID.class))
                .list();
    }
}

package org.quarterlight.tenancy;

import java.util.UUID;
import org.springframework.jdbc.core.simple.JdbcClient;

/** Locks of the present organisation, held until the transaction ends. */
public final class Locks {
    private Locks() {}

    /** Keeps a row from being changed by anybody else; nothing where there is no such row. */
    public static void row(JdbcClient jdbc, String table, UUID id) {
        jdbc.sql("select from " + table + " where tenant_id = :organisation and id = :id for update")
                .param("organisation", Tenants.require().value())
                .param("id", id)
                .query((row, number) -> true)
                .optional();
    }

    /** Lets this kind of work of the organisation be done by one at a time, where no row could be locked for it. */
    public static void work(JdbcClient jdbc, String kind) {
        jdbc.sql("select pg_advisory_xact_lock(hashtextextended(:key, 1))")
                .param("key", kind + "|" + Tenants.require())
                .query((row, number) -> true)
                .single();
    }
}

package org.quarterlight.tenancy;

import java.util.function.Supplier;
import org.springframework.jdbc.core.simple.JdbcClient;

/**
 * Statements on tables that grow within minutes, such as those of an import. PostgreSQL keeps the plan of a statement that
 * it has seen some times; one made while a table was nearly empty takes any index that begins with the organisation, and
 * reads all its rows for each of the next hundred thousand.
 */
public final class FreshPlans {
    private FreshPlans() {}

    /** Within a transaction: plans anew what this does, by what the tables hold now. */
    public static <T> T with(JdbcClient jdbc, Supplier<T> statements) {
        mode(jdbc, "force_custom_plan");
        var result = statements.get();
        // Not left on: each check of a foreign key would be planned anew too.
        mode(jdbc, "auto");
        return result;
    }

    private static void mode(JdbcClient jdbc, String mode) {
        jdbc.sql("select set_config('plan_cache_mode', :mode, true)")
                .param("mode", mode)
                .query(String.class)
                .single();
    }
}

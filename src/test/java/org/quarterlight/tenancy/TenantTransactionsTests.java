package org.quarterlight.tenancy;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.awaitility.Awaitility.await;

import com.zaxxer.hikari.HikariDataSource;
import java.util.UUID;
import javax.sql.DataSource;
import org.junit.jupiter.api.Test;
import org.quarterlight.QuarterlightTest;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.support.TransactionTemplate;

@QuarterlightTest
class TenantTransactionsTests {
    @Autowired
    private JdbcClient jdbc;

    @Autowired
    private DataSource dataSource;

    @Autowired
    private PlatformTransactionManager transactions;

    @Test
    void servesAsARoleThatCannotPassByTheRowPolicies() {
        assertThat(jdbc.sql("select current_user").query(String.class).single()).isEqualTo("quarterlight_app");
        assertThat(jdbc.sql("select rolsuper or rolbypassrls from pg_roles where rolname = current_user")
                        .query(Boolean.class)
                        .single())
                .isFalse();
    }

    @Test
    void tellsTheDatabaseForWhomATransactionActsAndForgetsItAfterwards() {
        var tenant = new TenantId(UUID.randomUUID());

        var inside = Tenants.callAs(tenant, () -> new TransactionTemplate(transactions).execute(status -> setting()));

        assertThat(inside).isEqualTo(tenant.toString());
        for (int i = 0; i < 20; i++) { // more often than the pool has connections
            var next = new TransactionTemplate(transactions).execute(status -> setting());
            assertThat(next).isEmpty();
            assertThat(setting()).isEmpty();
        }
    }

    @Test
    void leavesNoConnectionBehindWhereTheOrganisationCannotBeSet() {
        var pool = ((HikariDataSource) dataSource).getHikariPoolMXBean();
        @SuppressWarnings("NullAway") // a tenant that fails in the middle of the beginning
        var broken = new TenantId(null);

        for (int i = 0; i < 20; i++) { // more often than the pool has connections
            assertThatThrownBy(() -> Tenants.callAs(
                            broken, () -> new TransactionTemplate(transactions).execute(status -> setting())))
                    .isInstanceOf(NullPointerException.class);
        }

        await().untilAsserted(() -> assertThat(pool.getActiveConnections()).isZero());
    }

    @Test
    void refusesToChangeTheOrganisationInsideATransaction() {
        var template = new TransactionTemplate(transactions);

        assertThatThrownBy(() ->
                        template.execute(status -> Tenants.callAs(new TenantId(UUID.randomUUID()), () -> "too late")))
                .isInstanceOf(IllegalStateException.class)
                .hasMessageContaining("begun already");
    }

    private String setting() {
        return jdbc.sql("select coalesce(current_setting('app.tenant', true), '')")
                .query(String.class)
                .single();
    }
}

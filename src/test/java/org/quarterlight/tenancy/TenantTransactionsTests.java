package org.quarterlight.tenancy;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.awaitility.Awaitility.await;

import com.zaxxer.hikari.HikariDataSource;
import java.sql.Connection;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.UUID;
import javax.sql.DataSource;
import org.junit.jupiter.api.Test;
import org.quarterlight.QuarterlightTest;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.TransactionException;
import org.springframework.transaction.support.TransactionSynchronizationManager;
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
    void leavesNothingOnTheThreadWhereTheConnectionBreaksInTheBeginning() throws SQLException {
        var tenant = new TenantId(UUID.randomUUID());
        killPooledConnections();
        var failures = 0;
        for (int i = 0; i < 12; i++) { // more often than the pool has connections
            try {
                Tenants.callAs(tenant, () -> new TransactionTemplate(transactions).execute(status -> setting()));
            } catch (TransactionException e) {
                failures++;
            }
            assertThat(TransactionSynchronizationManager.getResourceMap()).isEmpty();
        }
        assertThat(failures).as("broken connections met").isPositive();
        assertThat(Tenants.<String>callAs(
                        tenant, () -> new TransactionTemplate(transactions).execute(status -> setting())))
                .isEqualTo(tenant.toString());
    }

    /** As a restart of the server does it. The pool trusts for half a second what it has just used. */
    private void killPooledConnections() throws SQLException {
        var all = new ArrayList<Connection>();
        try {
            for (int i = 0; i < 5; i++) {
                all.add(dataSource.getConnection());
            }
            for (var other : all.subList(1, all.size())) {
                int process;
                try (var statement = other.createStatement();
                        var row = statement.executeQuery("select pg_backend_pid()")) {
                    row.next();
                    process = row.getInt(1);
                }
                try (var statement = all.getFirst().createStatement()) {
                    statement.execute("select pg_terminate_backend(" + process + ", 2000)");
                }
            }
        } finally {
            for (var connection : all) {
                connection.close();
            }
        }
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

package org.quarterlight.tenancy;

import jakarta.persistence.EntityManagerFactory;
import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;
import org.springframework.dao.DataAccessException;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.orm.jpa.EntityManagerFactoryUtils;
import org.springframework.stereotype.Component;
import org.springframework.transaction.support.TransactionSynchronizationManager;

/**
 * Lets the transaction that makes an organisation write the organisation's first rows as it, so that both are there or
 * neither. No other organisation can be acted for in this way: a transaction belongs to one from its start.
 */
@Component
public class Founding {
    private final JdbcClient jdbc;
    private final EntityManagerFactory entities;

    Founding(JdbcClient jdbc, EntityManagerFactory entities) {
        this.jdbc = jdbc;
        this.entities = entities;
    }

    /** Does the work as the organisation that this very transaction has made, then goes on as before. */
    public <T extends @Nullable Object> T callAs(TenantId founded, Supplier<T> work) {
        if (!TransactionSynchronizationManager.isActualTransactionActive() || !madeHere(founded)) {
            throw new IllegalStateException("this transaction has not founded " + founded);
        }
        var before = Tenants.current().map(TenantId::toString).orElse("");
        bind(founded.toString());
        T result;
        try {
            result = Tenants.callWithin(founded, () -> {
                var done = work.get();
                flush();
                return done;
            });
        } catch (RuntimeException | Error failure) {
            try {
                bind(before);
            } catch (DataAccessException aborted) {
                failure.addSuppressed(aborted); // nothing more can be read or written in this transaction
            }
            throw failure;
        }
        bind(before);
        return result;
    }

    private boolean madeHere(TenantId founded) {
        return jdbc.sql("select xmin = pg_current_xact_id()::xid from organisation where id = :id")
                .param("id", founded.value())
                .query(Boolean.class)
                .optional()
                .orElse(false);
    }

    private void bind(String tenant) {
        jdbc.sql("select set_config('app.tenant', :tenant, true)")
                .param("tenant", tenant)
                .query(String.class)
                .single();
    }

    private void flush() {
        var manager = EntityManagerFactoryUtils.getTransactionalEntityManager(entities);
        if (manager != null) {
            manager.flush();
        }
    }
}

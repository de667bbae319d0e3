package org.quarterlight.tenancy;

import jakarta.persistence.EntityManagerFactory;
import java.sql.SQLException;
import java.util.Objects;
import org.springframework.jdbc.datasource.DataSourceUtils;
import org.springframework.orm.jpa.EntityManagerHolder;
import org.springframework.orm.jpa.JpaTransactionManager;
import org.springframework.stereotype.Component;
import org.springframework.transaction.CannotCreateTransactionException;
import org.springframework.transaction.TransactionDefinition;
import org.springframework.transaction.support.TransactionSynchronizationManager;

/**
 * Tells the database at the start of each transaction for which organisation it acts. The setting ends with the
 * transaction, so a pooled connection never carries it to the next.
 */
@Component("transactionManager")
class TenantTransactions extends JpaTransactionManager {
    TenantTransactions(EntityManagerFactory entityManagerFactory) {
        super(entityManagerFactory);
    }

    @Override
    protected void doBegin(Object transaction, TransactionDefinition definition) {
        super.doBegin(transaction, definition);
        try {
            Tenants.current().ifPresent(this::bind);
        } catch (RuntimeException | Error failure) {
            abandon(transaction, failure);
            throw failure;
        }
    }

    private void bind(TenantId tenant) {
        var dataSource = Objects.requireNonNull(getDataSource());
        var connection = DataSourceUtils.getConnection(dataSource);
        try (var statement = connection.prepareStatement("select set_config('app.tenant', ?, true)")) {
            statement.setString(1, tenant.toString());
            statement.execute();
        } catch (SQLException e) {
            throw new CannotCreateTransactionException("The organisation could not be set", e);
        } finally {
            DataSourceUtils.releaseConnection(connection, dataSource);
        }
    }

    /**
     * Rolls back first: cleaning up alone would leave the connection in its transaction, and out of the pool. Cleans up
     * whatever comes of it: what stayed bound to the thread would fail every later request that the thread serves.
     */
    private void abandon(Object transaction, Throwable failure) {
        try {
            var entityManagerFactory = Objects.requireNonNull(getEntityManagerFactory());
            var holder = (EntityManagerHolder) TransactionSynchronizationManager.getResource(entityManagerFactory);
            if (holder != null && holder.getEntityManager().getTransaction().isActive()) {
                holder.getEntityManager().getTransaction().rollback();
            }
        } catch (RuntimeException broken) {
            failure.addSuppressed(broken);
        } finally {
            doCleanupAfterCompletion(transaction);
        }
    }
}

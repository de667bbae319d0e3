package org.quarterlight;

import com.zaxxer.hikari.HikariDataSource;
import javax.sql.DataSource;
import org.springframework.beans.factory.annotation.Qualifier;
import org.springframework.boot.jdbc.autoconfigure.JdbcConnectionDetails;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;
import org.springframework.jdbc.support.JdbcTransactionManager;
import org.springframework.session.config.SessionRepositoryCustomizer;
import org.springframework.session.jdbc.JdbcIndexedSessionRepository;
import org.springframework.session.jdbc.PostgreSqlJdbcIndexedSessionRepositoryCustomizer;
import org.springframework.session.jdbc.config.annotation.SpringSessionDataSource;
import org.springframework.transaction.TransactionDefinition;
import org.springframework.transaction.support.TransactionOperations;
import org.springframework.transaction.support.TransactionTemplate;

/**
 * Sessions have connections of their own. A request is saved to its session in the middle of its transaction, by a
 * connection besides: out of one pool, as many requests at once as it has connections would all wait for one more.
 */
@Configuration(proxyBeanMethods = false)
class SessionConfiguration {
    private static final int CONNECTIONS = 4;

    /** The same role as elsewhere; the tables of sessions belong to no organisation. */
    @Bean(defaultCandidate = false, destroyMethod = "close")
    @SpringSessionDataSource
    HikariDataSource sessions(JdbcConnectionDetails database) {
        var pool = new HikariDataSource();
        pool.setPoolName("sessions");
        pool.setJdbcUrl(database.getJdbcUrl());
        pool.setUsername(database.getUsername());
        pool.setPassword(database.getPassword());
        pool.setMaximumPoolSize(CONNECTIONS);
        return pool;
    }

    @Bean(defaultCandidate = false)
    @Qualifier("springSessionTransactionOperations")
    TransactionOperations springSessionTransactionOperations(@SpringSessionDataSource DataSource sessions) {
        var transaction = new TransactionTemplate(new JdbcTransactionManager(sessions));
        transaction.setPropagationBehavior(TransactionDefinition.PROPAGATION_REQUIRES_NEW);
        return transaction;
    }

    /** Two requests of one session at once may both add the same attribute: the later stays. */
    @Bean
    SessionRepositoryCustomizer<JdbcIndexedSessionRepository> laterAttributeStays() {
        return new PostgreSqlJdbcIndexedSessionRepositoryCustomizer();
    }
}

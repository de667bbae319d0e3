package org.quarterlight;

import java.nio.file.Path;
import org.springframework.beans.factory.annotation.Value;
import org.springframework.boot.flyway.autoconfigure.FlywayConnectionDetails;
import org.springframework.boot.jdbc.autoconfigure.JdbcConnectionDetails;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Condition;
import org.springframework.context.annotation.ConditionContext;
import org.springframework.context.annotation.Conditional;
import org.springframework.context.annotation.Configuration;
import org.springframework.core.type.AnnotatedTypeMetadata;

/** Where nobody names a server, the service brings its own. It serves as one role and migrates as another. */
@Configuration(proxyBeanMethods = false)
@Conditional(DatabaseConfiguration.NoServerNamed.class)
class DatabaseConfiguration {
    @Bean(destroyMethod = "close")
    EmbeddedDatabase embeddedDatabase(@Value("${quarterlight.data}") Path data) {
        return EmbeddedDatabase.start(data.toAbsolutePath());
    }

    @Bean
    JdbcConnectionDetails served(EmbeddedDatabase database) {
        return new JdbcConnectionDetails() {
            @Override
            public String getUsername() {
                return DatabaseRoles.APPLICATION;
            }

            @Override
            public String getPassword() {
                return database.applicationPassword();
            }

            @Override
            public String getJdbcUrl() {
                return database.url();
            }
        };
    }

    @Bean
    FlywayConnectionDetails migrated(EmbeddedDatabase database) {
        return new FlywayConnectionDetails() {
            @Override
            public String getUsername() {
                return DatabaseRoles.OWNER;
            }

            @Override
            public String getPassword() {
                return database.ownerPassword();
            }

            @Override
            public String getJdbcUrl() {
                return database.url();
            }
        };
    }

    static final class NoServerNamed implements Condition {
        @Override
        public boolean matches(ConditionContext context, AnnotatedTypeMetadata metadata) {
            return !StartingConditions.namesServer(context.getEnvironment());
        }
    }
}

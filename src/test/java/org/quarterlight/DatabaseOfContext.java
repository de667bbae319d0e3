package org.quarterlight;

import org.springframework.boot.test.util.TestPropertyValues;
import org.springframework.context.ApplicationContextInitializer;
import org.springframework.context.ConfigurableApplicationContext;

/** Gives each context a database of its own, which it serves and migrates as the service would: as two plain roles. */
public class DatabaseOfContext implements ApplicationContextInitializer<ConfigurableApplicationContext> {
    @Override
    public void initialize(ConfigurableApplicationContext context) {
        var url = TestServer.newDatabase();
        TestPropertyValues.of(
                        "spring.datasource.url=" + url,
                        "spring.datasource.username=" + DatabaseRoles.APPLICATION,
                        "spring.datasource.password=" + TestServer.PASSWORD,
                        "spring.datasource.hikari.maximum-pool-size=6",
                        "spring.flyway.user=" + DatabaseRoles.OWNER,
                        "spring.flyway.password=" + TestServer.PASSWORD,
                        "quarterlight.data=target/test-data",
                        "quarterlight.secret=a-secret-that-only-the-tests-know-of")
                .applyTo(context);
    }
}

package org.quarterlight;

import org.springframework.boot.EnvironmentPostProcessor;
import org.springframework.boot.SpringApplication;
import org.springframework.core.env.ConfigurableEnvironment;
import org.springframework.core.env.Environment;

/**
 * What follows from how the service was started: without a server of one's own there is an embedded database and, unless
 * refused, the demo in it. An image for production says that it brings no database; then a missing server is an error.
 */
class StartingConditions implements EnvironmentPostProcessor {
    static boolean namesServer(Environment environment) {
        var url = environment.getProperty("spring.datasource.url");
        return url != null && !url.isBlank();
    }

    @Override
    public void postProcessEnvironment(ConfigurableEnvironment environment, SpringApplication application) {
        if (namesServer(environment)) {
            return;
        }
        if (!environment.getProperty("quarterlight.embedded-database", Boolean.class, true)) {
            throw new CannotStart("Name the PostgreSQL server in SPRING_DATASOURCE_URL: this image brings none.");
        }
        if (environment.getProperty("quarterlight.demo", Boolean.class, true)) {
            environment.addActiveProfile("demo");
        }
    }
}

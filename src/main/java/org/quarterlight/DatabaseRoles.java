package org.quarterlight;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.util.Map;
import org.springframework.core.io.ClassPathResource;

/**
 * Makes the two roles of db/roles.sql in a database and gives them passwords: what an operator does by hand on a server
 * of their own. Needs a superuser's connection to the database of the service; may be done again.
 */
final class DatabaseRoles {
    static final String OWNER = "quarterlight_owner";
    static final String APPLICATION = "quarterlight_app";

    private DatabaseRoles() {}

    static void prepare(Connection superuser, String ownerPassword, String applicationPassword) throws SQLException {
        try (var statement = superuser.createStatement()) {
            statement.execute(script());
        }
        setPassword(superuser, OWNER, ownerPassword);
        setPassword(superuser, APPLICATION, applicationPassword);
    }

    /** For the commands that work beside a running service: as the role that the service's own variables name. */
    static Connection connect(Map<String, String> environment, String user, String password) throws SQLException {
        return DriverManager.getConnection(
                required(environment, "SPRING_DATASOURCE_URL"),
                required(environment, user),
                required(environment, password));
    }

    private static String required(Map<String, String> environment, String name) {
        var value = environment.get(name);
        if (value == null || value.isBlank()) {
            throw new CannotStart(name + " is missing.");
        }
        return value;
    }

    private static void setPassword(Connection superuser, String role, String password) throws SQLException {
        String sentence;
        try (var quoting = superuser.prepareStatement("select format('alter role %I password %L', ?::text, ?::text)")) {
            quoting.setString(1, role);
            quoting.setString(2, password);
            var result = quoting.executeQuery();
            result.next();
            sentence = result.getString(1);
        }
        try (var statement = superuser.createStatement()) {
            statement.execute(sentence);
        }
    }

    private static String script() {
        try {
            return new ClassPathResource("db/roles.sql").getContentAsString(StandardCharsets.UTF_8);
        } catch (IOException e) {
            throw new IllegalStateException("db/roles.sql is not on the class path", e);
        }
    }
}

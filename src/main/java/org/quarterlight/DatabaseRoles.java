package org.quarterlight;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.sql.Connection;
import java.sql.SQLException;
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

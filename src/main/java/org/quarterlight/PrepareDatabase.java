package org.quarterlight;

import java.io.PrintStream;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.util.Map;
import org.jspecify.annotations.Nullable;

/**
 * The command that gives a PostgreSQL server of one's own the two roles of the service, or changes their passwords. It
 * needs a superuser for a moment; the service itself never does. Takes all it needs from the environment, so that no
 * secret stands in a list of processes.
 */
final class PrepareDatabase {
    static final String COMMAND = "--quarterlight.prepare-database";

    private static final String WRONG_PASSWORD = "28P01";

    private final Map<String, String> environment;

    private PrepareDatabase(Map<String, String> environment) {
        this.environment = environment;
    }

    /** Says in one sentence how it went; zero where the service may start now. */
    static int run(Map<String, String> environment, PrintStream out, PrintStream errors) {
        try {
            out.println(new PrepareDatabase(environment).prepare());
            return 0;
        } catch (SQLException e) {
            errors.println("The database could not be prepared: " + reason(e));
        } catch (Missing e) {
            errors.println(e.getMessage());
        }
        return 1;
    }

    private String prepare() throws SQLException {
        var url = environment.containsKey("QUARTERLIGHT_SUPERUSER_URL")
                ? required("QUARTERLIGHT_SUPERUSER_URL", "the address of the database")
                : required("SPRING_DATASOURCE_URL", "the address of the database, such as jdbc:postgresql://host/name");
        var superuser = environment.getOrDefault("QUARTERLIGHT_SUPERUSER_USERNAME", "postgres");
        var password = required("QUARTERLIGHT_SUPERUSER_PASSWORD", "the password of " + superuser);
        var ownerPassword = required("SPRING_FLYWAY_PASSWORD", "the password that " + DatabaseRoles.OWNER + " gets");
        var applicationPassword =
                required("SPRING_DATASOURCE_PASSWORD", "the password that " + DatabaseRoles.APPLICATION + " gets");
        try (var connection = DriverManager.getConnection(url, superuser, password)) {
            inOneTransaction(connection, ownerPassword, applicationPassword);
            return "The database " + connection.getCatalog() + " is ready: " + DatabaseRoles.OWNER + " migrates it, "
                    + DatabaseRoles.APPLICATION + " serves.";
        }
    }

    private static void inOneTransaction(Connection connection, String ownerPassword, String applicationPassword)
            throws SQLException {
        connection.setAutoCommit(false);
        try {
            DatabaseRoles.prepare(connection, ownerPassword, applicationPassword);
            connection.commit();
        } catch (SQLException e) {
            connection.rollback();
            throw e;
        }
    }

    private String required(String name, String meaning) {
        var value = environment.get(name);
        if (value == null || value.isBlank()) {
            throw new Missing(name + " is missing: " + meaning + ".");
        }
        return value;
    }

    private static @Nullable String reason(SQLException e) {
        return WRONG_PASSWORD.equals(e.getSQLState())
                ? "the server refuses this name and password of a superuser."
                : e.getMessage();
    }

    private static final class Missing extends RuntimeException {
        private static final long serialVersionUID = 1;

        Missing(String message) {
            super(message);
        }
    }
}

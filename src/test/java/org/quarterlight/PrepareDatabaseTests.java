package org.quarterlight;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayOutputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.util.HashMap;
import java.util.Map;
import org.junit.jupiter.api.Test;

class PrepareDatabaseTests {
    private final ByteArrayOutputStream out = new ByteArrayOutputStream();
    private final ByteArrayOutputStream errors = new ByteArrayOutputStream();

    @Test
    void givesBothRolesTheirPasswordsAndMayBeRunAgain() throws SQLException {
        var environment = environment();

        assertThat(run(environment)).as(errors.toString(StandardCharsets.UTF_8)).isZero();
        assertThat(run(environment)).isZero();

        assertThat(out.toString(StandardCharsets.UTF_8)).contains(" is ready: ").hasLineCount(2);
        try (var connection = DriverManager.getConnection(
                environment.getOrDefault("SPRING_DATASOURCE_URL", ""),
                DatabaseRoles.APPLICATION,
                TestServer.PASSWORD)) {
            assertThat(connection.isValid(1)).isTrue();
        }
    }

    @Test
    void namesTheVariableThatIsMissing() {
        var environment = environment();
        environment.remove("SPRING_FLYWAY_PASSWORD");

        assertThat(run(environment)).isOne();

        assertThat(errors.toString(StandardCharsets.UTF_8))
                .hasLineCount(1)
                .contains("SPRING_FLYWAY_PASSWORD is missing", DatabaseRoles.OWNER);
    }

    @Test
    void saysInOneLineThatNoServerIsThere() {
        var environment = environment();
        environment.put("SPRING_DATASOURCE_URL", "jdbc:postgresql://127.0.0.1:1/quarterlight");

        assertThat(run(environment)).isOne();

        assertThat(errors.toString(StandardCharsets.UTF_8))
                .hasLineCount(1)
                .contains("could not be prepared")
                .doesNotContain("\tat ");
    }

    private int run(Map<String, String> environment) {
        return PrepareDatabase.run(
                environment,
                new PrintStream(out, true, StandardCharsets.UTF_8),
                new PrintStream(errors, true, StandardCharsets.UTF_8));
    }

    private static Map<String, String> environment() {
        // The passwords are the ones that every test's roles have: they belong to the server, not to one database.
        var environment = new HashMap<String, String>();
        environment.put("SPRING_DATASOURCE_URL", TestServer.newDatabase());
        environment.put("QUARTERLIGHT_SUPERUSER_USERNAME", TestServer.superuser());
        environment.put("QUARTERLIGHT_SUPERUSER_PASSWORD", TestServer.superuserPassword());
        environment.put("SPRING_FLYWAY_PASSWORD", TestServer.PASSWORD);
        environment.put("SPRING_DATASOURCE_PASSWORD", TestServer.PASSWORD);
        return environment;
    }
}

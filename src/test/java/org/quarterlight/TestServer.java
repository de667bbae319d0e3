package org.quarterlight;

import io.zonky.test.db.postgres.embedded.EmbeddedPostgres;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.util.concurrent.atomic.AtomicInteger;
import org.flywaydb.core.Flyway;
import org.springframework.boot.SpringApplication;
import org.testcontainers.DockerClientFactory;
import org.testcontainers.containers.ContainerLaunchException;
import org.testcontainers.postgresql.PostgreSQLContainer;
import org.testcontainers.utility.DockerImageName;

/**
 * One PostgreSQL for all tests of a JVM: a container where Docker answers and has the image, else the embedded one.
 * {@code -Ddatabase=embedded} or {@code -Ddatabase=container} forces one. The migrated schema is a template, cloned for
 * each context.
 */
final class TestServer {
    static final String PASSWORD = "only-for-tests";
    private static final String TEMPLATE = "quarterlight_template";
    private static final AtomicInteger CLONES = new AtomicInteger();
    private static final TestServer INSTANCE = start();

    private final String address;
    private final String superuser;
    private final String superuserPassword;
    private final String kind;

    private TestServer(String address, String superuser, String superuserPassword, String kind) {
        this.address = address;
        this.superuser = superuser;
        this.superuserPassword = superuserPassword;
        this.kind = kind;
    }

    /** The address of a database with the present schema and no rows, for one context. */
    static String newDatabase() {
        var name = "quarterlight_" + CLONES.incrementAndGet();
        try (var connection = INSTANCE.connect("postgres");
                var statement = connection.createStatement()) {
            statement.execute("create database " + name + " template " + TEMPLATE);
        } catch (SQLException e) {
            throw new IllegalStateException(e);
        }
        return INSTANCE.url(name);
    }

    /** "container" or "embedded", so that a run can show what it ran on. */
    static String kind() {
        return INSTANCE.kind;
    }

    static String superuser() {
        return INSTANCE.superuser;
    }

    static String superuserPassword() {
        return INSTANCE.superuserPassword;
    }

    private static TestServer start() {
        var wanted = System.getProperty("database", "any");
        var image = System.getProperty("database.image", "postgres:18-alpine");
        try {
            if (wanted.equals("container")) {
                return container(image);
            }
            return wanted.equals("any") && present(image) ? containerElseEmbedded(image) : embedded();
        } catch (IOException | SQLException e) {
            throw new IllegalStateException("No PostgreSQL for the tests", e);
        }
    }

    /** Whether Docker answers and has the image: a test run pulls nothing by itself. */
    private static boolean present(String image) {
        try {
            if (!DockerClientFactory.instance().isDockerAvailable()) {
                return false;
            }
            DockerClientFactory.instance().client().inspectImageCmd(image).exec();
            return true;
        } catch (RuntimeException e) {
            return false;
        }
    }

    /** Docker may answer and still have no room or network for a container; the same tests run on the other server. */
    private static TestServer containerElseEmbedded(String image) throws IOException, SQLException {
        try {
            return container(image);
        } catch (ContainerLaunchException e) {
            System.err.println("The container did not start, so the tests run on the embedded server: " + e);
            return embedded();
        }
    }

    private static TestServer container(String image) throws SQLException {
        // Stays until the JVM ends; the contexts that use it are closed before.
        @SuppressWarnings("resource")
        var container = new PostgreSQLContainer(DockerImageName.parse(image).asCompatibleSubstituteFor("postgres"))
                .withCommand("postgres", "-c", "fsync=off", "-c", "max_connections=100");
        container.start();
        SpringApplication.getShutdownHandlers().add(container::stop);
        return prepared(new TestServer(
                "jdbc:postgresql://" + container.getHost() + ":" + container.getMappedPort(5432) + "/",
                container.getUsername(),
                container.getPassword(),
                "container"));
    }

    private static TestServer embedded() throws IOException, SQLException {
        var folder = Files.createDirectories(Path.of("target", "test-database")).toAbsolutePath();
        var server = EmbeddedPostgres.builder()
                .setDataDirectory(
                        folder.resolve("pg18-" + ProcessHandle.current().pid()))
                .setOverrideWorkingDirectory(folder.resolve("runtime").toFile())
                .setLocaleConfig("locale", "C")
                .setLocaleConfig("locale-provider", "builtin")
                .setLocaleConfig("builtin-locale", "C.UTF-8")
                .setRegisterShutdownHook(false)
                .setErrorRedirector(ProcessBuilder.Redirect.DISCARD)
                .setOutputRedirector(ProcessBuilder.Redirect.DISCARD)
                .start();
        SpringApplication.getShutdownHandlers().add(() -> {
            try {
                server.close();
            } catch (IOException e) {
                throw new IllegalStateException(e);
            }
        });
        return prepared(new TestServer(
                "jdbc:postgresql://127.0.0.1:" + server.getPort() + "/", "postgres", "postgres", "embedded"));
    }

    private static TestServer prepared(TestServer server) throws SQLException {
        try (var connection = server.connect("postgres");
                var statement = connection.createStatement()) {
            statement.execute("create database " + TEMPLATE);
        }
        try (var connection = server.connect(TEMPLATE)) {
            DatabaseRoles.prepare(connection, PASSWORD, PASSWORD);
        }
        Flyway.configure()
                .dataSource(server.url(TEMPLATE), DatabaseRoles.OWNER, PASSWORD)
                .locations("classpath:db/migration")
                .load()
                .migrate();
        return server;
    }

    private Connection connect(String database) throws SQLException {
        return DriverManager.getConnection(url(database), superuser, superuserPassword);
    }

    private String url(String database) {
        return address + database + "?reWriteBatchedInserts=true";
    }
}

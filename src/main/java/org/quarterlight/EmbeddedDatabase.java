package org.quarterlight;

import io.zonky.test.db.postgres.embedded.EmbeddedPostgres;
import java.io.IOException;
import java.lang.ProcessBuilder.Redirect;
import java.nio.channels.FileChannel;
import java.nio.channels.OverlappingFileLockException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.nio.file.attribute.PosixFilePermissions;
import java.security.SecureRandom;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.time.Duration;
import java.util.HexFormat;
import java.util.Properties;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import org.springframework.util.FileSystemUtils;

/**
 * A real PostgreSQL of one's own, started from the binaries that Maven brought and kept in a folder of the user's. It
 * survives restarts and being killed, listens on the loopback address only, and asks everybody for a password made when
 * the folder was: the library's habit of trusting whoever connects is switched off before the server first starts.
 */
final class EmbeddedDatabase implements AutoCloseable {
    private static final String NAME = "quarterlight";
    private static final Duration ORPHAN_PATIENCE = Duration.ofSeconds(30);

    private final FileChannel lock;
    private final EmbeddedPostgres server;
    private final Properties passwords;

    private EmbeddedDatabase(FileChannel lock, EmbeddedPostgres server, Properties passwords) {
        this.lock = lock;
        this.server = server;
        this.passwords = passwords;
    }

    /** Starts the server of this data folder, making folder, server and database where there are none. */
    static EmbeddedDatabase start(Path data) {
        try {
            makePrivate(data);
            var lock = lock(data);
            try {
                // The major version is in the name, for PostgreSQL does not open another version's folder.
                var cluster = data.resolve("pg18");
                if (Files.exists(cluster) && !Files.exists(cluster.resolve("global/pg_control"))) {
                    FileSystemUtils.deleteRecursively(cluster); // made half when somebody pulled the plug
                }
                stopOrphan(cluster);
                var passwords = passwords(data);
                var server = launch(data, cluster, passwords);
                var database = new EmbeddedDatabase(lock, server, passwords);
                database.prepare();
                return database;
            } catch (IOException | SQLException | RuntimeException e) {
                lock.close();
                throw e;
            }
        } catch (IOException | SQLException e) {
            throw new IllegalStateException("The database in " + data + " could not be started: " + e.getMessage(), e);
        }
    }

    String url() {
        return "jdbc:postgresql://127.0.0.1:" + server.getPort() + "/" + NAME + "?reWriteBatchedInserts=true";
    }

    String ownerPassword() {
        return passwords.getProperty(DatabaseRoles.OWNER);
    }

    String applicationPassword() {
        return passwords.getProperty(DatabaseRoles.APPLICATION);
    }

    @Override
    public void close() throws IOException {
        server.close();
        lock.close();
    }

    private static EmbeddedPostgres launch(Path data, Path cluster, Properties passwords) throws IOException {
        var log = data.resolve("postgresql.log").toFile();
        var password = passwords.getProperty("postgres");
        var passwordFile = secretFile(data.resolve("initial-password"), password);
        try {
            return EmbeddedPostgres.builder()
                    .setDataDirectory(cluster)
                    .setCleanDataDirectory(false)
                    // Not below /tmp, where somebody else could put programs before us.
                    .setOverrideWorkingDirectory(data.resolve("runtime").toFile())
                    .setLocaleConfig("auth", "scram-sha-256")
                    .setLocaleConfig("pwfile", passwordFile.toString())
                    .setLocaleConfig("locale", "C")
                    .setLocaleConfig("locale-provider", "builtin")
                    .setLocaleConfig("builtin-locale", "C.UTF-8")
                    .setConnectConfig("password", password)
                    .setServerConfig("listen_addresses", "127.0.0.1")
                    .setServerConfig("unix_socket_directories", "")
                    .setServerConfig("fsync", "on")
                    .setServerConfig("synchronous_commit", "on")
                    .setServerConfig("full_page_writes", "on")
                    .setServerConfig("shared_buffers", "128MB")
                    .setServerConfig("max_connections", "60")
                    .setPGStartupWait(Duration.ofMinutes(3))
                    .setRegisterShutdownHook(false)
                    .setOutputRedirector(Redirect.appendTo(log))
                    .setErrorRedirector(Redirect.appendTo(log))
                    .start();
        } finally {
            Files.deleteIfExists(passwordFile);
        }
    }

    private void prepare() throws SQLException {
        try (var connection = superuser("postgres");
                var statement = connection.createStatement()) {
            var found = statement.executeQuery("select from pg_database where datname = '" + NAME + "'");
            if (!found.next()) {
                statement.execute("create database " + NAME);
            }
        }
        try (var connection = superuser(NAME)) {
            DatabaseRoles.prepare(connection, ownerPassword(), applicationPassword());
        }
    }

    private Connection superuser(String database) throws SQLException {
        return DriverManager.getConnection(
                "jdbc:postgresql://127.0.0.1:" + server.getPort() + "/" + database,
                "postgres",
                passwords.getProperty("postgres"));
    }

    private static void makePrivate(Path data) throws IOException {
        Files.createDirectories(data);
        if (Files.getFileStore(data).supportsFileAttributeView("posix")) {
            Files.setPosixFilePermissions(data, PosixFilePermissions.fromString("rwx------"));
        }
    }

    /** Held as long as this process lives, and let go by the system however it ends. */
    private static FileChannel lock(Path data) throws IOException {
        var channel = FileChannel.open(data.resolve("lock"), StandardOpenOption.CREATE, StandardOpenOption.WRITE);
        try {
            if (channel.tryLock() != null) {
                return channel;
            }
        } catch (OverlappingFileLockException e) {
            // held by this very process
        }
        channel.close();
        throw new CannotStart("Another Quarterlight is using " + data
                + ". Stop it, or give this one a folder of its own in QUARTERLIGHT_DATA.");
    }

    /** A server whose service was killed lives on. Holding the lock, we know that nobody uses it. */
    private static void stopOrphan(Path cluster) throws IOException {
        var note = cluster.resolve("postmaster.pid");
        if (!Files.exists(note)) {
            return;
        }
        var pid = Files.readAllLines(note).getFirst().trim();
        var orphan = ProcessHandle.of(Long.parseLong(pid))
                .filter(process -> process.info().command().orElse("").contains("postgres"));
        if (orphan.isPresent()) {
            orphan.get().destroy();
            try {
                orphan.get().onExit().get(ORPHAN_PATIENCE.toSeconds(), TimeUnit.SECONDS);
            } catch (TimeoutException | ExecutionException e) {
                throw new IllegalStateException("The database server " + pid + " of a killed run does not end", e);
            } catch (InterruptedException e) {
                Thread.currentThread().interrupt();
                throw new IllegalStateException(e);
            }
        }
    }

    private static Properties passwords(Path data) throws IOException {
        var file = data.resolve("database-passwords");
        var passwords = new Properties();
        if (Files.exists(file)) {
            try (var reader = Files.newBufferedReader(file)) {
                passwords.load(reader);
            }
            return passwords;
        }
        if (Files.exists(data.resolve("pg18"))) {
            throw new IllegalStateException("The passwords of the database in " + data + " are gone: " + file);
        }
        var content = new StringBuilder();
        for (var role : new String[] {"postgres", DatabaseRoles.OWNER, DatabaseRoles.APPLICATION}) {
            var password = randomPassword();
            passwords.setProperty(role, password);
            content.append(role).append('=').append(password).append('\n');
        }
        secretFile(file, content.toString());
        return passwords;
    }

    private static String randomPassword() {
        var bytes = new byte[24];
        new SecureRandom().nextBytes(bytes);
        return HexFormat.of().formatHex(bytes);
    }

    /** Readable by its owner only, from its first byte. */
    private static Path secretFile(Path file, String content) throws IOException {
        Files.deleteIfExists(file);
        if (Files.getFileStore(file.toAbsolutePath().getParent()).supportsFileAttributeView("posix")) {
            Files.createFile(file, PosixFilePermissions.asFileAttribute(PosixFilePermissions.fromString("rw-------")));
        }
        return Files.writeString(file, content, StandardCharsets.UTF_8);
    }
}

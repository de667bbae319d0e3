package org.quarterlight;

import java.io.File;
import java.io.IOException;
import java.net.ServerSocket;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.stream.Collectors;
import org.awaitility.Awaitility;
import org.springframework.core.env.Environment;

/** The service as a process of its own, on the database and the folder of a test's context, so that it can be killed. */
final class ServiceProcess implements AutoCloseable {
    private static final String JAVA = ProcessHandle.current().info().command().orElse("java");
    private static final Duration PATIENCE = Duration.ofSeconds(80);

    private final Process process;
    private final int port;

    private ServiceProcess(Process process, int port) {
        this.process = process;
        this.port = port;
    }

    /** Waits until it answers. */
    static ServiceProcess start(Environment environment, int port, Path log) throws IOException {
        var command = new ArrayList<>(
                List.of(JAVA, "-XX:TieredStopAtLevel=1", "-Xmx512m", "-cp", classes(), Quarterlight.class.getName()));
        command.add("--server.port=" + port);
        for (var name : List.of(
                "spring.datasource.url",
                "spring.datasource.username",
                "spring.datasource.password",
                "spring.datasource.hikari.maximum-pool-size",
                "spring.flyway.user",
                "spring.flyway.password",
                "quarterlight.data",
                "quarterlight.secret")) {
            command.add("--" + name + "=" + environment.getRequiredProperty(name));
        }
        var service = new ServiceProcess(
                new ProcessBuilder(command)
                        .redirectErrorStream(true)
                        .redirectOutput(ProcessBuilder.Redirect.appendTo(log.toFile()))
                        .start(),
                port);
        Awaitility.await().atMost(PATIENCE).pollInterval(Duration.ofMillis(200)).until(service::answers);
        return service;
    }

    static int freePort() throws IOException {
        try (var socket = new ServerSocket(0)) {
            return socket.getLocalPort();
        }
    }

    /** As a power cut would, with nothing put in order. */
    void kill() {
        process.destroyForcibly();
        process.onExit().join();
    }

    private boolean answers() {
        if (!process.isAlive()) {
            throw new IllegalStateException("the service ended while it started");
        }
        try (var client = HttpClient.newHttpClient()) {
            return client.send(
                                    HttpRequest.newBuilder(URI.create("http://localhost:" + port + "/sign-in"))
                                            .timeout(Duration.ofSeconds(10))
                                            .build(),
                                    HttpResponse.BodyHandlers.discarding())
                            .statusCode()
                    == 200;
        } catch (IOException e) {
            return false;
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            return false;
        }
    }

    /** Without the components that only tests have. */
    private static String classes() {
        return Arrays.stream(System.getProperty("java.class.path").split(File.pathSeparator))
                .filter(path -> !path.replace(File.separatorChar, '/').endsWith("/test-classes")
                        && !path.replace(File.separatorChar, '/').endsWith("/test-classes/"))
                .collect(Collectors.joining(File.pathSeparator));
    }

    @Override
    public void close() {
        kill();
    }
}

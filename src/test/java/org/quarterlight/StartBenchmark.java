package org.quarterlight;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.io.IOException;
import java.net.CookieManager;
import java.net.ServerSocket;
import java.net.URI;
import java.net.URLEncoder;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIfSystemProperty;
import org.junit.jupiter.api.io.TempDir;

/**
 * How long the packaged service takes from its start to its first page, with a recording of an earlier start and
 * without, beside its database alone; and how much memory it holds after a day's pages. Run it with
 * {@code mvn package -DskipTests && mvn test -Dtest=StartBenchmark -Dbenchmark=start}.
 */
@EnabledIfSystemProperty(named = "benchmark", matches = "start")
class StartBenchmark {
    private static final String JAVA = ProcessHandle.current().info().command().orElse("java");
    private static final Duration PATIENCE = Duration.ofMinutes(10);
    private static final Pattern TOKEN = Pattern.compile("name=\"_csrf\"[^>]*value=\"([^\"]+)\"");
    private static final int ROUNDS = 5;
    private static final int PAGES = 2_000;
    private static final Map<String, List<String>> VISITS = Map.of(
            "ines.falk@ashmere.example",
            List.of(
                    "/",
                    "/vehicles",
                    "/vehicles?damaged=true",
                    "/damages?needs=decision",
                    "/jobs?state=open",
                    "/rule-sheets",
                    "/depots",
                    "/search?q=QV2"),
            "dora.pell@tarn-pell.example",
            List.of("/", "/stock", "/jobs?mine&state=closed", "/jobs/run"),
            "rafe.lind@tarn-pell.example",
            List.of("/", "/days/today", "/vans", "/partners", "/jobs?state=approved"));

    @TempDir
    private Path folder;

    @Test
    void startsAndHolds() throws Exception {
        var jar = jar();
        run(folder, JAVA, "-Djarmode=tools", "-jar", jar.toString(), "extract", "--destination", "extracted");
        var home = folder.resolve("extracted");
        var program = "quarterlight.jar";
        Files.move(home.resolve(jar.getFileName()), home.resolve(program));
        run(home, JAVA, "-XX:AOTCacheOutput=quarterlight.aot", "-Dspring.context.exit=onRefresh", "-jar", program);

        var loading = started(home, program, "-XX:AOTCache=quarterlight.aot");
        System.out.printf("first page of an empty folder, the demo still to be loaded: %.1f s%n", loading.seconds());
        await().atMost(PATIENCE)
                .until(() -> Files.readString(folder.resolve("service.log")).contains("Quarterlight is at"));
        loading.stop();

        var database = new ArrayList<Double>();
        var recorded = new ArrayList<Double>();
        var bare = new ArrayList<Double>();
        for (int round = 0; round < ROUNDS; round++) {
            var began = System.nanoTime();
            EmbeddedDatabase.start(folder.resolve("data")).close();
            database.add((System.nanoTime() - began) / 1e9);
            var quick = started(home, program, "-XX:AOTCache=quarterlight.aot");
            recorded.add(quick.seconds());
            quick.stop();
            var slow = started(home, program, "-Xshare:auto");
            bare.add(slow.seconds());
            slow.stop();
        }
        System.out.printf(
                "to the first page on an existing folder, median of %d: %.2f s recorded, %.2f s not recorded;"
                        + " database alone, started and ended: %.2f s; ratio %.1f%n",
                ROUNDS, median(recorded), median(bare), median(database), median(recorded) / median(database));

        var service = started(home, program, "-XX:AOTCache=quarterlight.aot");
        System.out.printf("resident after the first page: %d MiB%n", service.residentMiB());
        var took = service.visit();
        System.out.printf(
                "resident after %d pages: %d MiB; %.1f ms a page, one at a time%n",
                PAGES, service.residentMiB(), took.toNanos() / 1e6 / PAGES);
        service.stop();
        assertThat(recorded).isNotEmpty();
    }

    private record Service(Process process, String address, double seconds) {
        void stop() throws InterruptedException {
            process.destroy();
            process.waitFor();
        }

        long residentMiB() throws IOException {
            return Files.readAllLines(Path.of("/proc/" + process.pid() + "/status")).stream()
                    .filter(line -> line.startsWith("VmRSS"))
                    .mapToLong(line -> Long.parseLong(line.replaceAll("\\D", "")) / 1024)
                    .findFirst()
                    .orElseThrow();
        }

        Duration visit() throws Exception {
            var browsers = new ArrayList<Map.Entry<HttpClient, String>>();
            for (var visit : VISITS.entrySet()) {
                var browser = signedIn(visit.getKey());
                visit.getValue().forEach(path -> browsers.add(Map.entry(browser, path)));
            }
            var began = System.nanoTime();
            for (int page = 0; page < PAGES; page++) {
                var next = browsers.get(page % browsers.size());
                var answer = next.getKey()
                        .send(
                                HttpRequest.newBuilder(URI.create(address + next.getValue()))
                                        .build(),
                                HttpResponse.BodyHandlers.ofString());
                assertThat(answer.statusCode()).as(next.getValue()).isEqualTo(200);
            }
            return Duration.ofNanos(System.nanoTime() - began);
        }

        private HttpClient signedIn(String email) throws Exception {
            var browser = HttpClient.newBuilder()
                    .cookieHandler(new CookieManager())
                    .followRedirects(HttpClient.Redirect.NORMAL)
                    .build();
            var form = browser.send(
                    HttpRequest.newBuilder(URI.create(address + "/sign-in")).build(),
                    HttpResponse.BodyHandlers.ofString());
            var token = TOKEN.matcher(form.body());
            assertThat(token.find()).as("a token in the sign-in form").isTrue();
            var answer = browser.send(
                    HttpRequest.newBuilder(URI.create(address + "/sign-in"))
                            .header("Content-Type", "application/x-www-form-urlencoded")
                            .POST(HttpRequest.BodyPublishers.ofString("email=" + encoded(email)
                                    + "&password=quarterlight-demo&_csrf=" + encoded(token.group(1))))
                            .build(),
                    HttpResponse.BodyHandlers.ofString());
            assertThat(answer.uri().getPath()).isNotEqualTo("/sign-in");
            return browser;
        }

        private static String encoded(String text) {
            return URLEncoder.encode(text, StandardCharsets.UTF_8);
        }
    }

    private Service started(Path home, String program, String option) throws Exception {
        int port;
        try (var free = new ServerSocket(0)) {
            port = free.getLocalPort();
        }
        var builder = new ProcessBuilder(
                        JAVA, option, "-Xmx256m", "-XX:+UseSerialGC", "-Dserver.port=" + port, "-jar", program)
                .directory(home.toFile())
                .redirectErrorStream(true)
                .redirectOutput(folder.resolve("service.log").toFile());
        builder.environment().put("QUARTERLIGHT_DATA", folder.resolve("data").toString());
        var began = System.nanoTime();
        var process = builder.start();
        var address = "http://localhost:" + port;
        var client = HttpClient.newHttpClient();
        while (true) {
            try {
                var answer = client.send(
                        HttpRequest.newBuilder(URI.create(address + "/sign-in"))
                                .timeout(PATIENCE)
                                .build(),
                        HttpResponse.BodyHandlers.ofString());
                if (answer.statusCode() == 200) {
                    return new Service(process, address, (System.nanoTime() - began) / 1e9);
                }
            } catch (IOException e) {
                // not there yet
            }
            if (!process.isAlive() || System.nanoTime() - began > PATIENCE.toNanos()) {
                throw new IllegalStateException(Files.readString(folder.resolve("service.log")));
            }
            Thread.sleep(20);
        }
    }

    private void run(Path where, String... command) throws Exception {
        var builder = new ProcessBuilder(command)
                .directory(where.toFile())
                .redirectErrorStream(true)
                .redirectOutput(folder.resolve("run.log").toFile());
        builder.environment()
                .put("QUARTERLIGHT_DATA", folder.resolve("training").toString());
        builder.environment().put("QUARTERLIGHT_DEMO", "false");
        assertThat(builder.start().waitFor()).as(() -> Arrays.toString(command)).isZero();
    }

    private static Path jar() throws IOException {
        try (var files = Files.list(Path.of("target"))) {
            return files.filter(file -> file.getFileName().toString().matches("quarterlight-.*\\.jar"))
                    .findFirst()
                    .orElseThrow(() -> new IllegalStateException("Package the service first: mvn package -DskipTests"))
                    .toAbsolutePath();
        }
    }

    private static double median(List<Double> values) {
        return values.stream().sorted().toList().get(values.size() / 2);
    }
}

package org.quarterlight;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.util.UUID;
import java.util.concurrent.Callable;
import java.util.concurrent.CyclicBarrier;
import java.util.concurrent.Executors;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.quarterlight.tenancy.Role;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.test.web.server.LocalServerPort;

/** A request that is sent twice, for whatever reason, does its work once. */
@QuarterlightTest
class IdempotencyTests {
    @Autowired
    private TestOrganisations organisations;

    @LocalServerPort
    private int port;

    private final HttpClient client = HttpClient.newHttpClient();

    private static String depot(String name) {
        return """
            {"name": "%s", "latitude": 51.4, "longitude": -0.1, "zone": "Europe/London", "country": "GB"}\
            """.formatted(name);
    }

    @Test
    void theSameKeyAndBodyGetTheSameAnswerAndMakeOneDepot() throws Exception {
        var fleet = organisations.fleet();
        var key = key();
        var first = post(fleet, "/depots", key, depot("One"));
        var second = post(fleet, "/depots", key, depot("One"));
        assertThat(first.statusCode()).isEqualTo(201);
        assertThat(second.statusCode()).isEqualTo(201);
        assertThat(second.body()).isEqualTo(first.body());
        for (var header : new String[] {"Location", "ETag", "Content-Type"}) {
            assertThat(second.headers().firstValue(header))
                    .isPresent()
                    .isEqualTo(first.headers().firstValue(header));
        }
        assertThat(depots(fleet)).isOne();
    }

    @Test
    void theSameKeyWithAnotherBodyOrAddressIsRefused() throws Exception {
        var fleet = organisations.fleet();
        var key = key();
        post(fleet, "/depots", key, depot("One"));
        assertThat(post(fleet, "/depots", key, depot("Two")).statusCode()).isEqualTo(422);
        assertThat(post(fleet, "/vehicles", key, depot("One")).statusCode()).isEqualTo(422);
        assertThat(depots(fleet)).isOne();
    }

    @Test
    void aListOfTheSameLengthIsAnotherRequestAndTheSameListIsNot() throws Exception {
        var fleet = organisations.fleet();
        var key = key();
        post(fleet, "/depots", null, depot("One"));
        var first = list(fleet, key, "registration,category,depot\nQV 1001,M3,One\n");
        var same = list(fleet, key, "registration,category,depot\nQV 1001,M3,One\n");
        var other = list(fleet, key, "registration,category,depot\nQV 1002,M3,One\n");
        assertThat(first.statusCode()).as(first.body()).isBetween(200, 299);
        assertThat(same.body()).isEqualTo(first.body());
        assertThat(other.statusCode()).isEqualTo(422);
        assertThat(other.body()).contains("idempotency-key");
        assertThat(get("/vehicles", fleet.bearer(Role.MANAGER)).body())
                .contains("QV 1001")
                .doesNotContain("QV 1002");
    }

    @Test
    void withoutAKeyEachRequestIsItsOwn() throws Exception {
        var fleet = organisations.fleet();
        assertThat(post(fleet, "/depots", null, depot("One")).statusCode()).isEqualTo(201);
        assertThat(post(fleet, "/depots", null, depot("Two")).statusCode()).isEqualTo(201);
        assertThat(depots(fleet)).isEqualTo(2);
    }

    @Test
    void manyAtTheSameMomentMakeOneDepot() throws Exception {
        var fleet = organisations.fleet();
        var key = key();
        var together = 4;
        var barrier = new CyclicBarrier(together);
        Callable<Integer> request = () -> {
            barrier.await();
            return post(fleet, "/depots", key, depot("One")).statusCode();
        };
        try (var threads = Executors.newFixedThreadPool(together)) {
            var statuses = threads
                    .invokeAll(IntStream.range(0, together)
                            .mapToObj(each -> request)
                            .toList())
                    .stream()
                    .map(each -> {
                        try {
                            return each.get();
                        } catch (Exception e) {
                            throw new IllegalStateException(e);
                        }
                    })
                    .toList();
            assertThat(statuses).contains(201).isSubsetOf(201, 409);
        }
        assertThat(depots(fleet)).isOne();
        assertThat(post(fleet, "/depots", key, depot("One")).statusCode()).isEqualTo(201);
        assertThat(depots(fleet)).isOne();
    }

    @Test
    void whatWasRefusedLeavesTheKeyFree() throws Exception {
        var fleet = organisations.fleet();
        var key = key();
        assertThat(post(fleet, "/depots", key, "{}").statusCode()).isEqualTo(422);
        assertThat(post(fleet, "/depots", key, "{").statusCode()).isEqualTo(400);
        assertThat(post(fleet, "/depots", key, depot("One")).statusCode()).isEqualTo(201);
        assertThat(post(fleet, "/depots", key(), depot("One")).statusCode()).isBetween(400, 499);
        assertThat(depots(fleet)).isOne();
    }

    @Test
    void aSecretIsAnsweredOnce() throws Exception {
        var fleet = organisations.fleet();
        var administrator = fleet.bearer(Role.ADMINISTRATOR);
        var key = key();
        var first = send("/tokens", administrator, key, "{\"name\": \"laptop\"}");
        var second = send("/tokens", administrator, key, "{\"name\": \"laptop\"}");
        assertThat(first.statusCode()).isEqualTo(201);
        assertThat(first.body()).contains("ql_");
        assertThat(second.statusCode()).isEqualTo(409);
        assertThat(second.body()).contains("/problems/already-done").doesNotContain("ql_");
        assertThat(get("/tokens", administrator).body().split("laptop", -1)).hasSize(2);
    }

    @Test
    void theSameKeyOfAnotherOrganisationIsAnother() throws Exception {
        var one = organisations.fleet();
        var other = organisations.fleet();
        var key = key();
        var first = post(one, "/depots", key, depot("One"));
        var second = post(other, "/depots", key, depot("One"));
        assertThat(second.statusCode()).isEqualTo(201);
        assertThat(second.body()).isNotEqualTo(first.body());
        assertThat(depots(one)).isOne();
        assertThat(depots(other)).isOne();
    }

    @Test
    void keysThatAreTooLongAreRefused() throws Exception {
        var fleet = organisations.fleet();
        assertThat(post(fleet, "/depots", "k".repeat(201), depot("One")).statusCode())
                .isEqualTo(400);
        assertThat(depots(fleet)).isZero();
    }

    private static String key() {
        return UUID.randomUUID().toString();
    }

    private long depots(TestOrganisation fleet) throws IOException, InterruptedException {
        var list = ApiDocument.JSON.readTree(
                get("/depots", fleet.bearer(Role.MANAGER)).body());
        return list.path("items").size();
    }

    private HttpResponse<String> post(
            TestOrganisation fleet, String path, @org.jspecify.annotations.Nullable String key, String body)
            throws IOException, InterruptedException {
        return send(path, fleet.bearer(Role.MANAGER), key, body);
    }

    private HttpResponse<String> send(
            String path, String bearer, @org.jspecify.annotations.Nullable String key, String body)
            throws IOException, InterruptedException {
        var request = HttpRequest.newBuilder(URI.create("http://localhost:" + port + "/api/v1" + path))
                .header("Authorization", bearer)
                .header("Content-Type", "application/json")
                .POST(HttpRequest.BodyPublishers.ofString(body));
        if (key != null) {
            request.header("Idempotency-Key", key);
        }
        return client.send(request.build(), HttpResponse.BodyHandlers.ofString());
    }

    private HttpResponse<String> list(TestOrganisation fleet, String key, String csv)
            throws IOException, InterruptedException {
        var request = HttpRequest.newBuilder(
                        URI.create("http://localhost:" + port + "/api/v1/vehicles/import?mode=good-rows"))
                .header("Authorization", fleet.bearer(Role.MANAGER))
                .header("Content-Type", "text/csv")
                .header("Idempotency-Key", key)
                .POST(HttpRequest.BodyPublishers.ofString(csv));
        return client.send(request.build(), HttpResponse.BodyHandlers.ofString());
    }

    private HttpResponse<String> get(String path, String bearer) throws IOException, InterruptedException {
        return client.send(
                HttpRequest.newBuilder(URI.create("http://localhost:" + port + "/api/v1" + path))
                        .header("Authorization", bearer)
                        .build(),
                HttpResponse.BodyHandlers.ofString());
    }
}

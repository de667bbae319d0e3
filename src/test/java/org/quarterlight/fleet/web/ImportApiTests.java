package org.quarterlight.fleet.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.UUID;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.quarterlight.QuarterlightTest;
import org.quarterlight.TestOrganisation;
import org.quarterlight.TestOrganisations;
import org.quarterlight.fleet.TestFleets;
import org.quarterlight.tenancy.Role;
import org.quarterlight.tenancy.Tenants;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.http.HttpHeaders;
import org.springframework.http.MediaType;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.mock.web.MockMultipartFile;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResult;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.support.TransactionTemplate;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

@QuarterlightTest
class ImportApiTests {
    private static final String LIST = """
        Our vehicles,,,
        ,,,
        Reg no,Class,Location,VIN,Windscreen fitted,Comments
        qv23 ktb,M3,Millbeck Yard,1M8GDM9AXKP042788,2024-05-10,"spare
        mirror"
        QV19 NDE,coach,sandgate north,,,
        QV20 TRD,N1,Nowhere,,,
        QV21 PLM,N1,Millbeck Yard,SHORT,,
        QV23-KTB,M3,Millbeck Yard,,,
        """;

    @Autowired
    private MockMvcTester mvc;

    @Autowired
    private TestOrganisations organisations;

    @Autowired
    private TestFleets fleets;

    @Autowired
    private JsonMapper json;

    @Autowired
    private JdbcClient jdbc;

    @Autowired
    private PlatformTransactionManager transactions;

    private TestOrganisation organisation;

    @BeforeEach
    void makeAFleet() {
        organisation = organisations.fleet();
        fleets.depot(organisation, "Millbeck Yard");
        fleets.depot(organisation, "Sandgate North");
    }

    @Test
    void previewsWhatWouldBeNewAndNamesEveryBadRowByNumberColumnAndReason() {
        var answer = body(send("preview", LIST));

        assertThat(answer.at("/import/state").asString()).isEqualTo("done");
        assertThat(answer.at("/import/added").asInt()).isEqualTo(2);
        assertThat(answer.at("/import/bad").asInt()).isEqualTo(3);
        assertThat(answer.at("/import/doubtful").asInt())
                .as("a coach without its mass")
                .isEqualTo(1);
        assertThat(answer.at("/import/reading/headingRow").asInt()).isEqualTo(3);
        var bad = answer.at("/badRows/items").valueStream().toList();
        assertThat(bad).extracting(row -> row.path("number").asInt()).containsExactly(6, 7, 8);
        assertThat(bad.get(0).at("/problems/0/column").asString()).isEqualTo("Location");
        assertThat(bad.get(0).at("/problems/0/reason").asString())
                .contains("“Nowhere”")
                .contains("Millbeck Yard, Sandgate North");
        assertThat(bad.get(1).at("/problems/0/column").asString()).isEqualTo("VIN");
        assertThat(bad.get(2).at("/problems/0/reason").asString()).contains("already");
        assertThat(registrations()).isEmpty();
    }

    @Test
    void takesTheGoodRowsAndGivesTheRejectedBackWithTheirReason() {
        var answer = body(send("good-rows", LIST));

        assertThat(registrations()).containsExactly("QV19 NDE", "QV23 KTB");
        var vehicle = vehicle("QV23 KTB");
        assertThat(vehicle.path("vin").asString()).isEqualTo("1M8GDM9AXKP042788");
        assertThat(vehicle.path("notes").asString()).isEqualTo("spare\nmirror");
        assertThat(vehicle.path("steeringSide").asString())
                .as("its depot is in Britain")
                .isEqualTo("right");
        assertThat(get("/vehicles/" + vehicle.path("id").asString() + "/windscreens")
                        .at("/items/0/fittedOn")
                        .asString())
                .isEqualTo("2024-05-10");
        var rejected = text(
                "/imports/" + answer.at("/import/id").asString() + "/rejected.csv", organisation.bearer(Role.MANAGER));
        assertThat(rejected.lines().toList()).hasSize(4);
        assertThat(rejected).contains("Reason").contains("Nowhere").contains("Row 6: Location says");

        var mended = rejected.replace("Nowhere", "Millbeck Yard").replace("SHORT", "");
        var again = body(send("good-rows", mended));

        assertThat(again.at("/import/added").asInt()).isEqualTo(2);
        assertThat(registrations()).containsExactly("QV19 NDE", "QV20 TRD", "QV21 PLM", "QV23 KTB");
    }

    @Test
    void changesNothingWhenTheSameListIsSentTwice() {
        send("good-rows", LIST);
        var before = get("/vehicles");

        var again = body(send("good-rows", LIST));

        assertThat(again.at("/import/added").asInt()).isZero();
        assertThat(again.at("/import/changed").asInt()).isZero();
        assertThat(again.at("/import/same").asInt()).isEqualTo(2);
        assertThat(get("/vehicles")).isEqualTo(before);
    }

    @Test
    void changesWhatTheListSaysAndKeepsWhatItLeavesBlank() {
        send("good-rows", LIST);
        var changes = "Registration;Depot;Notes\nQV23 KTB;Sandgate North;\nQV19NDE;Sandgate North;new seats\n";

        var preview = body(send("preview", changes));
        var rows = get("/imports/" + preview.at("/import/id").asString() + "/rows?kind=changed");
        assertThat(rows.at("/items/0/problems/0/reason").asString()).isEqualTo("from Millbeck Yard to Sandgate North");
        send("good-rows", changes);

        assertThat(vehicle("QV23 KTB").path("depotName").asString()).isEqualTo("Sandgate North");
        assertThat(vehicle("QV23 KTB").path("notes").asString()).isEqualTo("spare\nmirror");
        assertThat(vehicle("QV23 KTB").path("category").asString()).isEqualTo("M3");
        assertThat(vehicle("QV19 NDE").path("notes").asString()).isEqualTo("new seats");
        assertThat(registrations()).hasSize(2);
    }

    @Test
    void takesAllRowsOrNone() {
        var refused = send("all-or-nothing", LIST);

        assertThat(refused).hasStatus(422);
        assertThat(body(refused).path("detail").asString()).isEqualTo("3 rows are bad, so nothing was taken.");
        assertThat(body(refused).at("/errors/0/field").asString()).isEqualTo("row 6, Location");
        assertThat(registrations()).isEmpty();
        var id = body(refused).path("import").asString();
        assertThat(text("/imports/" + id + "/rejected.csv", organisation.bearer(Role.MANAGER)))
                .contains("Nowhere");

        var good = "Registration,Category,Depot\nQV 1,M1,Millbeck Yard\nQV 2,M1,Millbeck Yard\n";
        assertThat(send("all-or-nothing", good)).hasStatusOk();
        assertThat(registrations()).containsExactly("QV 1", "QV 2");
    }

    @Test
    void usesWhatTheSenderSaysWhereTheListSaysNothing() {
        var plates = "Kennzeichen\nQV 1\nQV 2\n";
        var depot = get("/depots").at("/items/1/id").asString();

        assertThat(body(send("preview", plates)).at("/import/bad").asInt()).isEqualTo(2);
        var answer = body(send("good-rows&depot=" + depot + "&category=N1&steeringSide=left", plates));

        assertThat(answer.at("/import/added").asInt()).isEqualTo(2);
        assertThat(vehicle("QV 1").path("category").asString()).isEqualTo("N1");
        assertThat(vehicle("QV 1").path("steeringSide").asString()).isEqualTo("left");
        assertThat(vehicle("QV 1").path("depotName").asString()).isEqualTo("Sandgate North");
    }

    @Test
    void givesBackWhatItTook() {
        send("good-rows", LIST.replace("Nowhere", "Millbeck Yard") + "QV 9,M1,Millbeck Yard,,,=1+1\n");

        var exported = text("/vehicles/export?separator=semicolon", organisation.bearer(Role.MANAGER));
        assertThat(exported).contains("'=1+1");
        assertThat(body(send("preview", exported)).at("/import/same").asInt()).isEqualTo(4);
        var one = body(send("preview", text("/vehicles/export?search=QV23KTB", organisation.bearer(Role.MANAGER))));
        assertThat(one.at("/import/total").asInt())
                .as("the filters of the list")
                .isEqualTo(1);

        organisation = organisations.fleet();
        fleets.depot(organisation, "Millbeck Yard");
        fleets.depot(organisation, "Sandgate North");
        assertThat(body(send("all-or-nothing", exported)).at("/import/added").asInt())
                .isEqualTo(4);
        assertThat(vehicle("QV 9").path("notes").asString()).isEqualTo("=1+1");
        assertThat(text("/vehicles/export?separator=semicolon", organisation.bearer(Role.MANAGER)))
                .isEqualTo(exported);
    }

    @Test
    void refusesWhatIsNoListWithASentence() {
        assertThat(send("good-rows", "")).hasStatus(422);
        assertThat(send("good-rows", "nothing,like,it\n1,2,3\n")).hasStatus(422);
        assertThat(body(send("good-rows", "Depot\nMillbeck Yard\n"))
                        .path("detail")
                        .asString())
                .contains("none for the registration");
        assertThat(send("good-rows", new byte[] {0x50, 0x4b, 3, 4, 0, 0, 0, 0, 1, 2, 3, 0, 0, 7}))
                .hasStatus(415);
        assertThat(send("sideways", LIST)).hasStatus(422);
        assertThat(mvc.post()
                        .uri("/api/v1/vehicles/import?mode=preview")
                        .header(HttpHeaders.AUTHORIZATION, organisation.bearer(Role.MANAGER))
                        .contentType(MediaType.APPLICATION_JSON)
                        .content("{}"))
                .hasStatus(415);
    }

    @Test
    void refusesAMillionRowsWithTheLimit() {
        var list = new StringBuilder("Registration\n");
        IntStream.range(0, 1_000_000).forEach(i -> list.append("QV").append(i).append('\n'));

        var made = body(send("good-rows", list.toString())).at("/import/id").asString();

        var ended = ended(made);
        assertThat(ended.path("state").asString()).isEqualTo("refused");
        assertThat(ended.path("problem").asString()).contains("200 000 rows");
        assertThat(registrations()).isEmpty();
    }

    @Test
    void takesTheListsThatFleetsReallyHave() throws IOException {
        try (var files = Files.list(Path.of("src/test/resources/lists"))) {
            for (var file : files.sorted().toList()) {
                var answer = send("preview", Files.readAllBytes(file));
                assertThat(answer.getResponse().getStatus())
                        .as(file.getFileName() + " is read, or refused in words")
                        .isIn(200, 413, 415, 422);
                assertThat(answer.getResponse().getContentAsByteArray()).isNotEmpty();
            }
        }
        organisation = organisations.fleet();
        for (var depot : List.of("Lindquell", "Mühlwarte")) {
            fleets.depot(organisation, depot);
        }
        var answer = body(send("all-or-nothing", Files.readAllBytes(Path.of("demo-data/vehicles-lindquell.csv"))));
        assertThat(answer.at("/import/added").asInt()).isEqualTo(100);
        assertThat(vehicle("XQ-NK 551").path("makeModel").asString()).isEqualTo("Nordwerk & Söhne Läufer 30");
        assertThat(vehicle("XQ-NK 551").path("firstRegistered").asString()).isEqualTo("2024-05-10");
    }

    @Test
    void goesThroughALargeListByItselfAndTellsHowFarItIs() {
        var rows = 30_000;
        var list = IntStream.range(0, rows)
                .mapToObj(i -> "QV " + i + ",M1,Millbeck Yard," + "a long remark that fills the row ".repeat(3))
                .collect(
                        Collectors.joining("\n", "Registration,Category,Depot,Notes\n", "\nBAD !,M1,Millbeck Yard,\n"));

        var accepted = send("good-rows", list);

        assertThat(accepted).hasStatus(202);
        var id = body(accepted).at("/import/id").asString();
        var ended = ended(id);
        assertThat(ended.path("state").asString()).isEqualTo("done");
        assertThat(ended.path("added").asInt()).isEqualTo(rows);
        assertThat(ended.path("bad").asInt()).isEqualTo(1);
        assertThat(ended.path("done").asInt()).isEqualTo(rows + 1);
        var events = mvc.get()
                .uri("/api/v1/imports/" + id + "/events")
                .header(HttpHeaders.AUTHORIZATION, organisation.bearer(Role.MANAGER))
                .exchange(Duration.ofSeconds(10));
        assertThat(text(events))
                .contains("event:progress")
                .contains("event:end")
                .contains("/imports/" + id);

        var allAgain = ended(body(send("all-or-nothing", list.replace("BAD !", "QV BAD")))
                .at("/import/id")
                .asString());
        assertThat(allAgain.path("state").asString()).isEqualTo("done");
        assertThat(allAgain.path("same").asInt()).isEqualTo(rows);
        assertThat(allAgain.path("added").asInt()).isEqualTo(1);
    }

    @Test
    void callsAnImportInterruptedOnceItsServiceIsGone() {
        var id = body(send("good-rows", LIST)).at("/import/id").asString();
        Tenants.runAs(
                organisation.tenant(),
                () -> new TransactionTemplate(transactions)
                        .executeWithoutResult(status -> jdbc.sql("""
                            update vehicle_import set state = 'RUNNING', ended_at = null,
                                touched_at = touched_at - interval '1 minute'
                            where tenant_id = :organisation and id = :id\
                            """)
                                .param("organisation", organisation.id())
                                .param("id", UUID.fromString(id))
                                .update()));

        var found = get("/imports/" + id).path("import");

        assertThat(found.path("state").asString()).isEqualTo("interrupted");
        assertThat(found.path("problem").asString()).contains("send the list again");
        assertThat(registrations()).as("what was told as done is there").hasSize(2);
        assertThat(body(send("good-rows", LIST)).at("/import/same").asInt()).isEqualTo(2);
    }

    @Test
    void takesTheListThatWasLookedOver() {
        var id = body(send("preview", LIST)).at("/import/id").asString();
        var taken = mvc.post()
                .uri("/api/v1/imports/" + id + "/take?mode=good-rows")
                .header(HttpHeaders.AUTHORIZATION, organisation.bearer(Role.MANAGER))
                .exchange();
        assertThat(taken).hasStatusOk();
        assertThat(body(taken).at("/import/added").asInt()).isEqualTo(2);
        assertThat(registrations()).hasSize(2);
        var twice = mvc.post()
                .uri("/api/v1/imports/" + body(taken).at("/import/id").asString() + "/take?mode=good-rows")
                .header(HttpHeaders.AUTHORIZATION, organisation.bearer(Role.MANAGER))
                .exchange();
        assertThat(twice).as("what was changed since would be as it was then").hasStatus(422);
    }

    @Test
    void isForTheManagerOfTheFleetAlone() {
        var id = body(send("preview", LIST)).at("/import/id").asString();

        for (var role : List.of(Role.DISPATCHER, Role.TECHNICIAN, Role.DRIVER, Role.ADMINISTRATOR)) {
            assertThat(mvc.post()
                            .uri("/api/v1/vehicles/import?mode=preview")
                            .header(HttpHeaders.AUTHORIZATION, organisation.bearer(role))
                            .contentType("text/csv")
                            .content(LIST))
                    .hasStatus(403);
            assertThat(mvc.get()
                            .uri("/api/v1/imports/" + id)
                            .header(HttpHeaders.AUTHORIZATION, organisation.bearer(role)))
                    .hasStatus(403);
        }
        var other = organisations.fleet();
        for (var path : List.of("", "/rows", "/events", "/rejected.csv")) {
            assertThat(mvc.get()
                            .uri("/api/v1/imports/" + id + path)
                            .header(HttpHeaders.AUTHORIZATION, other.bearer(Role.MANAGER)))
                    .as(path)
                    .hasStatus(404);
        }
    }

    @Test
    void takesAFileFromAFormToo() {
        var answer = mvc.post()
                .uri("/api/v1/vehicles/import?mode=good-rows")
                .header(HttpHeaders.AUTHORIZATION, organisation.bearer(Role.MANAGER))
                .multipart()
                .file(new MockMultipartFile("file", "fleet.csv", "text/csv", LIST.getBytes(StandardCharsets.UTF_8)))
                .exchange();

        assertThat(body(answer).at("/import/fileName").asString()).isEqualTo("fleet.csv");
        assertThat(body(answer).at("/import/added").asInt()).isEqualTo(2);
    }

    private JsonNode ended(String id) {
        return await().atMost(Duration.ofSeconds(60))
                .pollInterval(Duration.ofMillis(200))
                .until(
                        () -> get("/imports/" + id).path("import"),
                        made -> !List.of("waiting", "running")
                                .contains(made.path("state").asString()));
    }

    private MvcTestResult send(String mode, String list) {
        return send(mode, list.getBytes(StandardCharsets.UTF_8));
    }

    private MvcTestResult send(String mode, byte[] list) {
        return mvc.post()
                .uri("/api/v1/vehicles/import?mode=" + mode)
                .header(HttpHeaders.AUTHORIZATION, organisation.bearer(Role.MANAGER))
                .contentType("text/csv")
                .content(list)
                .exchange();
    }

    private List<String> registrations() {
        return get("/vehicles")
                .path("items")
                .valueStream()
                .map(each -> each.path("registration").asString())
                .toList();
    }

    private JsonNode vehicle(String registration) {
        return get("/vehicles?search=" + registration).at("/items/0");
    }

    private JsonNode get(String path) {
        return body(mvc.get()
                .uri("/api/v1" + path)
                .header(HttpHeaders.AUTHORIZATION, organisation.bearer(Role.MANAGER))
                .exchange());
    }

    private String text(String path, String bearer) {
        return text(mvc.get()
                .uri("/api/v1" + path)
                .header(HttpHeaders.AUTHORIZATION, bearer)
                .exchange());
    }

    private static String text(MvcTestResult result) {
        return new String(result.getResponse().getContentAsByteArray(), StandardCharsets.UTF_8);
    }

    private JsonNode body(MvcTestResult result) {
        return json.readTree(result.getResponse().getContentAsByteArray());
    }
}

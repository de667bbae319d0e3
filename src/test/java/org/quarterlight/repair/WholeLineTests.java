package org.quarterlight.repair;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.awt.image.BufferedImage;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.List;
import java.util.UUID;
import javax.imageio.ImageIO;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.text.PDFTextStripper;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.quarterlight.QuarterlightTest;
import org.quarterlight.TestOrganisation;
import org.quarterlight.TestOrganisations;
import org.quarterlight.tenancy.Role;
import org.quarterlight.tenancy.Tenants;
import org.quarterlight.web.ActingAuthentication;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.http.HttpMethod;
import org.springframework.http.MediaType;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.mock.web.MockMultipartFile;
import org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResult;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.support.TransactionTemplate;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** The whole job in one straight line, over the API alone: reported, judged, approved, shared, placed, done, proved. */
@QuarterlightTest
class WholeLineTests {
    @Autowired
    private MockMvcTester mvc;

    @Autowired
    private TestOrganisations organisations;

    @Autowired
    private TestJobs made;

    @Autowired
    private JsonMapper json;

    @Autowired
    private JdbcClient jdbc;

    @Autowired
    private PlatformTransactionManager transactions;

    private TestOrganisation fleet;
    private TestOrganisation otherFleet;
    private TestOrganisation repairer;
    private String vehicle;

    @BeforeEach
    void aFleetWithAVehicleAndARepairer() {
        fleet = organisations.fleet();
        otherFleet = organisations.fleet();
        repairer = organisations.repairer();
        organisations.join(fleet, repairer);
        var depot = created(fleet, Role.MANAGER, "/depots", """
            {"name": "Millbeck Yard", "latitude": 52.7, "longitude": -1.4, "zone": "Europe/London", "country": "GB"}\
            """);
        vehicle = id(created(fleet, Role.MANAGER, "/vehicles", """
            {"depot": "%s", "registration": "QV23 KTB", "category": "M3", "steeringSide": "right"}\
            """.formatted(id(depot))));
    }

    @Test
    void aChipIsReportedJudgedApprovedSharedPlacedRepairedAndProved() throws IOException {
        var damage = report();
        assertThat(damage.path("verdict").path("outcome").asString()).isEqualTo("repair");
        assertThat(damage.path("verdict").path("findings")).isNotEmpty();

        var job = id(approvedJob(damage));
        assertThat(call(HttpMethod.GET, repairer, Role.DISPATCHER, "/jobs/" + job, null))
                .hasStatus(404);
        ok(
                HttpMethod.POST,
                fleet,
                Role.MANAGER,
                "/jobs/" + job + "/share",
                "{\"partner\": \"%s\"}".formatted(repairer.id()));
        assertThat(call(HttpMethod.GET, repairer, Role.DISPATCHER, "/jobs/" + job, null))
                .hasStatusOk();
        assertThat(call(HttpMethod.GET, otherFleet, Role.MANAGER, "/jobs/" + job, null))
                .hasStatus(404);
        // Of the fleet's own rows the repairer sees none.
        assertThat(call(HttpMethod.GET, repairer, Role.TECHNICIAN, "/damages/" + id(damage), null))
                .hasStatus(404);

        place(job);
        assertThat(state(job)).isEqualTo("planned");

        var started = Instant.now().minus(Duration.ofHours(1));
        perform(job, "/start", taken(repairer, job, started));
        var cured = worked(repairer, job, started, Duration.ofMinutes(9));
        photo(job, "after");
        perform(job, "/inspect", passing(repairer, job));
        var blocked = call(HttpMethod.POST, repairer, Role.TECHNICIAN, "/jobs/" + job + "/close", """
            {"result": "good", "notes": "Filled."}\
            """);
        assertThat(blocked).hasStatus(409).bodyText().contains("cured for 9 min", "lot is missing");

        // What the closing found is work still to be done, so the work goes on.
        perform(job, "/inspect", "{\"passed\": false, \"reason\": \"cured too short\"}");
        assertThat(state(job)).isEqualTo("under-way");
        perform(job, "/phases", cure(cured, Duration.ofMinutes(1)));
        perform(job, "/phases", phase("look-over", cured.plus(Duration.ofMinutes(1)), Duration.ofMinutes(1)));
        perform(job, "/inspect", passing(repairer, job));
        perform(job, "/close", """
            {"result": "good", "notes": "Filled.", "resinLot": "%s"}\
            """.formatted(lot()));
        assertThat(state(job)).isEqualTo("closed");
        assertThat(call(HttpMethod.GET, fleet, Role.MANAGER, "/jobs/" + job + "/certificate.pdf", null))
                .hasStatusOk()
                .hasContentType(MediaType.APPLICATION_PDF);
        // Kept before such characters were refused; no document can hold them.
        Tenants.runAs(
                repairer.tenant(),
                () -> new TransactionTemplate(transactions)
                        .executeWithoutResult(
                                status -> jdbc.sql("update phase set note = 'a' || chr(1) || 'b' where job_id = :job")
                                        .param("job", java.util.UUID.fromString(job))
                                        .update()));
        assertThat(call(HttpMethod.GET, fleet, Role.MANAGER, "/jobs/" + job + "/certificate.pdf", null))
                .hasStatusOk();
    }

    @Test
    void aPlannedJobThatIsHandedBackLeavesItsDayAndIsTheFleetsOwnAgain() {
        var job = id(approvedJob(report()));
        ok(
                HttpMethod.POST,
                fleet,
                Role.MANAGER,
                "/jobs/" + job + "/share",
                "{\"partner\": \"%s\"}".formatted(repairer.id()));
        var day = place(job);

        ok(HttpMethod.POST, repairer, Role.DISPATCHER, "/jobs/" + job + "/hand-back", "{\"reason\": \"no resin\"}");

        await().untilAsserted(() -> assertThat(read(ok(HttpMethod.GET, fleet, Role.MANAGER, "/jobs/" + job, null))
                        .path("performer")
                        .asString())
                .isEqualTo(fleet.id().toString()));
        assertThat(state(job)).isEqualTo("approved");
        assertThat(read(ok(HttpMethod.GET, repairer, Role.DISPATCHER, day, null))
                        .path("stops"))
                .isEmpty();
        assertThat(call(HttpMethod.GET, repairer, Role.DISPATCHER, "/jobs/" + job, null))
                .hasStatus(404);
    }

    @Test
    void aRepairThatFailsIsAskedForAgainUnderWarranty() throws IOException {
        var damage = report();
        var job = id(approvedJob(damage));
        var lot = id(created(fleet, Role.DISPATCHER, "/resin-lots", lotBody()));
        var started = Instant.now().minus(Duration.ofHours(1));
        performAs(fleet, job, "/start", taken(fleet, job, started));
        worked(fleet, job, started, Duration.ofMinutes(10));
        photoAs(fleet, job, "after");
        performAs(fleet, job, "/inspect", passing(fleet, job));
        var body = """
            {"work": "repair", "damages": ["%s"], "approve": true, "warrantyFor": "%s"}\
            """.formatted(id(damage), job);
        assertThat(call(HttpMethod.POST, fleet, Role.MANAGER, "/jobs", body))
                .hasStatus(422)
                .bodyText()
                .contains("warrantyFor");
        performAs(fleet, job, "/close", """
            {"result": "good", "notes": "Clear.", "resinLot": "%s"}\
            """.formatted(lot));
        await().untilAsserted(() ->
                assertThat(damageNow(damage).path("closedAs").asString()).isEqualTo("repaired"));

        var warranty = created(fleet, Role.MANAGER, "/jobs", body);

        assertThat(warranty.path("warranty").asBoolean()).isTrue();
        assertThat(warranty.path("follows").asString()).isEqualTo(job);
        assertThat(damageNow(damage).path("state").asString()).isEqualTo("in-hand");
        assertThat(damageNow(damage).path("job").asString()).isEqualTo(id(warranty));
        assertThat(call(HttpMethod.POST, fleet, Role.MANAGER, "/jobs", body)).hasStatus(422);
    }

    /** The bound of 10 mm is ours. */
    @Test
    void aDamageReportedAnewWhereARepairIsLeadsToItsWarranty() throws IOException {
        var damage = report();
        var job = id(approvedJob(damage));
        var lot = id(created(fleet, Role.DISPATCHER, "/resin-lots", lotBody().replace("TR-1", "TR-2")));
        var started = Instant.now().minus(Duration.ofHours(1));
        performAs(fleet, job, "/start", taken(fleet, job, started));
        worked(fleet, job, started, Duration.ofMinutes(10));
        photoAs(fleet, job, "after");
        performAs(fleet, job, "/inspect", passing(fleet, job));
        performAs(fleet, job, "/close", """
            {"result": "good", "notes": "Clear.", "resinLot": "%s"}\
            """.formatted(lot));
        await().untilAsserted(() ->
                assertThat(damageNow(damage).path("closedAs").asString()).isEqualTo("repaired"));

        var x = damage.at("/observation/xMm").asDouble();
        var reach = damage.at("/observation/diameterMm").asDouble() / 2 + 5;
        var far = reportedAt(damage, x + reach + 10.1);
        var near = reportedAt(damage, x + reach + 9.9);
        assertThat(far.path("samePlace").isNull()).isTrue();
        assertThat(near.at("/samePlace/damage").asString()).isEqualTo(id(damage));
        assertThat(near.at("/samePlace/job").asString()).isEqualTo(job);

        var page = mvc.get()
                .uri("/damages/" + id(near))
                .with(SecurityMockMvcRequestPostProcessors.authentication(
                        new ActingAuthentication(fleet.person(Role.MANAGER))))
                .exchange();
        assertThat(page).hasStatusOk().bodyText().contains("/jobs/" + job + "/warranty", "It is another damage");
        var body = """
            {"work": "repair", "damages": ["%s"], "approve": true, "warrantyFor": "%s"}\
            """;
        assertThat(call(HttpMethod.POST, fleet, Role.MANAGER, "/jobs", body.formatted(id(far), job)))
                .hasStatus(422);
        var other = reportedAt(damage, x + reach + 9.8);
        ok(HttpMethod.POST, fleet, Role.MANAGER, "/damages/" + id(other) + "/another", "{}");
        assertThat(damageNow(other).path("samePlace").isNull()).isTrue();
        assertThat(call(HttpMethod.POST, fleet, Role.MANAGER, "/jobs", body.formatted(id(other), job)))
                .hasStatus(422);

        var warranty = created(fleet, Role.MANAGER, "/jobs", body.formatted(id(near), job));
        assertThat(warranty.path("warranty").asBoolean()).isTrue();
        assertThat(warranty.path("follows").asString()).isEqualTo(job);
        assertThat(damageNow(near).path("job").asString()).isEqualTo(id(warranty));
        assertThat(damageNow(damage).path("closedAs").asString())
                .as("the new report takes its place")
                .isEqualTo("repaired");
        assertThat(call(HttpMethod.POST, fleet, Role.MANAGER, "/damages/" + id(near) + "/another", "{}"))
                .as("the job was asked for because of it")
                .hasStatus(409);
    }

    private JsonNode reportedAt(JsonNode beside, double xMm) {
        return created(fleet, Role.MANAGER, "/damages", """
            {"vehicleId": "%s", "kind": "bullseye", "observation": {"xMm": %s, "yMm": %s, "diameterMm": 10, "pitMm": 3,
             "layers": "outer", "condition": "clean-dry", "source": "gauge"}}\
            """.formatted(
                        beside.path("vehicle").asString(),
                        java.math.BigDecimal.valueOf(xMm).toPlainString(),
                        beside.at("/observation/yMm").asString()));
    }

    @Test
    void whatIsMeasuredAtTheVehicleIsSeenByTheFleetAndJudged() {
        var damage = report();
        var job = id(approvedJob(damage));
        ok(
                HttpMethod.POST,
                fleet,
                Role.MANAGER,
                "/jobs/" + job + "/share",
                "{\"partner\": \"%s\"}".formatted(repairer.id()));
        var measured = """
            {"damage": "%s", "diameterMm": 61.5, "pitMm": 4, "layers": "outer"}\
            """.formatted(id(damage));
        assertThat(call(HttpMethod.POST, repairer, Role.TECHNICIAN, "/jobs/" + job + "/measurements", measured))
                .as("before the work")
                .hasStatus(409);
        place(job);
        perform(job, "/start", "{}");
        assertThat(call(
                        HttpMethod.POST,
                        repairer,
                        Role.TECHNICIAN,
                        "/jobs/" + job + "/measurements",
                        measured.replace("\"pitMm\": 4", "\"pitMm\": 90")))
                .hasStatus(422)
                .bodyText()
                .contains("pitMm");
        assertThat(call(HttpMethod.POST, fleet, Role.TECHNICIAN, "/jobs/" + job + "/measurements", measured))
                .as("the fleet does not perform it")
                .hasStatus(403);

        perform(job, "/measurements", measured);

        await().atMost(Duration.ofSeconds(20)).untilAsserted(() -> {
            var seen = read(ok(HttpMethod.GET, fleet, Role.MANAGER, "/damages/" + id(damage), null));
            assertThat(seen.at("/observation/diameterMm").asDouble()).isEqualTo(61.5);
            assertThat(seen.at("/observation/source").asString()).isEqualTo("gauge");
            assertThat(seen.at("/verdict/outcome").asString()).isNotEqualTo("repair");
        });
        perform(job, "/measurements", measured.replace("61.5", "3999"));
        await().atMost(Duration.ofSeconds(20))
                .untilAsserted(() -> assertThat(
                                call(HttpMethod.GET, fleet, Role.ADMINISTRATOR, "/history?subject=" + job, null))
                        .as("what does not fit the glass is told, not tried for ever")
                        .bodyText()
                        .contains("could not add a measurement of"));
        assertThat(damageNow(damage).at("/observation/diameterMm").asDouble()).isEqualTo(61.5);
        var view = read(ok(HttpMethod.GET, repairer, Role.TECHNICIAN, "/jobs/" + job, null));
        assertThat(view.at("/notes/0/text").asString()).contains("Damage 1 measured: 61.5 mm across, pit 4 mm");
        assertThat(view.at("/brief/damages/0/diameterMm").asDouble())
                .as("the brief stays")
                .isNotEqualTo(61.5);
    }

    @Test
    void aVerbWithAStaleVersionIsToldSo() {
        var job = approvedJob(report());
        var stale = mvc.post()
                .uri("/api/v1/jobs/" + id(job) + "/withdraw")
                .header("Authorization", fleet.bearer(Role.MANAGER))
                .header("If-Match", "\"%d\"".formatted(job.path("version").asInt() + 7))
                .contentType(MediaType.APPLICATION_JSON)
                .content("{\"reason\": \"sold\"}")
                .exchange();
        assertThat(stale).hasStatus(412);
        assertThat(state(id(job))).isEqualTo("approved");
    }

    @Test
    void aFullyCuredRepairClosesItsDamageAndShowsItsRecord() throws IOException {
        var damage = report();
        var job = id(approvedJob(damage));
        ok(
                HttpMethod.POST,
                fleet,
                Role.MANAGER,
                "/jobs/" + job + "/share",
                "{\"partner\": \"%s\"}".formatted(repairer.id()));
        var lot = lot();
        var started = Instant.now().minus(Duration.ofHours(1));
        perform(job, "/start", taken(repairer, job, started));
        assertThat(call(HttpMethod.GET, repairer, Role.TECHNICIAN, "/jobs/" + job + "/certificate.pdf", null))
                .hasStatus(409);
        worked(repairer, job, started, Duration.ofMinutes(10));
        photo(job, "after");
        perform(job, "/inspect", "{\"passed\": false, \"reason\": \"a bubble\"}");
        perform(job, "/inspect", passing(repairer, job));
        perform(job, "/close", """
            {"result": "good", "notes": "Clear, level with the glass.", "resinLot": "%s"}\
            """.formatted(lot));

        await().untilAsserted(() -> assertThat(
                        read(ok(HttpMethod.GET, fleet, Role.MANAGER, "/damages/" + id(damage), null))
                                .path("closedAs")
                                .asString())
                .isEqualTo("repaired"));
        var pdf = call(HttpMethod.GET, fleet, Role.MANAGER, "/jobs/" + job + "/certificate.pdf", null);
        assertThat(pdf).hasStatusOk();
        try (var document = Loader.loadPDF(pdf.getResponse().getContentAsByteArray())) {
            assertThat(new PDFTextStripper().getText(document))
                    .contains("QV23 KTB", "TR-1", "Clear, level with the glass.", "Cure");
        }
        assertThat(call(HttpMethod.POST, repairer, Role.TECHNICIAN, "/jobs/" + job + "/notes", "{\"text\": \"late\"}"))
                .hasStatus(409);
    }

    @Test
    void whatIsAbandonedAsksForNewGlassAndNewGlassEndsTheDamages() {
        var damage = report();
        var job = id(approvedJob(damage));
        performAs(fleet, job, "/start", "{}");
        performAs(fleet, job, "/abandon", "{\"reason\": \"the crack ran\"}");

        var next = await().until(
                        () -> read(ok(HttpMethod.GET, fleet, Role.MANAGER, "/jobs?state=requested", null))
                                .path("items"),
                        items -> items.size() == 1)
                .get(0)
                .path("id")
                .asString();
        // Why stands in the history of verdicts and is what the fleet's lists show, whatever the sheets say of such a
        // break.
        assertThat(damageNow(damage).at("/verdict/outcome").asString()).isEqualTo("replace");
        assertThat(damageNow(damage).at("/verdict/sentence").asString())
                .startsWith("It cannot be repaired: repair abandoned in job ")
                .endsWith(": the crack ran.");
        assertThat(damageNow(damage).at("/verdict/answers/repairable/result").asString())
                .isEqualTo("no");
        assertThat(damageNow(damage).at("/verdict/findings/0/rule").asString()).isEqualTo("repair-abandoned");
        assertThat(read(ok(HttpMethod.GET, fleet, Role.MANAGER, "/damages?outcome=replace", null))
                        .path("items"))
                .hasSize(1);
        assertThat(read(ok(HttpMethod.GET, fleet, Role.MANAGER, "/damages/" + id(damage) + "/verdicts", null))
                        .path("items")
                        .path(1)
                        .path("outcome")
                        .asString())
                .isEqualTo("repair");
        ok(HttpMethod.POST, fleet, Role.MANAGER, "/jobs/" + next + "/approve", "{}");
        performAs(fleet, next, "/start", "{}");
        photoAs(fleet, next, "before");
        photoAs(fleet, next, "after");
        performAs(fleet, next, "/inspect", "{\"passed\": true}");
        assertThat(call(
                        HttpMethod.POST,
                        fleet,
                        Role.TECHNICIAN,
                        "/jobs/" + next + "/close",
                        "{\"result\": \"replaced\", \"notes\": \"New glass.\"}"))
                .hasStatus(409)
                .bodyText()
                .contains("not calibrated");
        performAs(fleet, next, "/calibrate", """
            {"passed": false, "manner": "static", "tool": "target board", "words": "2 mm off"}\
            """);
        assertThat(call(
                        HttpMethod.POST,
                        fleet,
                        Role.TECHNICIAN,
                        "/jobs/" + next + "/close",
                        "{\"result\": \"replaced\", \"notes\": \"New glass.\"}"))
                .hasStatus(409)
                .bodyText()
                .contains("not calibrated");
        performAs(fleet, next, "/calibrate", """
            {"passed": true, "manner": "both", "tool": "target board"}\
            """);
        performAs(fleet, next, "/close", "{\"result\": \"replaced\", \"notes\": \"New glass.\"}");

        await().untilAsserted(() -> {
            assertThat(read(ok(HttpMethod.GET, fleet, Role.MANAGER, "/damages/" + id(damage), null))
                            .path("closedAs")
                            .asString())
                    .isEqualTo("replaced");
            assertThat(read(ok(HttpMethod.GET, fleet, Role.MANAGER, "/vehicles/" + vehicle + "/windscreens", null))
                            .path("items"))
                    .hasSize(2);
        });
    }

    @Test
    void theSameKeyReportsADamageOnce() {
        var body = reportBody();
        var first = mvc.post()
                .uri("/api/v1/damages")
                .header("Authorization", fleet.bearer(Role.DRIVER))
                .header("Idempotency-Key", "one tap")
                .contentType(MediaType.APPLICATION_JSON)
                .content(body)
                .exchange();
        var second = mvc.post()
                .uri("/api/v1/damages")
                .header("Authorization", fleet.bearer(Role.DRIVER))
                .header("Idempotency-Key", "one tap")
                .contentType(MediaType.APPLICATION_JSON)
                .content(body)
                .exchange();
        var other = mvc.post()
                .uri("/api/v1/damages")
                .header("Authorization", fleet.bearer(Role.DRIVER))
                .header("Idempotency-Key", "one tap")
                .contentType(MediaType.APPLICATION_JSON)
                .content(body.replace("17.5", "18.5"))
                .exchange();

        assertThat(first).hasStatus(201);
        assertThat(second).hasStatus(201);
        assertThat(read(second)).isEqualTo(read(first));
        assertThat(other).hasStatus(422);
        assertThat(read(ok(HttpMethod.GET, fleet, Role.MANAGER, "/damages", null))
                        .path("items"))
                .hasSize(1);
    }

    private String reportBody() {
        return """
            {"vehicleId": "%s", "kind": "star-break", "observation": {"xMm": 200, "yMm": 420, "diameterMm": 17.5,
             "pitMm": 4, "longestLegMm": 9, "layers": "outer", "condition": "clean-dry", "source": "gauge"}}\
            """.formatted(vehicle);
    }

    private JsonNode report() {
        return created(fleet, Role.DRIVER, "/damages", reportBody());
    }

    private JsonNode approvedJob(JsonNode damage) {
        return created(fleet, Role.MANAGER, "/jobs", """
            {"work": "repair", "damages": ["%s"], "approve": true, "occurredAt": "%s"}\
            """.formatted(
                        id(damage), Instant.now().minus(Duration.ofHours(3))));
    }

    private JsonNode damageNow(JsonNode damage) {
        return read(ok(HttpMethod.GET, fleet, Role.MANAGER, "/damages/" + id(damage), null));
    }

    private String lot() {
        return id(created(repairer, Role.DISPATCHER, "/resin-lots", lotBody()));
    }

    private static String lotBody() {
        return """
            {"number": "TR-1", "resin": "bridging resin", "expiresOn": "%s"}\
            """.formatted(LocalDate.now(ZoneOffset.UTC).plusYears(1));
    }

    /** Answers the path of the day that it stands on. */
    private String place(String job) {
        var van = id(created(repairer, Role.DISPATCHER, "/vans", """
            {"name": "Van 1", "latitude": 52.8, "longitude": -1.3, "zone": "Europe/London"}\
            """));
        var day = "/vans/" + van + "/days/" + LocalDate.now(ZoneOffset.UTC);
        var answer = mvc.put()
                .uri("/api/v1" + day)
                .header("Authorization", repairer.bearer(Role.DISPATCHER))
                .header("If-Match", "\"0\"")
                .contentType(MediaType.APPLICATION_JSON)
                .content("{\"stops\": [{\"job\": \"%s\"}]}".formatted(job))
                .exchange();
        assertThat(answer).hasStatusOk();
        var stop = read(answer).path("stops").get(0);
        assertThat(stop.path("job").asString()).isEqualTo(job);
        assertThat(stop.path("km").asDouble()).isPositive();
        return day;
    }

    private String state(String job) {
        return read(ok(HttpMethod.GET, fleet, Role.MANAGER, "/jobs/" + job, null))
                .path("state")
                .asString();
    }

    /** By a device that took the job along. */
    private String taken(TestOrganisation who, String job, Instant started) {
        TestOrganisations.as(who, Role.TECHNICIAN, () -> {
            made.taken(UUID.fromString(job), started);
            return job;
        });
        return "{\"occurredAt\": \"%s\", \"deviceClock\": \"%s\"}".formatted(started, Instant.now());
    }

    /** Conditions and every phase of the method that ships, cured so long. Answers when the cure ended. */
    private Instant worked(TestOrganisation who, String job, Instant started, Duration cured) {
        performAs(who, job, "/conditions", """
            {"airCelsius": 15, "glassCelsius": 22, "relativeHumidityPercent": 60, "light": "shade", "rain": false,
             "glassDry": true, "occurredAt": "%s", "deviceClock": "%s"}\
            """.formatted(started, Instant.now()));
        photoAs(who, job, "before&occurredAt=" + started + "&deviceClock=" + Instant.now());
        performAs(
                who,
                job,
                "/materials",
                "{\"lot\": \"%s\"}".formatted(id(created(who, Role.DISPATCHER, "/resin-lots", """
            {"number": "PF-1", "resin": "filler", "kind": "pit-filler", "expiresOn": "%s"}\
            """.formatted(
                                LocalDate.now(ZoneOffset.UTC).plusYears(1))))));
        var at = started;
        for (var kind : List.of("prepare", "clean", "mount", "inject", "pressure", "vacuum", "pit-fill")) {
            at = kind.equals("vacuum") ? at.plus(Duration.ofMinutes(1)) : at; // it rests before
            performAs(who, job, "/phases", phase(kind, at, Duration.ofMinutes(2)));
            at = at.plus(Duration.ofMinutes(2));
        }
        performAs(who, job, "/phases", cure(at, cured));
        at = at.plus(cured);
        performAs(who, job, "/phases", phase("finish", at, Duration.ofMinutes(2)));
        at = at.plus(Duration.ofMinutes(2));
        performAs(who, job, "/phases", phase("look-over", at, Duration.ofMinutes(2)));
        return at.plus(Duration.ofMinutes(2));
    }

    private static String cure(Instant from, Duration length) {
        return """
            {"kind": "cure", "startedAt": "%s", "endedAt": "%s", "goggles": true, "reason": "cured too short",
             "deviceClock": "%s"}\
            """.formatted(from, from.plus(length), Instant.now());
    }

    private static String phase(String kind, Instant from, Duration length) {
        return """
            {"kind": "%s", "startedAt": "%s", "endedAt": "%s", "deviceClock": "%s"}\
            """.formatted(kind, from, from.plus(length), Instant.now());
    }

    private void perform(String job, String verb, String body) {
        performAs(repairer, job, verb, body);
    }

    private void performAs(TestOrganisation who, String job, String verb, String body) {
        ok(HttpMethod.POST, who, Role.TECHNICIAN, "/jobs/" + job + verb, body);
    }

    /** The look over of a repair that came out well. */
    private String passing(TestOrganisation by, String job) {
        var brief = read(ok(HttpMethod.GET, by, Role.TECHNICIAN, "/jobs/" + job, null))
                .path("brief");
        return """
            {"passed": true, "found": [{"damage": "%s", "view": "none", "level": true, "clearOutside": true,
             "clearInside": true}]}\
            """.formatted(brief.at("/damages/0/id").asString());
    }

    private void photo(String job, String shows) {
        photoAs(repairer, job, shows);
    }

    private void photoAs(TestOrganisation who, String job, String shows) {
        var result = mvc.post()
                .uri("/api/v1/jobs/" + job + "/photos?shows=" + shows)
                .header("Authorization", who.bearer(Role.TECHNICIAN))
                .multipart()
                .file(new MockMultipartFile("photo", "p.png", "image/png", picture()))
                .exchange();
        assertThat(result).hasStatusOk();
    }

    private static byte[] picture() {
        try (var out = new ByteArrayOutputStream()) {
            var image = new BufferedImage(64, 48, BufferedImage.TYPE_INT_RGB);
            var colour = (int) (Math.random() * 0xffffff);
            for (int x = 0; x < 64; x++) {
                image.setRGB(x, x % 48, colour * (x + 1));
            }
            ImageIO.write(image, "png", out);
            return out.toByteArray();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private JsonNode created(TestOrganisation who, Role role, String path, String body) {
        var result = call(HttpMethod.POST, who, role, path, body);
        assertThat(result).as(() -> path + " " + text(result)).hasStatus(201);
        return read(result);
    }

    private MvcTestResult ok(HttpMethod method, TestOrganisation who, Role role, String path, @Nullable String body) {
        var result = call(method, who, role, path, body);
        assertThat(result).as(() -> path + " " + text(result)).hasStatusOk();
        return result;
    }

    private MvcTestResult call(HttpMethod method, TestOrganisation who, Role role, String path, @Nullable String body) {
        var request = mvc.method(method).uri("/api/v1" + path).header("Authorization", who.bearer(role));
        return body == null
                ? request.exchange()
                : request.contentType(MediaType.APPLICATION_JSON).content(body).exchange();
    }

    private JsonNode read(MvcTestResult result) {
        return json.readTree(text(result));
    }

    private static String text(MvcTestResult result) {
        return new String(result.getResponse().getContentAsByteArray(), java.nio.charset.StandardCharsets.UTF_8);
    }

    private static String id(JsonNode node) {
        return node.path("id").asString();
    }
}

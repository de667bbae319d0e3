package org.quarterlight.repair.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.quarterlight.TestCsrf.csrf;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.authentication;

import java.time.Duration;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.List;
import java.util.Objects;
import java.util.UUID;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.quarterlight.QuarterlightTest;
import org.quarterlight.TestOrganisation;
import org.quarterlight.TestOrganisations;
import org.quarterlight.tenancy.Role;
import org.quarterlight.web.ActingAuthentication;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.http.HttpMethod;
import org.springframework.http.MediaType;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResult;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** What a device takes along, and what it sends afterwards: to whom, when it was done, and once. */
@QuarterlightTest
class KeptWorkTests {
    @Autowired
    private MockMvcTester mvc;

    @Autowired
    private TestOrganisations organisations;

    @Autowired
    private JsonMapper json;

    private TestOrganisation fleet;
    private String job;

    @BeforeEach
    void aJobUnderWay() {
        fleet = organisations.fleet();
        var depot = id(api(HttpMethod.POST, Role.MANAGER, "/depots", """
            {"name": "Yard", "latitude": 52.7, "longitude": -1.4, "zone": "Europe/London", "country": "GB"}\
            """));
        var vehicle = id(api(HttpMethod.POST, Role.MANAGER, "/vehicles", """
            {"depot": "%s", "registration": "QV23 KTB", "category": "M3", "steeringSide": "right"}\
            """.formatted(depot)));
        var damage = id(api(HttpMethod.POST, Role.MANAGER, "/damages", """
            {"vehicleId": "%s", "kind": "star-break", "observation": {"xMm": 200, "yMm": 420, "diameterMm": 17.5,
             "pitMm": 4, "longestLegMm": 9, "layers": "outer", "condition": "clean-dry", "source": "gauge"}}\
            """.formatted(vehicle)));
        var before = Instant.now().minus(3, ChronoUnit.HOURS);
        job = id(api(HttpMethod.POST, Role.MANAGER, "/jobs", """
            {"work": "repair", "damages": ["%s"], "approve": true, "occurredAt": "%s"}\
            """.formatted(damage, before)));
        api(HttpMethod.POST, Role.TECHNICIAN, "/jobs/" + job + "/start", "{\"occurredAt\": \"" + before + "\"}");
    }

    @Test
    void theDayKitHoldsTheJobWithItsMethodSunAndDrawingAndIsSentOnce() {
        var answer = api(HttpMethod.GET, Role.TECHNICIAN, "/me/day-kit", null);
        var kit = read(answer);
        assertThat(kit.at("/jobs/0/job/id").asString()).isEqualTo(job);
        assertThat(kit.at("/jobs/0/method/limits/mostHumidityPercent").asInt()).isEqualTo(85);
        assertThat(kit.at("/jobs/0/drawing").asString()).startsWith("<svg");
        assertThat(kit.at("/jobs/0/sun")).hasSize(8);
        assertThat(kit.at("/jobs/0/daylight")).as("of three days").hasSize(3);
        assertThat(Duration.between(
                        Instant.parse(kit.at("/jobs/0/sunKnown/from").asString()),
                        Instant.parse(kit.at("/jobs/0/sunKnown/to").asString())))
                .isBetween(Duration.ofHours(71), Duration.ofHours(73));
        assertThat(kit.at("/lotKinds/0/phases/0").asString()).isEqualTo("inject");
        assertThat(kit.path("methods")).hasSize(1);

        var version = Objects.requireNonNull(answer.getResponse().getHeader("ETag"));
        assertThat(mvc.get()
                        .uri("/api/v1/me/day-kit")
                        .header("Authorization", fleet.bearer(Role.TECHNICIAN))
                        .header("If-None-Match", version))
                .hasStatus(304);
        post("/jobs/" + job + "/notes", Role.TECHNICIAN, List.of(), "text", "Wet");
        assertThat(api(HttpMethod.GET, Role.TECHNICIAN, "/me/day-kit", null)
                        .getResponse()
                        .getHeader("ETag"))
                .isNotEqualTo(version);
        assertThat(api(HttpMethod.GET, Role.MANAGER, "/me/day-kit", null)).hasStatus(403);
    }

    @Test
    void aFormThatWasKeptTellsWhenItWasDoneByAClockThatIsAnHourAhead() {
        var now = Instant.now();
        var done = now.plus(1, ChronoUnit.HOURS).minusSeconds(600);
        var key = UUID.randomUUID().toString();
        var phase = UUID.randomUUID().toString();
        for (var aheadMs : List.of("3600000", "3600400", "3599000")) {
            assertThat(post(
                            "/jobs/" + job + "/phases",
                            Role.TECHNICIAN,
                            List.of("Done-At", done.toString(), "Device-Ahead-Ms", aheadMs),
                            "kind",
                            "prepare",
                            "phase",
                            phase,
                            "idempotencyKey",
                            key))
                    .hasRedirectedUrl("/jobs/" + job + "/run");
        }
        assertThat(post(
                        "/jobs/" + job + "/phases/" + phase + "/end",
                        Role.TECHNICIAN,
                        List.of("Done-At", done.plusSeconds(60).toString(), "Device-Ahead-Ms", "3600000")))
                .hasRedirectedUrl("/jobs/" + job + "/run");
        var phases = record().path("phases");
        assertThat(phases).hasSize(1);
        assertThat(phases.at("/0/id").asString()).isEqualTo(phase);
        assertThat(phases.at("/0/deviceOffsetSeconds").asInt()).isBetween(3598, 3601);
        assertThat(Instant.parse(phases.at("/0/startedAt").asString()))
                .isCloseTo(now.minusSeconds(600), within(2, ChronoUnit.SECONDS));
        assertThat(Instant.parse(phases.at("/0/endedAt").asString()))
                .isCloseTo(now.minusSeconds(540), within(2, ChronoUnit.SECONDS));
    }

    @Test
    void aClockThatWasChangedBeforeSendingIsMarkedOnTheJob() {
        var done = Instant.now().plus(1, ChronoUnit.HOURS).minusSeconds(600);
        assertThat(post(
                        "/jobs/" + job + "/notes",
                        Role.TECHNICIAN,
                        List.of(
                                "Done-At",
                                done.toString(),
                                "Device-Ahead-Ms",
                                "3600000",
                                "Device-Clock-Changed-Ms",
                                "-3600000"),
                        "text",
                        "Wet"))
                .hasStatus(302);
        var told = record().at("/deviceTimes/0");
        assertThat(told.path("what").asString()).isEqualTo("notes");
        assertThat(told.path("offsetSeconds").asInt()).isEqualTo(3600);
        assertThat(told.path("clockChangedSeconds").asInt()).isEqualTo(-3600);
        assertThat(get("/jobs/" + job, Role.TECHNICIAN))
                .bodyText()
                .contains("its clock was 3600 s ahead", "its clock was changed by -3600 s");
        post("/jobs/" + job + "/notes", Role.TECHNICIAN, List.of(), "text", "Dry");
        assertThat(record().path("deviceTimes"))
                .as("what came at once is none of them")
                .hasSize(1);
    }

    @Test
    void aNoteBelongsToItsPhaseAndToTheJobWhereThatIsUnknown() {
        var phase = UUID.randomUUID().toString();
        post("/jobs/" + job + "/phases", Role.TECHNICIAN, List.of(), "kind", "prepare", "phase", phase);
        for (var during : List.of(phase, UUID.randomUUID().toString(), "")) {
            assertThat(post(
                            "/jobs/" + job + "/notes",
                            Role.TECHNICIAN,
                            List.of(),
                            "text",
                            "Shade put up",
                            "duringPhase",
                            during))
                    .hasStatus(302);
        }
        assertThat(record().path("notes"))
                .extracting(note ->
                        note.path("phase").isNull() ? null : note.path("phase").asString())
                .containsExactly(phase, null, null);
        assertThat(get("/jobs/" + job + "/run", Role.TECHNICIAN))
                .bodyText()
                .contains("name=\"duringPhase\" value=\"" + phase, "<span class=\"note of-phase\">Shade put up");
        assertThat(api(HttpMethod.POST, Role.TECHNICIAN, "/jobs/" + job + "/notes", """
            {"text": "By a program", "phase": "%s"}\
            """.formatted(phase)))
                .hasStatusOk();
        assertThat(record().at("/notes/3/phase").asString()).isEqualTo(phase);
    }

    /** Keys are kept for a day; a phase that a device has named is known for ever. */
    @Test
    void aPhaseThatADeviceHasNamedIsThereOnceWhateverItsKeys() {
        var phase = UUID.randomUUID();
        for (int i = 0; i < 3; i++) {
            assertThat(api(HttpMethod.POST, Role.TECHNICIAN, "/jobs/" + job + "/phases", """
                {"kind": "prepare", "id": "%s"}\
                """.formatted(phase)))
                    .hasStatusOk();
        }
        assertThat(record().path("phases")).hasSize(1);
    }

    @Test
    void timesThatNoDeviceTellsAreRefused() {
        for (var headers : List.of(
                List.of("Done-At", "yesterday"),
                List.of("Done-At", "-100000-01-01T00:00:00Z"),
                List.of("Done-At", Instant.now().toString(), "Device-Ahead-Ms", "x"),
                List.of("Done-At", Instant.now().toString(), "Device-Ahead-Ms", "999999999999"),
                List.of("Done-At", Instant.now().toString(), "Device-Ahead-Ms", "-9223372036854775808"),
                List.of("Done-At", Instant.now().toString(), "Device-Clock-Changed-Ms", "9223372036854775807"),
                List.of("Done-At", Instant.now().plusSeconds(7200).toString()))) {
            assertThat(post("/jobs/" + job + "/notes", Role.TECHNICIAN, headers, "text", "Wet"))
                    .as("%s", headers)
                    .hasStatus(422);
        }
        assertThat(record().path("notes")).isEmpty();
    }

    @Test
    void whatWasKeptForSomebodyElseIsNotTaken() {
        var technician = fleet.person(Role.TECHNICIAN).person() + "." + fleet.id();
        var page = get("/jobs/" + job + "/run", Role.TECHNICIAN);
        assertThat(page).hasHeader("Kept-For", technician);
        assertThat(page).bodyText().contains("name=\"kept-for\" content=\"" + technician);
        assertThat(get("/jobs/" + job, Role.MANAGER)).hasHeader("Kept-For", "-");
        assertThat(post("/jobs/" + job + "/notes", Role.TECHNICIAN, List.of("Kept-For", technician), "text", "Mine"))
                .hasStatus(302);
        assertThat(post("/jobs/" + job + "/notes", Role.MANAGER, List.of("Kept-For", technician), "text", "Not mine"))
                .hasStatus(401);
        assertThat(mvc.post()
                        .uri("/jobs/" + job + "/notes")
                        .with(csrf())
                        .header("Kept-For", technician)
                        .param("text", "Nobody's"))
                .as("no page to sign in, which would look like an answer")
                .hasStatus(401);
        assertThat(record().path("notes")).hasSize(1);
        assertThat(read(api(HttpMethod.GET, Role.TECHNICIAN, "/me/device", null))
                        .path("keptFor")
                        .asString())
                .isEqualTo(technician);
    }

    @Test
    void theWorkerNamesTheFilesOfItsBuildAndThePolicyLetsItRun() {
        var worker = mvc.get().uri("/worker.js").exchange();
        assertThat(worker).hasStatusOk();
        assertThat(worker).bodyText().containsPattern("const BUILD = \"[0-9a-f]{16}\"");
        assertThat(worker).bodyText().containsPattern("/css/quarterlight-[0-9a-f]{32}\\.css");
        assertThat(worker).bodyText().contains("\"/js/kept/store.js\"", "/webjars/htmx.org/");
        assertThat(worker.getResponse().getContentType()).startsWith("text/javascript");
        assertThat(worker.getResponse().getHeader("Content-Security-Policy"))
                .contains("worker-src 'self'", "manifest-src 'self'", "script-src 'self';");
        for (var file :
                List.of("/app.webmanifest", "/img/app.svg", "/img/app-192.png", "/img/app-512.png", "/offline")) {
            assertThat(mvc.get().uri(file)).as(file).hasStatusOk();
        }
        assertThat(mvc.get().uri("/offline")).bodyText().contains("rel=\"manifest\" href=\"/app.webmanifest\"");
        assertThat(get("/jobs/today", Role.TECHNICIAN)).bodyText().contains("QV23 KTB", "data-part=\"conditions\"");
        assertThat(get("/report/kept", Role.DRIVER)).bodyText().contains("Nobody has judged this damage yet");
    }

    @Test
    void signingOutTellsTheBrowserToClearWhatItKeeps() {
        assertThat(mvc.post()
                        .uri("/sign-out")
                        .secure(true)
                        .with(csrf())
                        .with(authentication(new ActingAuthentication(fleet.person(Role.TECHNICIAN)))))
                .hasHeader("Clear-Site-Data", "\"cache\", \"storage\"");
    }

    private MvcTestResult get(String path, Role role) {
        return mvc.get()
                .uri(path)
                .with(authentication(new ActingAuthentication(fleet.person(role))))
                .exchange();
    }

    private MvcTestResult post(String path, Role role, List<String> headers, String... fields) {
        var request =
                mvc.post().uri(path).with(csrf()).with(authentication(new ActingAuthentication(fleet.person(role))));
        for (int i = 0; i < headers.size(); i += 2) {
            request = request.header(headers.get(i), headers.get(i + 1));
        }
        for (int i = 0; i < fields.length; i += 2) {
            request = request.formField(fields[i], fields[i + 1]);
        }
        return request.contentType(MediaType.APPLICATION_FORM_URLENCODED).exchange();
    }

    private MvcTestResult api(
            HttpMethod method, Role role, String path, @org.jspecify.annotations.Nullable String body) {
        var request = mvc.method(method).uri("/api/v1" + path).header("Authorization", fleet.bearer(role));
        return body == null
                ? request.exchange()
                : request.contentType(MediaType.APPLICATION_JSON).content(body).exchange();
    }

    private JsonNode record() {
        return read(api(HttpMethod.GET, Role.TECHNICIAN, "/jobs/" + job, null));
    }

    private JsonNode read(MvcTestResult answer) {
        return json.readTree(answer.getResponse().getContentAsByteArray());
    }

    private String id(MvcTestResult answer) {
        return read(answer).path("id").asString();
    }
}

package org.quarterlight.dispatch.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.quarterlight.TestCsrf.csrf;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.authentication;

import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import org.jspecify.annotations.Nullable;
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

/** A repairer's day, as a page and as JSON: what is done to one shows in the other. */
@QuarterlightTest
class DayBoardTests {
    private static final ZoneId ZONE = ZoneId.of("Europe/London");
    private static final String ALWAYS = """
        {"days": {"monday": {"opens": "00:01", "closes": "23:58"}, "tuesday": {"opens": "00:01", "closes": "23:58"},
        "wednesday": {"opens": "00:01", "closes": "23:58"}, "thursday": {"opens": "00:01", "closes": "23:58"},
        "friday": {"opens": "00:01", "closes": "23:58"}, "saturday": {"opens": "00:01", "closes": "23:58"},
        "sunday": {"opens": "00:01", "closes": "23:58"}}}\
        """;

    @Autowired
    private MockMvcTester mvc;

    @Autowired
    private TestOrganisations organisations;

    @Autowired
    private JsonMapper json;

    private TestOrganisation fleet;
    private TestOrganisation repairer;
    private String depot;
    private String van;
    private String otherVan;
    private final LocalDate tomorrow = LocalDate.now(ZONE).plusDays(1);

    @BeforeEach
    void aFleetAndARepairerWithTwoVans() {
        fleet = organisations.fleet();
        repairer = organisations.repairer();
        organisations.join(fleet, repairer);
        depot = id(created(fleet, Role.MANAGER, "/depots", """
            {"name": "Millbeck <Yard>", "latitude": 52.7, "longitude": -1.4, "zone": "Europe/London", "country": "GB",
             "openingHours": %s}\
            """.formatted(ALWAYS)));
        van = van("Van 1");
        otherVan = van("Van 2");
    }

    @Test
    void aJobIsPlacedMovedAndTakenOffByThePageAsByTheApi() {
        var one = job("QV23 KTB");
        var two = job("QV21 ALD");
        put(van, tomorrow, one);

        assertThat(post("/days/" + tomorrow + "/place", "job", two, "van", van + ":1"))
                .hasRedirectedUrl("/days/" + tomorrow + "?stop=" + two + "#stop");
        assertThat(stops(van, tomorrow)).containsExactly(two, one);
        assertThat(post("/days/" + tomorrow + "/place", "job", two, "van", van + ":2"))
                .hasStatus3xxRedirection();
        assertThat(stops(van, tomorrow)).containsExactly(one, two);
        assertThat(post("/days/" + tomorrow + "/place", "job", two, "van", otherVan, "late", ""))
                .hasRedirectedUrl("/days/" + tomorrow + "?late&stop=" + two + "#stop");
        assertThat(stops(van, tomorrow)).containsExactly(one);
        assertThat(stops(otherVan, tomorrow)).containsExactly(two);
        assertThat(post("/days/" + tomorrow + "/take-off", "job", two)).hasStatus3xxRedirection();
        assertThat(stops(otherVan, tomorrow)).isEmpty();
        assertThat(post("/days/" + tomorrow + "/place", "job", two, "van", "no van:x"))
                .hasStatus(422);
    }

    @Test
    void thePageDrawsEachVanAndTellsTheSameInAList() {
        var one = job("QV23 KTB");
        var waiting = job("QV24 CAR");
        put(van, tomorrow, one);

        var page = text(get("/days/" + tomorrow + "?stop=" + one));

        assertThat(page)
                .contains("role=\"img\" aria-label=\"Van 1, shift 08:00 to 17:00: ")
                .contains("aria-label=\"Van 2, shift 08:00 to 17:00: nothing on this day\"")
                .contains("data-stop=\"" + one + "\"", "data-stop-link=\"" + one + "\"", "class=\"stop-frame\"")
                .contains("QV23 KTB at Millbeck &lt;Yard&gt;, to come", "aria-keyshortcuts=\"Delete\"")
                .contains("<option value=\"" + waiting + "\"", "<option value=\"" + otherVan + ":99\"")
                .doesNotContain("<Yard>", "style=");
        assertThat(get("/days/" + tomorrow + "?stop=nothing")).hasStatus(404);
        assertThat(get("/days?date=" + tomorrow)).hasRedirectedUrl("/days/" + tomorrow);
        assertThat(get("/days/today?late=")).hasRedirectedUrl("/days/" + LocalDate.now(ZONE) + "?late");
    }

    @Test
    void techniciansSeeTheBoardAndChangeNothing() {
        var one = job("QV23 KTB");
        put(van, tomorrow, one);

        var page = text(get("/days/" + tomorrow + "?stop=" + one, Role.TECHNICIAN));

        assertThat(page).contains("QV23 KTB").doesNotContain("Take off this day", "Keep this order");
        assertThat(get("/shifts/new", Role.TECHNICIAN)).hasStatus(403);
        assertThat(post("/days/" + tomorrow + "/take-off", Role.TECHNICIAN, "job", one))
                .hasStatus(403);
        assertThat(stops(van, tomorrow)).containsExactly(one);
    }

    @Test
    void whatRunsLateIsListedAndWhatDoesNotIsNot() {
        var today = LocalDate.now(ZONE);
        var one = job("QV23 KTB");
        // From midnight on, so that the plan lies behind us whenever this runs, and the van is back by the end.
        shift(van, today, "00:00", "00:01");
        put(van, today, one);

        var late = read(get(repairer, "/days?late=true&date=" + today)).path("items");
        assertThat(late).hasSize(1);
        assertThat(late.get(0).at("/van/id").asString()).isEqualTo(van);
        assertThat(late.get(0).path("overtimeMinutes").asInt()).isPositive();
        assertThat(text(get("/days/" + today + "?late=")))
                .contains("Running late", "QV23 KTB", "the shift ends at 00:01");
        assertThat(text(get("/days/" + tomorrow + "?late="))).contains("Nothing stands on this day");
        put(otherVan, tomorrow, job("QV21 ALD"));
        assertThat(read(get(repairer, "/days?late=true&date=" + tomorrow)).path("items"))
                .isEmpty();
        assertThat(text(get("/days/" + tomorrow + "?late="))).contains("The plan of this day holds");
    }

    @Test
    void actualTimesShiftTheRestOfTheDay() {
        var today = LocalDate.now(ZONE);
        var one = job("QV23 KTB");
        var two = job("QV21 ALD");
        shift(van, today, "00:00", "23:59");
        put(van, today, one, two);
        var started = Instant.now();
        assertThat(call(
                        HttpMethod.POST,
                        repairer,
                        Role.TECHNICIAN,
                        "/jobs/" + one + "/start",
                        "{\"occurredAt\": \"%s\"}".formatted(started),
                        null))
                .hasStatusOk();

        var stops = read(get(repairer, "/vans/" + van + "/days/" + today)).path("stops");

        assertThat(stops.get(0).path("state").asString()).isEqualTo("under-way");
        assertThat(Instant.parse(stops.get(0).path("begins").asString()))
                .isBetween(started.minusSeconds(1), started.plusSeconds(1));
        // 45 minutes of work, then the second beside it.
        assertThat(stops.get(1).path("begins").asString())
                .isEqualTo(stops.get(0).path("ends").asString());
        assertThat(Instant.parse(stops.get(1).path("begins").asString()))
                .isBetween(started.plusSeconds(45 * 60 - 1), started.plusSeconds(45 * 60 + 1));
        var planned = Instant.parse(stops.get(1).path("plannedBegins").asString());
        assertThat(planned)
                .isBefore(today.atTime(LocalTime.of(3, 0)).atZone(ZONE).toInstant());
    }

    @Test
    void aShiftGivesADayItsHoursAndItsTechnicianTheJobs() {
        var one = job("QV23 KTB");
        put(van, tomorrow, one);
        var technician = Objects.requireNonNull(repairer.person(Role.TECHNICIAN).person())
                .toString();

        var made = call(
                HttpMethod.POST, repairer, Role.DISPATCHER, "/shifts", """
                    {"van": "%s", "day": "%s", "technician": "%s", "startsAt": "06:00", "endsAt": "06:10"}\
                    """.formatted(van, tomorrow, technician), null);
        assertThat(made).hasStatus(201).hasHeader("ETag", "\"0\"");
        var shift = id(read(made));

        var day = read(get(repairer, "/vans/" + van + "/days/" + tomorrow));
        assertThat(day.path("shift").asString()).isEqualTo(shift);
        assertThat(day.path("startsAt").asString()).startsWith("06:00");
        assertThat(day.path("technician").asString()).isEqualTo(technician);
        assertThat(day.path("flag").asString()).endsWith("the shift ends at 06:10");
        assertThat(read(get(repairer, "/jobs/" + one)).path("technician").asString())
                .isEqualTo(technician);
        assertThat(text(get("/days/" + tomorrow))).contains("after", "the shift ends at 06:10");
        assertThat(text(get("/vans"))).contains("06:00 to 06:10", "/shifts/" + shift);

        var path = "/shifts/" + shift;
        assertThat(call(HttpMethod.PATCH, repairer, Role.DISPATCHER, path, "{\"endsAt\": \"14:00\"}", null))
                .hasStatus(428);
        assertThat(call(HttpMethod.PATCH, repairer, Role.DISPATCHER, path, "{\"endsAt\": \"05:00\"}", "\"0\""))
                .hasStatus(422);
        assertThat(call(HttpMethod.PATCH, repairer, Role.DISPATCHER, path, "{\"endsAt\": \"14:00\"}", "\"0\""))
                .hasStatusOk()
                .hasHeader("ETag", "\"1\"");
        assertThat(call(HttpMethod.PATCH, repairer, Role.DISPATCHER, path, "{\"endsAt\": \"15:00\"}", "\"0\""))
                .hasStatus(412);
        assertThat(call(HttpMethod.DELETE, repairer, Role.DISPATCHER, path, null, "\"1\""))
                .hasStatus(204);
        assertThat(read(get(repairer, "/vans/" + van + "/days/" + tomorrow))
                        .path("startsAt")
                        .asString())
                .startsWith("08:00");
        assertThat(read(get(repairer, "/shifts")).path("items")).isEmpty();
    }

    @Test
    void aVanHasOneShiftADayAndATechnicianOneVan() {
        var technician = Objects.requireNonNull(repairer.person(Role.TECHNICIAN).person())
                .toString();
        assertThat(shift(van, tomorrow, "06:00", "14:00")).hasStatus(201);
        var twice = shift(van, tomorrow, "07:00", "15:00");
        assertThat(twice).hasStatus(422);
        assertThat(text(twice)).contains("has a shift on that day already");
        var body = "{\"van\": \"%s\", \"day\": \"%s\", \"technician\": \"%s\", \"startsAt\": \"06:00\", \"endsAt\":"
                + " \"14:00\"}";
        var nextDay = tomorrow.plusDays(1);
        assertThat(call(
                        HttpMethod.POST,
                        repairer,
                        Role.DISPATCHER,
                        "/shifts",
                        body.formatted(van, nextDay, technician),
                        null))
                .hasStatus(201);
        var elsewhere = call(
                HttpMethod.POST,
                repairer,
                Role.DISPATCHER,
                "/shifts",
                body.formatted(otherVan, nextDay, technician),
                null);
        assertThat(text(elsewhere)).contains("out with another van on that day");
    }

    @Test
    void theShiftFormKeepsWhatWasTypedAndSaysWhatIsWrong() {
        var page = text(get("/shifts/new?van=" + van + "&day=" + tomorrow));
        assertThat(page).contains("value=\"08:00", "value=\"17:00", "value=\"" + tomorrow + "\"");

        var wrong = post("/shifts", "van", van, "day", tomorrow.toString(), "startsAt", "09:00", "endsAt", "08:00");
        assertThat(wrong).hasStatus(422);
        assertThat(text(wrong)).contains("The shift ends after it starts", "value=\"09:00");
        assertThat(post("/shifts", "van", van, "day", tomorrow.toString(), "startsAt", "09:00", "endsAt", "12:00"))
                .hasRedirectedUrl("/vans");
        var made = read(get(repairer, "/shifts?van=" + van)).path("items").get(0);
        assertThat(text(get("/shifts/" + id(made)))).contains("value=\"12:00");
        assertThat(post("/shifts/" + id(made) + "/retire", "version", "0")).hasRedirectedUrl("/vans");
        assertThat(text(get("/vans"))).contains("Every van is out as usual.");
    }

    private String van(String name) {
        return id(created(repairer, Role.DISPATCHER, "/vans", """
            {"name": "%s", "latitude": 52.8, "longitude": -1.3, "zone": "Europe/London"}\
            """.formatted(name)));
    }

    private MvcTestResult shift(String van, LocalDate day, String starts, String ends) {
        return call(HttpMethod.POST, repairer, Role.DISPATCHER, "/shifts", """
            {"van": "%s", "day": "%s", "startsAt": "%s", "endsAt": "%s"}\
            """.formatted(van, day, starts, ends), null);
    }

    /** Reported, approved and given to the repairer. */
    private String job(String registration) {
        var vehicle = id(created(fleet, Role.MANAGER, "/vehicles", """
            {"depot": "%s", "registration": "%s", "category": "M3", "steeringSide": "right"}\
            """.formatted(depot, registration)));
        var damage = id(created(fleet, Role.DRIVER, "/damages", """
            {"vehicleId": "%s", "kind": "star-break", "observation": {"xMm": 200, "yMm": 420, "diameterMm": 17.5,
             "pitMm": 4, "longestLegMm": 9, "layers": "outer", "condition": "clean-dry", "source": "gauge"}}\
            """.formatted(vehicle)));
        var job = id(created(fleet, Role.MANAGER, "/jobs", """
            {"work": "repair", "damages": ["%s"], "approve": true}\
            """.formatted(damage)));
        assertThat(call(
                        HttpMethod.POST,
                        fleet,
                        Role.MANAGER,
                        "/jobs/" + job + "/share",
                        "{\"partner\": \"%s\"}".formatted(repairer.id()),
                        null))
                .hasStatusOk();
        return job;
    }

    private void put(String van, LocalDate day, String... jobs) {
        var path = "/vans/" + van + "/days/" + day;
        var version = read(get(repairer, path)).path("version").asInt();
        var stops = List.of(jobs).stream().map("{\"job\": \"%s\"}"::formatted).toList();
        assertThat(call(
                        HttpMethod.PUT,
                        repairer,
                        Role.DISPATCHER,
                        path,
                        "{\"stops\": [" + String.join(",", stops) + "]}",
                        "\"" + version + "\""))
                .hasStatusOk();
    }

    private List<String> stops(String van, LocalDate day) {
        var jobs = new ArrayList<String>();
        read(get(repairer, "/vans/" + van + "/days/" + day))
                .path("stops")
                .forEach(stop -> jobs.add(stop.path("job").asString()));
        return jobs;
    }

    private JsonNode created(TestOrganisation who, Role role, String path, String body) {
        var result = call(HttpMethod.POST, who, role, path, body, null);
        assertThat(result).as(() -> path + " " + text(result)).hasStatus(201);
        return read(result);
    }

    private MvcTestResult get(TestOrganisation who, String path) {
        var result = call(HttpMethod.GET, who, Role.DISPATCHER, path, null, null);
        assertThat(result).as(() -> path + " " + text(result)).hasStatusOk();
        return result;
    }

    private MvcTestResult call(
            HttpMethod method,
            TestOrganisation who,
            Role role,
            String path,
            @Nullable String body,
            @Nullable String version) {
        var request = mvc.method(method).uri("/api/v1" + path).header("Authorization", who.bearer(role));
        if (version != null) {
            request.header("If-Match", version);
        }
        return body == null
                ? request.exchange()
                : request.contentType(MediaType.APPLICATION_JSON).content(body).exchange();
    }

    private MvcTestResult get(String path) {
        return get(path, Role.DISPATCHER);
    }

    private MvcTestResult get(String path, Role role) {
        return mvc.get()
                .uri(path)
                .with(authentication(new ActingAuthentication(repairer.person(role))))
                .exchange();
    }

    private MvcTestResult post(String path, String... fields) {
        return post(path, Role.DISPATCHER, fields);
    }

    private MvcTestResult post(String path, Role role, String... fields) {
        var request = mvc.post()
                .uri(path)
                .with(authentication(new ActingAuthentication(repairer.person(role))))
                .with(csrf());
        for (int i = 0; i < fields.length; i += 2) {
            request.param(fields[i], fields[i + 1]);
        }
        return request.exchange();
    }

    private JsonNode read(MvcTestResult result) {
        return json.readTree(text(result));
    }

    private static String text(MvcTestResult result) {
        return new String(result.getResponse().getContentAsByteArray(), StandardCharsets.UTF_8);
    }

    private static String id(JsonNode node) {
        return node.path("id").asString();
    }
}

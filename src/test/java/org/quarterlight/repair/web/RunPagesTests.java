package org.quarterlight.repair.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.quarterlight.TestCsrf.csrf;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.authentication;

import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import org.jsoup.Jsoup;
import org.jsoup.nodes.Document;
import org.jsoup.nodes.Element;
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

/** The runner, stock and methods as pages: what is done there shows in the API, and what is refused says why. */
@QuarterlightTest
class RunPagesTests {
    @Autowired
    private MockMvcTester mvc;

    @Autowired
    private TestOrganisations organisations;

    @Autowired
    private JsonMapper json;

    private TestOrganisation fleet;
    private String job;
    private String run;

    @BeforeEach
    void aJobThatIsToBegin() {
        fleet = organisations.fleet();
        var depot = id(created(Role.MANAGER, "/depots", """
            {"name": "Yard", "latitude": 52.7, "longitude": -1.4, "zone": "Europe/London", "country": "GB"}\
            """));
        var vehicle = id(created(Role.MANAGER, "/vehicles", """
            {"depot": "%s", "registration": "QV23 KTB", "category": "M3", "steeringSide": "right"}\
            """.formatted(depot)));
        var damage = id(created(Role.MANAGER, "/damages", """
            {"vehicleId": "%s", "kind": "star-break", "observation": {"xMm": 200, "yMm": 420, "diameterMm": 17.5,
             "pitMm": 4, "longestLegMm": 9, "layers": "outer", "condition": "clean-dry", "source": "gauge"}}\
            """.formatted(vehicle)));
        job = id(created(
                Role.MANAGER, "/jobs", """
            {"work": "repair", "damages": ["%s"], "approve": true, "occurredAt": "%s"}\
            """.formatted(damage, Instant.now().minusSeconds(10_800))));
        run = "/jobs/" + job + "/run";
    }

    @Test
    void oneMethodIsWrittenChosenAtTheStartAndKeptByTheJob() {
        assertThat(text(get("/methods/new", Role.DISPATCHER))).contains("name=\"place-4\" value=\"5\"");
        assertThat(post(
                        "/methods",
                        Role.DISPATCHER,
                        "name",
                        "Thin",
                        "resin",
                        "thin",
                        "source",
                        "sheet 4",
                        "leastCycles",
                        "1",
                        "restSeconds",
                        "0",
                        "kind-0",
                        "inject",
                        "place-0",
                        "1",
                        "kind-1",
                        "cure",
                        "place-1",
                        "2",
                        "least-1",
                        "x"))
                .hasStatus(422)
                .bodyText()
                .contains("are numbers up to 1440");
        assertThat(post(
                        "/methods",
                        Role.DISPATCHER,
                        "name",
                        "Thin",
                        "resin",
                        "thin",
                        "source",
                        "sheet 4",
                        "leastCycles",
                        "0",
                        "restSeconds",
                        "0",
                        "kind-0",
                        "cure",
                        "place-0",
                        "2",
                        "least-0",
                        "5",
                        "kind-1",
                        "inject",
                        "place-1",
                        "1"))
                .hasRedirectedUrl("/methods");
        var method = read(api(HttpMethod.GET, Role.DISPATCHER, "/methods", null))
                .path("items")
                .get(1);
        assertThat(method.at("/method/steps/0/kind").asString()).isEqualTo("inject");
        assertThat(method.at("/method/steps/1/leastSeconds").asInt()).isEqualTo(300);

        assertThat(text(get("/jobs/" + job, Role.TECHNICIAN))).contains("Generic resin repair", "Thin");
        assertThat(post(
                        "/jobs/" + job + "/start",
                        Role.TECHNICIAN,
                        "method",
                        method.path("id").asString()))
                .hasRedirectedUrl(run);
        assertThat(text(get(run, Role.TECHNICIAN))).contains("1 of 2", "Start: Inject");
        assertThat(post("/methods/" + method.path("id").asString() + "/retire", Role.DISPATCHER, "version", "1"))
                .hasRedirectedUrl("/methods");
        var kept = read(api(HttpMethod.GET, Role.MANAGER, "/jobs/" + job, null)).path("method");
        assertThat(kept.at("/method/name").asString()).isEqualTo("Thin");
        assertThat(kept.path("version").asInt()).isEqualTo(1);
        assertThat(post("/methods/00000000-0000-7000-8000-000000000001/retire", Role.DISPATCHER, "version", "1"))
                .hasStatus(409);
    }

    @Test
    void theRunnerReadsConditionsAndKeepsResinAndLampBackUntilTheyAllowIt() {
        post("/jobs/" + job + "/start", Role.TECHNICIAN);
        assertThat(text(get(run, Role.TECHNICIAN)))
                .contains("1 of 11", "Start: Prepare", "A camera looks through this glass");

        assertThat(conditions("9", "95", "shade", "on")).hasRedirectedUrl(run + "#conditions");
        assertThat(text(get(run, Role.TECHNICIAN)))
                .contains("Wait", "It rains on the glass.", "dew point", "Warm it slowly");
        assertThat(post("/jobs/" + job + "/phases", Role.TECHNICIAN, "kind", "inject"))
                .hasStatus(409);
        assertThat(text(get("/jobs/" + job, Role.DISPATCHER)))
                .contains("The conditions speak against the work", "Answer for it");
        assertThat(post("/jobs/" + job + "/overrides", Role.DISPATCHER, "gap", "photo-after", "reason", "no camera"))
                .hasStatus(409);

        assertThat(conditions("22", "60", "covered", "")).hasRedirectedUrl(run + "#conditions");
        assertThat(post("/jobs/" + job + "/phases", Role.TECHNICIAN, "kind", "inject"))
                .hasRedirectedUrl(run);
        assertThat(text(get(run, Role.TECHNICIAN)))
                .contains("data-clock", "data-since=", "data-now=", "Stop the clock");
        var phase = read(api(HttpMethod.GET, Role.TECHNICIAN, "/jobs/" + job, null))
                .at("/phases/0/id")
                .asString();
        assertThat(post("/jobs/" + job + "/phases/" + phase + "/end", Role.TECHNICIAN, "reading", "3.2 bar"))
                .hasRedirectedUrl(run);
        assertThat(text(get(run, Role.TECHNICIAN))).contains("3.2 bar", "Start: Pressure");
        assertThat(post("/jobs/" + job + "/phases", Role.TECHNICIAN, "kind", "cure"))
                .hasStatus(422);
        assertThat(post(
                        "/jobs/" + job + "/phases",
                        Role.TECHNICIAN,
                        "kind",
                        "cure",
                        "goggles",
                        "true",
                        "side",
                        "inside"))
                .hasStatus(422);
        assertThat(post("/jobs/" + job + "/phases", Role.TECHNICIAN, "kind", "clean"))
                .hasStatus(422);
        assertThat(post("/jobs/" + job + "/phases", Role.TECHNICIAN, "kind", "clean", "reason", "dust came out"))
                .hasRedirectedUrl(run);
        assertThat(text(get(run, Role.TECHNICIAN))).contains("back: dust came out");
    }

    @Test
    void whatIsTooShortIsToldAtOnceAndPassedComesAfterWhatIsMissing() {
        begunEarlier();
        var earlier = Instant.now().minusSeconds(900);
        phase("inject", earlier, 60);
        phase("pressure", earlier.plusSeconds(60), 90);
        var page = Jsoup.parse(text(get(run, Role.TECHNICIAN)));
        assertThat(page.select(".shortfall").text()).contains("Pressure: 01:30 of 02:00: 00:30 are missing");
        assertThat(page.select("button.main").eachText()).contains("Again: Pressure");
        assertThat(page.select("button").eachText()).contains("Leave it short. Start: Vacuum");
        assertThat(page.select(".phases .short").text()).isEqualTo("too short: 00:30 missing");
        assertThat(page.select("[data-comes-first]").text())
                .isEqualTo("Passed comes after: Prepare, Clean, Mount, Vacuum, Pit fill, Cure, Finish, Look over.");
        assertThat(page.select("button[name=passed]").eachText()).containsExactly("Failed");

        phase("pressure", Instant.now().minusSeconds(130), 120);
        page = Jsoup.parse(text(get(run, Role.TECHNICIAN)));
        assertThat(page.select(".shortfall, .phases .short").text()).isEqualTo("too short: 00:30 missing");
        assertThat(page.select("[data-rest]").text()).startsWith("Let it rest: 00:");
        var vacuum = page.select("button[data-resting]");
        assertThat(vacuum.text()).isEqualTo("Start: Vacuum");
        assertThat(vacuum.attr("aria-describedby")).isEqualTo("rest");

        var started = id(phaseOf("vacuum"));
        page = Jsoup.parse(text(get(run, Role.TECHNICIAN)));
        assertThat(page.select("[name=clearOfAir]")).hasSize(2);
        assertThat(page.select("button").eachText()).doesNotContain("Passed");
        post("/jobs/" + job + "/phases/" + started + "/end", Role.TECHNICIAN, "clearOfAir", "false");
        assertThat(read(api(HttpMethod.GET, Role.TECHNICIAN, "/jobs/" + job, null))
                        .at("/phases/3/clearOfAir")
                        .asBoolean(true))
                .isFalse();
    }

    @Test
    void aReadingGrowsOldAndCountsNoLonger() {
        begunEarlier();
        assertThat(api(HttpMethod.POST, Role.TECHNICIAN, "/jobs/" + job + "/conditions", """
            {"airCelsius": 15, "glassCelsius": 22, "relativeHumidityPercent": 60, "light": "shade", "rain": false,
             "glassDry": true, "occurredAt": "%s"}\
            """.formatted(
                                Instant.now().minusSeconds(3660))))
                .hasStatusOk();
        var page = Jsoup.parse(text(get(run, Role.TECHNICIAN)));
        assertThat(page.select(".signal.aged .age").text()).isEqualTo("1 h 1 min ago");
        assertThat(page.select("[data-too-old]").hasAttr("hidden")).isFalse();
        conditions("22", "60", "covered", "");
        page = Jsoup.parse(text(get(run, Role.TECHNICIAN)));
        assertThat(page.select(".signal.go .age").text()).isEqualTo("just now");
        assertThat(page.select(".signal.aged")).isEmpty();
        assertThat(page.select("[data-too-old]").hasAttr("hidden")).isTrue();
    }

    @Test
    void onlyLotsThatTheWorkTakesAreOfferedAndThoseOfThePhaseFirst() {
        begunEarlier();
        var adhesive = lot("AD-1", "adhesive");
        lot("TR-9", "resin");
        lot("CL-1", "cleaner");
        phase("prepare", Instant.now().minusSeconds(120), 60);
        phaseOf("clean");
        var page = Jsoup.parse(text(get(run, Role.TECHNICIAN)));
        assertThat(page.select("#lot optgroup[label='For: Clean'] option").eachText())
                .containsExactly("Cleaner CL-1 · any");
        assertThat(page.select("#lot optgroup[label=Other] option").eachText()).containsExactly("Resin TR-9 · any");
        assertThat(post("/jobs/" + job + "/materials", Role.TECHNICIAN, "lot", adhesive))
                .hasStatus(422)
                .bodyText()
                .contains("Adhesive goes into no repair");
        assertThat(read(api(HttpMethod.GET, Role.TECHNICIAN, "/me/day-kit", null))
                        .path("lotKinds"))
                .anySatisfy(kind -> {
                    assertThat(kind.path("kind").asString()).isEqualTo("adhesive");
                    assertThat(kind.path("works").toString()).isEqualTo("[\"replacement\"]");
                });
    }

    private void begunEarlier() {
        assertThat(api(HttpMethod.POST, Role.TECHNICIAN, "/jobs/" + job + "/start", """
            {"occurredAt": "%s"}\
            """.formatted(
                                Instant.now().minusSeconds(7200))))
                .hasStatusOk();
    }

    private String lot(String number, String kind) {
        return id(created(Role.DISPATCHER, "/resin-lots", """
            {"number": "%s", "resin": "any", "kind": "%s", "expiresOn": "%s"}\
            """.formatted(
                        number, kind, LocalDate.now(ZoneOffset.UTC).plusYears(1))));
    }

    private void phase(String kind, Instant from, int seconds) {
        assertThat(api(HttpMethod.POST, Role.TECHNICIAN, "/jobs/" + job + "/phases", """
            {"kind": "%s", "startedAt": "%s", "endedAt": "%s", "reason": "again"}\
            """.formatted(
                                kind, from, from.plusSeconds(seconds))))
                .hasStatusOk();
    }

    /** One that runs now. */
    private JsonNode phaseOf(String kind) {
        var answer = api(HttpMethod.POST, Role.TECHNICIAN, "/jobs/" + job + "/phases", """
            {"kind": "%s", "reason": "again"}\
            """.formatted(kind));
        assertThat(answer).hasStatusOk();
        var phases = read(answer).path("phases");
        return phases.get(phases.size() - 1);
    }

    @Test
    void aLampIsReadAndARecalledLotShowsTheVehiclesThatHadIt() {
        assertThat(post("/stock/lamps", Role.DISPATCHER, "name", "Lamp 1", "wavelengthNm", "365"))
                .hasRedirectedUrl("/stock#lamps");
        var lamp = read(api(HttpMethod.GET, Role.DISPATCHER, "/lamps", null))
                .path("items")
                .get(0);
        assertThat(lamp.path("readingDue").asBoolean()).isTrue();
        assertThat(text(get("/stock", Role.TECHNICIAN))).contains("never read: hold a meter under it");
        for (var irradiance : new String[] {"10", "8"}) {
            post(
                    "/stock/lamps/" + id(lamp) + "/readings",
                    Role.TECHNICIAN,
                    "irradianceMwPerCm2",
                    irradiance,
                    "distanceMm",
                    "50");
        }
        // 2006/25/EC, Annex I, row b (from memory): 10⁴ J/m² at 80 W/m² are 125 s.
        assertThat(text(get("/stock", Role.TECHNICIAN)))
                .contains("80 % of its first reading", "no longer than 125 s", "2C-1.2");

        var lot = id(created(Role.DISPATCHER, "/resin-lots", """
            {"number": "TR-1", "resin": "thin", "expiresOn": "%s"}\
            """.formatted(
                        LocalDate.now(ZoneOffset.UTC).plusYears(1))));
        post("/jobs/" + job + "/start", Role.TECHNICIAN);
        assertThat(post("/jobs/" + job + "/materials", Role.TECHNICIAN, "lot", lot, "amount", "3 drops"))
                .hasRedirectedUrl(run);
        assertThat(post("/stock/lots/" + lot + "/recall", Role.DISPATCHER, "reason", "haze"))
                .hasRedirectedUrl("/stock/lots/" + lot);
        assertThat(text(get("/stock/lots/" + lot, Role.MANAGER)))
                .contains("QV23 KTB", "3 drops", "haze", "not to be used");
        assertThat(read(api(HttpMethod.GET, Role.MANAGER, "/jobs/" + job + "/closing", null))
                        .path("items"))
                .anySatisfy(gap -> assertThat(gap.path("sentence").asString())
                        .isEqualTo("Lot TR-1 was recalled after it went in: haze."));
        assertThat(text(get("/jobs/" + job, Role.DISPATCHER))).contains("value=\"lot-recalled\"");
        assertThat(post("/jobs/" + job + "/materials", Role.TECHNICIAN, "lot", lot))
                .hasStatus(422);
    }

    @Test
    void aRefusedFormComesBackOnItsPageWithWhatWasTypedAndTheMessageBesideTheField() {
        post("/jobs/" + job + "/start", Role.TECHNICIAN);
        for (var wrong : List.of("abc", "999", "", "a\0b")) {
            var refused = conditions(wrong, "60", "shade", "on");
            assertThat(refused).hasStatus(422);
            var page = Jsoup.parse(text(refused));
            assertThat(page.title()).contains("QV23 KTB");
            var glass = field(page, "glassCelsius");
            assertThat(glass.attr("value")).isEqualTo(wrong.replace("\0", ""));
            assertThat(glass.attr("aria-invalid")).isEqualTo("true");
            assertThat(told(glass)).isEqualTo(wrong.equals("999") ? "At most 90 °C" : "Give a number");
            assertThat(field(page, "airCelsius").attr("value")).isEqualTo("15");
            assertThat(page.select("input[name=light][checked]").attr("value")).isEqualTo("shade");
            assertThat(page.select("input[name=rain][checked]")).hasSize(1);
            assertThat(page.select("input[name=glassDry][checked]")).isEmpty();
            assertThat(page.select(".error-summary a[href='#glassCelsius']").text())
                    .isEqualTo("Glass, beside the damage: "
                            + told(glass).toLowerCase(java.util.Locale.ROOT).replace("°c", "°C"));
            assertThat(java.util.Objects.requireNonNull(glass.closest("details"))
                            .hasAttr("open"))
                    .isTrue();
        }
        // Nothing of it was taken.
        assertThat(read(api(HttpMethod.GET, Role.TECHNICIAN, "/jobs/" + job, null))
                        .path("readings"))
                .isEmpty();
    }

    @Test
    void eachSmallFormOfTheWorkKeepsWhatWasTypedWhereItIsRefused() {
        post("/jobs/" + job + "/start", Role.TECHNICIAN);
        var long501 = "x".repeat(501);
        var work = "/jobs/" + job;
        refused(work + "/notes", Role.TECHNICIAN, "text", "x".repeat(4001), "text");
        refused(work + "/abandon", Role.TECHNICIAN, "reason", long501, "reason");
        refused(work + "/inspect", Role.TECHNICIAN, "reason", long501, "reason", "passed", "false");
        refused(work + "/phases", Role.TECHNICIAN, "reason", long501, "reason", "kind", "finish");
        refused(work + "/withdraw", Role.MANAGER, "reason", long501, null);
        var damage = read(api(HttpMethod.GET, Role.TECHNICIAN, "/jobs/" + job, null))
                .at("/brief/damages/0/id")
                .asString();
        var measured =
                post(work + "/measurements", Role.TECHNICIAN, "damage", damage, "diameterMm", "14", "pitMm", "201");
        assertThat(measured).hasStatus(422);
        var page = Jsoup.parse(text(measured));
        assertThat(told(field(page, "pitMm"))).isEqualTo("At most 200 mm");
        assertThat(field(page, "diameterMm").attr("value")).isEqualTo("14");

        var lamp = post("/stock/lamps", Role.DISPATCHER, "name", "Lamp 7", "wavelengthNm", "200", "hours", "3");
        assertThat(lamp).hasStatus(422);
        page = Jsoup.parse(text(lamp));
        assertThat(told(field(page, "wavelengthNm"))).isEqualTo("At least 300 nm");
        assertThat(page.select("#lamp-name").attr("value")).isEqualTo("Lamp 7");
        assertThat(page.select("#lamp-hours").attr("value")).isEqualTo("3");

        post("/stock/lamps", Role.DISPATCHER, "name", "Lamp 1", "wavelengthNm", "365");
        post("/stock/lamps", Role.DISPATCHER, "name", "Lamp 2", "wavelengthNm", "365");
        var second = id(read(api(HttpMethod.GET, Role.DISPATCHER, "/lamps", null))
                .path("items")
                .get(1));
        page = Jsoup.parse(text(post(
                "/stock/lamps/" + second + "/readings",
                Role.DISPATCHER,
                "irradianceMwPerCm2",
                "12",
                "distanceMm",
                "")));
        assertThat(page.select("#irradiance-" + second).attr("value")).isEqualTo("12");
        assertThat(page.select("[name=irradianceMwPerCm2][value=12]")).hasSize(1);
        assertThat(page.select("#distance-" + second + "-error").text()).isEqualTo("Give its distance from the lamp");
    }

    @Test
    void aLampWithoutGogglesKeepsItsDistance() {
        post("/jobs/" + job + "/start", Role.TECHNICIAN);
        conditions("22", "60", "covered", "");
        api(HttpMethod.POST, Role.TECHNICIAN, "/jobs/" + job + "/phases", "{\"kind\": \"pit-fill\"}");
        var phase = read(api(HttpMethod.GET, Role.TECHNICIAN, "/jobs/" + job, null))
                .at("/phases/0/id")
                .asString();
        post("/jobs/" + job + "/phases/" + phase + "/end", Role.TECHNICIAN);
        var refused = post(
                "/jobs/" + job + "/phases", Role.TECHNICIAN, "kind", "cure", "lampDistanceMm", "40", "side", "inside");
        assertThat(refused).hasStatus(422);
        var page = Jsoup.parse(text(refused));
        assertThat(field(page, "lampDistanceMm").attr("value")).isEqualTo("40");
        assertThat(page.select("input[name=side][checked]").attr("value")).isEqualTo("inside");
        assertThat(told(field(page, "goggles"))).contains("everybody near it wears goggles");
    }

    @Test
    void aLotThatIsRecalledTwiceForAnotherReasonKeepsTheFirst() {
        var lot = id(created(Role.DISPATCHER, "/resin-lots", """
            {"number": "TR-1", "resin": "thin", "expiresOn": "2099-01-01"}\
            """));
        var recall = "/resin-lots/" + lot + "/recall";
        assertThat(api(HttpMethod.POST, Role.DISPATCHER, recall, "{\"reason\": \"haze\"}"))
                .hasStatusOk();
        assertThat(api(HttpMethod.POST, Role.DISPATCHER, recall, "{\"reason\": \"haze\"}"))
                .hasStatusOk();
        assertThat(api(HttpMethod.POST, Role.DISPATCHER, recall, "{\"reason\": \"cracks\"}"))
                .hasStatus(409)
                .bodyText()
                .contains("lot-recalled", "haze");
        var page = post("/stock/lots/" + lot + "/recall", Role.DISPATCHER, "reason", "cracks");
        assertThat(page).hasStatus(409).bodyText().contains("Lot TR-1", "recalled already: haze");
    }

    @Test
    void aLampIsNotReadOnADayThatHasNotCome() {
        var lamp = id(created(Role.DISPATCHER, "/lamps", """
            {"name": "Lamp 1", "wavelengthNm": 365}\
            """));
        assertThat(api(HttpMethod.POST, Role.DISPATCHER, "/lamps/" + lamp + "/readings", """
            {"irradianceMwPerCm2": 10, "distanceMm": 50, "readOn": "2199-01-01"}\
            """))
                .hasStatus(422)
                .bodyText()
                .contains("readOn", "This day has not come yet");
    }

    @Test
    void aLotIsNotOpenedAfterItHasExpired() {
        assertThat(api(HttpMethod.POST, Role.DISPATCHER, "/resin-lots", """
            {"number": "TR-1", "resin": "thin", "expiresOn": "2030-01-01", "openedOn": "2030-01-02"}\
            """))
                .hasStatus(422)
                .bodyText()
                .contains("openedOn");
        var page = Jsoup.parse(text(post(
                "/stock",
                Role.DISPATCHER,
                "number",
                "TR-1",
                "resin",
                "thin",
                "kind",
                "resin",
                "expiresOn",
                "2030-01-01",
                "openedOn",
                "2030-01-02")));
        assertThat(told(field(page, "openedOn"))).contains("after the day on which it expires");
    }

    /** Refused, and still there in its field with the message beside it; without a field the page says it at its head. */
    private void refused(
            String path, Role role, String field, String typed, @Nullable String beside, String... others) {
        var fields = new ArrayList<>(List.of(others));
        fields.addAll(List.of(field, typed));
        var answer = post(path, role, fields.toArray(String[]::new));
        assertThat(answer).as(path).hasStatus4xxClientError();
        var page = Jsoup.parse(text(answer));
        assertThat(page.select(".error-summary li")).as(path).isNotEmpty();
        assertThat(page.title()).as(path).contains("QV23 KTB");
        if (beside != null) {
            var form = Objects.requireNonNull(page.selectFirst("form[action=" + path + "]:has(.error)"), path);
            var kept = Objects.requireNonNull(form.selectFirst("[name=" + field + "]"));
            assertThat(kept.val()).as(path).isEqualTo(typed);
            assertThat(told(kept)).as(path).isNotBlank();
        }
    }

    private static Element field(Document page, String name) {
        return Objects.requireNonNull(
                page.selectFirst("form:has(.error) [name=" + name + "]:not([type=hidden])"), name);
    }

    private static String told(Element field) {
        return Objects.requireNonNull(
                        Objects.requireNonNull(field.closest(".field")).selectFirst(".error"))
                .text();
    }

    private MvcTestResult conditions(String glass, String humidity, String light, String rain) {
        var dry = rain.isEmpty() ? "true" : "false";
        return post(
                "/jobs/" + job + "/conditions",
                Role.TECHNICIAN,
                "airCelsius",
                "15",
                "glassCelsius",
                glass,
                "relativeHumidityPercent",
                humidity,
                "light",
                light,
                "rain",
                rain.isEmpty() ? "false" : "true",
                "glassDry",
                dry,
                "bearingDegrees",
                "");
    }

    private MvcTestResult get(String path, Role role) {
        return mvc.get()
                .uri(path)
                .with(authentication(new ActingAuthentication(fleet.person(role))))
                .exchange();
    }

    private MvcTestResult post(String path, Role role, String... fields) {
        var request =
                mvc.post().uri(path).with(csrf()).with(authentication(new ActingAuthentication(fleet.person(role))));
        for (int i = 0; i < fields.length; i += 2) {
            request = request.param(fields[i], fields[i + 1]);
        }
        return request.exchange();
    }

    private JsonNode created(Role role, String path, String body) {
        var answer = api(HttpMethod.POST, role, path, body);
        assertThat(answer).hasStatus(201);
        return read(answer);
    }

    private MvcTestResult api(
            HttpMethod method, Role role, String path, @org.jspecify.annotations.Nullable String body) {
        var request = mvc.method(method).uri("/api/v1" + path).header("Authorization", fleet.bearer(role));
        return body == null
                ? request.exchange()
                : request.contentType(MediaType.APPLICATION_JSON).content(body).exchange();
    }

    private JsonNode read(MvcTestResult answer) {
        return json.readTree(text(answer));
    }

    private static String text(MvcTestResult answer) {
        return new String(answer.getResponse().getContentAsByteArray(), StandardCharsets.UTF_8);
    }

    private static String id(JsonNode node) {
        return node.path("id").asString();
    }
}

package org.quarterlight.fleet.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.quarterlight.QuarterlightTest;
import org.quarterlight.TestOrganisation;
import org.quarterlight.TestOrganisations;
import org.quarterlight.eligibility.Outcome;
import org.quarterlight.fleet.Condition;
import org.quarterlight.fleet.DepotView;
import org.quarterlight.fleet.Fleet;
import org.quarterlight.fleet.TestFleets;
import org.quarterlight.tenancy.Role;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.http.HttpHeaders;
import org.springframework.http.HttpMethod;
import org.springframework.http.MediaType;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResult;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

@QuarterlightTest
class FleetApiTests {
    @Autowired
    private MockMvcTester mvc;

    @Autowired
    private TestOrganisations organisations;

    @Autowired
    private TestFleets fleets;

    @Autowired
    private Fleet fleet;

    @Autowired
    private JsonMapper json;

    private TestOrganisation organisation;
    private DepotView depot;

    @BeforeEach
    void makeAFleet() {
        organisation = organisations.fleet();
        depot = fleets.depot(organisation, "Millbeck Yard");
    }

    @Test
    void managesADepotFromItsCreationToItsRetirement() throws Exception {
        var made = send("POST", "/depots", Role.MANAGER, null, """
            {"name": "Sandgate North", "latitude": 52.862, "longitude": -1.185, "zone": "Europe/London",
             "country": "GB", "openingHours": {"days": {"monday": {"opens": "05:00", "closes": "22:00"}}},
             "coveredBays": 4}\
            """);
        assertThat(made).hasStatus(201);
        var id = body(made).path("id").asString();
        assertThat(body(made).at("/openingHours/days/monday/opens").asString()).startsWith("05:00");

        var changed = send("PATCH", "/depots/" + id, Role.MANAGER, "\"0\"", "{\"contact\": \"gate 2\"}");
        assertThat(changed).hasStatusOk();
        assertThat(body(changed).path("contact").asString()).isEqualTo("gate 2");
        assertThat(body(changed).path("name").asString()).isEqualTo("Sandgate North");
        assertThat(changed).hasHeader(HttpHeaders.ETAG, "\"1\"");

        assertThat(send("DELETE", "/depots/" + id, Role.MANAGER, "\"1\"", null)).hasStatus(204);
        assertThat(items("/depots"))
                .extracting(each -> each.path("name").asString())
                .containsExactly("Millbeck Yard");
        assertThat(body(send("GET", "/depots/" + id, Role.MANAGER, null, null))
                        .path("retired")
                        .asBoolean())
                .isTrue();
    }

    @Test
    void keepsADepotWhereVehiclesStand() {
        fleets.vehicle(organisation, depot.id(), null);

        assertThat(send("DELETE", "/depots/" + depot.id(), Role.MANAGER, "\"0\"", null))
                .hasStatus(409)
                .bodyJson()
                .extractingPath("$.type")
                .isEqualTo("/problems/depot-in-use");
    }

    @Test
    void clearsWhatAChangeNamesAsNullAndLeavesWhatItDoesNotName() throws Exception {
        var made = send("POST", "/vehicles", Role.MANAGER, null, """
            {"depot": "%s", "registration": " qv23  ktb", "vin": "1m8gdm9axkp042788", "category": "M3",
             "maxMassKg": 18000, "steeringSide": "right", "makeModel": "Coach", "notes": "spare mirror"}\
            """.formatted(depot.id()));
        assertThat(made).hasStatus(201);
        var vehicle = body(made);
        assertThat(vehicle.path("registration").asString()).isEqualTo("QV23 KTB");
        assertThat(vehicle.path("vin").asString()).isEqualTo("1M8GDM9AXKP042788");
        var address = "/vehicles/" + vehicle.path("id").asString();

        var changed = send(
                "PATCH",
                address,
                Role.MANAGER,
                etag(made),
                "{\"notes\": null, \"maxMassKg\": null, \"category\": \"M2\"}");

        assertThat(changed).hasStatusOk();
        assertThat(body(changed).path("notes").asString()).isEmpty();
        assertThat(body(changed).path("maxMassKg").isNull()).isTrue();
        assertThat(body(changed).path("category").asString()).isEqualTo("M2");
        assertThat(body(changed).path("makeModel").asString()).isEqualTo("Coach");
    }

    @Test
    void refusesAChangeMadeFromAnOlderVersionOrFromNone() {
        var vehicle = fleets.vehicle(organisation, depot.id(), null);
        var address = "/vehicles/" + vehicle.id();
        assertThat(send("PATCH", address, Role.MANAGER, "\"0\"", "{\"notes\": \"first\"}"))
                .hasStatusOk();

        assertThat(send("PATCH", address, Role.MANAGER, "\"0\"", "{\"notes\": \"second\"}"))
                .hasStatus(412);
        assertThat(send("PATCH", address, Role.MANAGER, null, "{\"notes\": \"second\"}"))
                .hasStatus(428);
    }

    @Test
    void givesAnotherVersionOnceTheConditionIsAnother() throws Exception {
        var vehicle = fleets.vehicle(organisation, depot.id(), null);
        var before = etag(send("GET", "/vehicles/" + vehicle.id(), Role.DRIVER, null, null));

        TestOrganisations.as(organisation, Role.MANAGER, () -> {
            fleet.note(vehicle.id(), new Condition(Outcome.REPAIR, 1, null, null, false));
            return true;
        });

        var after = send("GET", "/vehicles/" + vehicle.id(), Role.DRIVER, null, null);
        assertThat(etag(after)).isNotEqualTo(before);
        assertThat(body(after).path("worst").asString()).isEqualTo("repair");
    }

    @Test
    void namesEveryFieldThatIsWrong() throws Exception {
        var wrong = send("POST", "/vehicles", Role.MANAGER, null, """
            {"registration": "", "vin": "SHORT", "category": "M3", "steeringSide": "left", "maxMassKg": 5}\
            """);

        assertThat(wrong).hasStatus(422);
        assertThat(fields(wrong)).contains("depot", "registration", "vin", "maxMassKg");
        var vehicle = fleets.vehicle(organisation, depot.id(), null);
        var patch = send(
                "PATCH", "/vehicles/" + vehicle.id(), Role.MANAGER, "\"0\"", "{\"maxMassKg\": 5, \"vin\": \"IOQ\"}");
        assertThat(patch).hasStatus(422);
        assertThat(fields(patch)).containsExactlyInAnyOrder("vin", "maxMassKg");
        assertThat(fields(
                        send("PATCH", "/vehicles/" + vehicle.id(), Role.MANAGER, "\"0\"", "{\"category\": \"tank\"}")))
                .containsExactly("category");
    }

    @Test
    void takesARegistrationOnceHoweverItIsSpelled() {
        fleets.vehicle(organisation, depot.id(), "QV23 KTB");

        for (var spelled : List.of("qv23ktb", "QV23-KTB", "QV 23 KTB")) {
            assertThat(send("POST", "/vehicles", Role.MANAGER, null, vehicleJson(spelled)))
                    .hasStatus(422)
                    .bodyJson()
                    .extractingPath("$.errors[0].field")
                    .isEqualTo("registration");
        }
        fleets.vehicle(organisation, depot.id(), "B-MW 1234");
        assertThat(send("POST", "/vehicles", Role.MANAGER, null, vehicleJson("BM-W 1234")))
                .hasStatus(201);
    }

    @Test
    void findsVehiclesByTheBeginningOfPlateOrVin() {
        fleets.vehicle(organisation, depot.id(), "XH-NK 533");
        fleets.vehicle(organisation, depot.id(), "QV19 NDE");
        send("POST", "/vehicles", Role.MANAGER, null, """
            {"depot": "%s", "registration": "AA 1", "vin": "XHM8GDM9AKP042788", "category": "N1",
             "steeringSide": "left"}\
            """.formatted(depot.id()));

        assertThat(registrations("/vehicles?search=xhnk")).containsExactly("XH-NK 533");
        assertThat(registrations("/vehicles?search=xh")).containsExactly("AA 1", "XH-NK 533");
        assertThat(registrations("/vehicles?search=qv19 n")).containsExactly("QV19 NDE");
    }

    @Test
    void listsTheWorstFirstAndPagesWithoutGapsOrDoubles() {
        var outcomes = List.of(Outcome.WATCH, Outcome.STAND_DOWN, Outcome.REPAIR, Outcome.REPLACE);
        for (var outcome : outcomes) {
            var vehicle = fleets.vehicle(organisation, depot.id(), null);
            TestOrganisations.as(organisation, Role.MANAGER, () -> {
                fleet.note(vehicle.id(), new Condition(outcome, 1, null, null, false));
                return true;
            });
        }
        fleets.vehicle(organisation, depot.id(), null);

        var all = items("/vehicles?sort=worst-first");
        assertThat(all)
                .extracting(each -> each.path("worst").asString(""))
                .containsExactly("stand-down", "replace", "repair", "watch", "");
        assertThat(items("/vehicles?damaged=true")).hasSize(4);
        assertThat(items("/vehicles?damaged=false")).hasSize(1);
        assertThat(items("/vehicles?worst=repair")).hasSize(1);

        var paged = new ArrayList<String>();
        @Nullable String next = null;
        do {
            var page = body(send(
                    "GET",
                    "/vehicles?sort=worst-first&limit=2" + (next == null ? "" : "&after=" + next),
                    Role.MANAGER,
                    null,
                    null));
            page.path("items").forEach(each -> paged.add(each.path("id").asString()));
            next = page.path("next").isNull() ? null : page.path("next").asString();
        } while (next != null);
        assertThat(paged)
                .containsExactlyElementsOf(
                        all.stream().map(each -> each.path("id").asString()).toList());
    }

    @Test
    void readsForAllOfTheFleetAndWritesForTheManagerOnly() {
        var vehicle = fleets.vehicle(organisation, depot.id(), null);
        var paths = List.of(
                "/vehicles",
                "/vehicles/" + vehicle.id(),
                "/vehicles/" + vehicle.id() + "/windscreens",
                "/depots",
                "/depots/" + depot.id(),
                "/glass-patterns");
        for (var role : List.of(Role.MANAGER, Role.DISPATCHER, Role.TECHNICIAN, Role.DRIVER)) {
            for (var path : paths) {
                assertThat(send("GET", path, role, null, null))
                        .as(role + " " + path)
                        .hasStatusOk();
            }
        }
        for (var role : List.of(Role.DISPATCHER, Role.TECHNICIAN, Role.DRIVER, Role.ADMINISTRATOR)) {
            assertThat(send("POST", "/vehicles", role, null, vehicleJson("NO 1")))
                    .as(role.name())
                    .hasStatus(403);
            assertThat(send("PATCH", "/vehicles/" + vehicle.id(), role, "\"0\"", "{}"))
                    .as(role.name())
                    .hasStatus(403);
            assertThat(send("DELETE", "/vehicles/" + vehicle.id(), role, "\"0\"", null))
                    .as(role.name())
                    .hasStatus(403);
            assertThat(send("DELETE", "/depots/" + depot.id(), role, "\"0\"", null))
                    .as(role.name())
                    .hasStatus(403);
            assertThat(send("POST", "/vehicles/" + vehicle.id() + "/cab-code", role, null, null))
                    .as(role.name())
                    .hasStatus(403);
            assertThat(send(
                            "POST",
                            "/vehicles/" + vehicle.id() + "/clear-stand-down",
                            role,
                            null,
                            "{\"reason\": \"ok\"}"))
                    .as(role.name())
                    .hasStatus(403);
        }
        assertThat(send("GET", "/vehicles/export", Role.DRIVER, null, null)).hasStatus(403);
        assertThat(send("GET", "/vehicles", Role.ADMINISTRATOR, null, null)).hasStatus(403);
    }

    @Test
    void showsNothingOfItToAnotherFleet() {
        var vehicle = fleets.vehicle(organisation, depot.id(), "QV23 KTB");
        send("POST", "/vehicles/" + vehicle.id() + "/cab-code", Role.MANAGER, null, null);
        var pattern = items("/glass-patterns").getFirst().path("id").asString();
        var owner = organisation;
        organisation = organisations.fleet();

        for (var path : List.of(
                "/vehicles/" + vehicle.id(),
                "/vehicles/" + vehicle.id() + "/windscreens",
                "/vehicles/" + vehicle.id() + "/cab-code",
                "/vehicles/" + vehicle.id() + "/cab-code.svg",
                "/vehicles/" + vehicle.id() + "/cab-code.pdf",
                "/depots/" + depot.id(),
                "/glass-patterns/" + pattern,
                "/glass-patterns/" + pattern + "/drawing.svg")) {
            assertThat(send("GET", path, Role.MANAGER, null, null)).as(path).hasStatus(404);
        }
        for (var path : List.of("/vehicles/" + vehicle.id(), "/depots/" + depot.id(), "/glass-patterns/" + pattern)) {
            assertThat(send("PATCH", path, Role.MANAGER, "\"0\"", "{}"))
                    .as(path)
                    .hasStatus(404);
            assertThat(send("DELETE", path, Role.MANAGER, "\"0\"", null))
                    .as(path)
                    .hasStatus(404);
        }
        assertThat(send("POST", "/vehicles/" + vehicle.id() + "/windscreens", Role.MANAGER, null, "{}"))
                .hasStatus(404);
        assertThat(send("POST", "/vehicles/" + vehicle.id() + "/cab-code", Role.MANAGER, null, null))
                .hasStatus(404);
        assertThat(send("POST", "/vehicles", Role.MANAGER, null, vehicleJson("QV23 KTB")))
                .as("another organisation's depot is none")
                .hasStatus(422);
        assertThat(items("/vehicles")).isEmpty();
        organisation = owner;
        assertThat(items("/vehicles")).hasSize(1);
    }

    @Test
    void fitsNewGlassAndKeepsTheHistoryOfTheOld() throws Exception {
        var vehicle = fleets.vehicle(organisation, depot.id(), null);
        var path = "/vehicles/" + vehicle.id() + "/windscreens";

        var fitted = send("POST", path, Role.MANAGER, null, """
            {"id": "%s", "fittedOn": "2026-01-05", "marking": "43R-00123", "reason": "crack"}\
            """.formatted(UUID.randomUUID()));

        assertThat(fitted).hasStatus(201);
        assertThat(items(path)).hasSize(2);
        assertThat(items(path).getFirst().path("marking").asString()).isEqualTo("43R-00123");
        assertThat(items(path).getLast().path("removedBecause").asString()).isEqualTo("crack");
        assertThat(send("POST", path, Role.MANAGER, null, "{\"fittedOn\": \"2999-01-01\"}"))
                .hasStatus(422);
    }

    @Test
    void correctsAPatternByANewVersionThatTheFittedGlassGets() throws Exception {
        var generic = items("/glass-patterns").getFirst();
        assertThat(items("/glass-patterns")).hasSize(8);
        assertThat(send(
                        "PATCH",
                        "/glass-patterns/" + generic.path("id").asString(),
                        Role.MANAGER,
                        "\"0\"",
                        "{\"name\": \"mine\"}"))
                .hasStatus(409);
        var made = send(
                "POST",
                "/glass-patterns",
                Role.MANAGER,
                null,
                json.writeValueAsString(Map.of(
                        "name",
                        "Coach of ours",
                        "measurements",
                        json.treeToValue(generic.path("measurements"), Map.class))));
        assertThat(made).hasStatus(201);
        var id = body(made).path("id").asString();
        var vehicle = fleets.vehicle(organisation, depot.id(), null);
        assertThat(send(
                        "POST",
                        "/vehicles/" + vehicle.id() + "/glass-pattern",
                        Role.MANAGER,
                        null,
                        "{\"pattern\": \"" + id + "\"}"))
                .hasStatusOk();

        var corrected = send(
                "PATCH", "/glass-patterns/" + id, Role.MANAGER, "\"0\"", "{\"measurements\": {\"rakeDegrees\": 61.5}}");

        assertThat(corrected).hasStatusOk();
        assertThat(body(corrected).path("patternVersion").asInt()).isEqualTo(2);
        assertThat(body(corrected).at("/measurements/rakeDegrees").asDouble()).isEqualTo(61.5);
        assertThat(items("/vehicles/" + vehicle.id() + "/windscreens")
                        .getFirst()
                        .path("patternVersion")
                        .asInt())
                .isEqualTo(2);
        var wrong = send(
                "PATCH", "/glass-patterns/" + id, Role.MANAGER, "\"1\"", "{\"measurements\": {\"rakeDegrees\": 5}}");
        assertThat(wrong).hasStatus(422);
        assertThat(fields(wrong)).containsExactly("measurements.rakeDegrees");
        var svg = send("GET", "/glass-patterns/" + id + "/drawing.svg?look=print", Role.DRIVER, null, null);
        assertThat(svg).hasStatusOk().hasContentTypeCompatibleWith("image/svg+xml");
        assertThat(svg.getResponse().getContentAsString()).contains("viewBox").doesNotContain("var(");
    }

    @Test
    void putsAVehicleBackOnTheRoadWithAReasonOnly() throws Exception {
        var vehicle = fleets.vehicle(organisation, depot.id(), null);
        TestOrganisations.as(organisation, Role.MANAGER, () -> {
            fleet.standDown(vehicle.id(), "Damage 1: across the driver's zone", Instant.now());
            return true;
        });
        var path = "/vehicles/" + vehicle.id();
        assertThat(body(send("GET", path, Role.DRIVER, null, null))
                        .path("standsDownBecause")
                        .asString())
                .contains("driver's zone");

        assertThat(send("POST", path + "/clear-stand-down", Role.MANAGER, null, "{\"reason\": \" \"}"))
                .hasStatus(422);
        var cleared = send("POST", path + "/clear-stand-down", Role.MANAGER, null, "{\"reason\": \"new glass\"}");

        assertThat(cleared).hasStatusOk();
        assertThat(body(cleared).path("standsDownSince").isNull()).isTrue();
    }

    private String vehicleJson(String registration) {
        return """
            {"depot": "%s", "registration": "%s", "category": "M3", "steeringSide": "right"}\
            """.formatted(depot.id(), registration);
    }

    private MvcTestResult send(
            String method, String path, Role role, @Nullable String ifMatch, @Nullable String content) {
        var request = mvc.method(HttpMethod.valueOf(method))
                .uri("/api/v1" + path)
                .header(HttpHeaders.AUTHORIZATION, organisation.bearer(role));
        if (ifMatch != null) {
            request = request.header(HttpHeaders.IF_MATCH, ifMatch);
        }
        if (content != null) {
            request = request.contentType(MediaType.APPLICATION_JSON).content(content);
        }
        return request.exchange();
    }

    private List<String> registrations(String path) {
        return items(path).stream()
                .map(each -> each.path("registration").asString())
                .toList();
    }

    private List<JsonNode> items(String path) {
        return body(send("GET", path, Role.MANAGER, null, null))
                .path("items")
                .valueStream()
                .toList();
    }

    private List<String> fields(MvcTestResult result) {
        return body(result)
                .path("errors")
                .valueStream()
                .map(each -> each.path("field").asString())
                .toList();
    }

    private JsonNode body(MvcTestResult result) {
        return json.readTree(result.getResponse().getContentAsByteArray());
    }

    private static String etag(MvcTestResult result) {
        return String.valueOf(result.getResponse().getHeader(HttpHeaders.ETAG));
    }
}

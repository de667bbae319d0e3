package org.quarterlight.inspection.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.quarterlight.TestCsrf.csrf;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.authentication;

import java.nio.charset.StandardCharsets;
import java.time.DayOfWeek;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.quarterlight.TestOrganisation;
import org.quarterlight.tenancy.Role;
import org.quarterlight.web.ActingAuthentication;
import org.springframework.beans.factory.ObjectProvider;
import org.springframework.http.HttpMethod;
import org.springframework.http.MediaType;
import org.springframework.stereotype.Component;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResult;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** What tests of inspections ask of the service, as programs and browsers do. */
@Component
class InspectionCalls {
    private final ObjectProvider<MockMvcTester> mvc;
    private final JsonMapper json;

    InspectionCalls(ObjectProvider<MockMvcTester> mvc, JsonMapper json) {
        this.mvc = mvc;
        this.json = json;
    }

    String depot(TestOrganisation fleet, String name, String zone) {
        return id(created(fleet, "/depots", """
            {"name": "%s", "latitude": 52.7, "longitude": -1.4, "zone": "%s", "country": "GB"}\
            """.formatted(name, zone)));
    }

    /** So that what falls due falls due on that day, whatever day of the week it is. */
    String depotOpenEachDay(TestOrganisation fleet, String name, String zone) {
        var hours = Stream.of(DayOfWeek.values())
                .map(day -> "\"%s\": {\"opens\": \"08:00\", \"closes\": \"17:00\"}"
                        .formatted(day.name().toLowerCase(Locale.ROOT)))
                .collect(Collectors.joining(", "));
        return id(created(fleet, "/depots", """
            {"name": "%s", "latitude": 52.7, "longitude": -1.4, "zone": "%s", "country": "GB",
             "openingHours": {"days": {%s}}}\
            """.formatted(name, zone, hours)));
    }

    String vehicle(TestOrganisation fleet, String depot, String registration, String category) {
        return id(created(fleet, "/vehicles", """
            {"depot": "%s", "registration": "%s", "category": "%s", "steeringSide": "right"}\
            """.formatted(depot, registration, category)));
    }

    void patchVehicle(TestOrganisation fleet, String vehicle, String change) {
        var version = call(HttpMethod.GET, fleet, Role.MANAGER, "/vehicles/" + vehicle, null, null)
                .getResponse()
                .getHeader("ETag");
        assertThat(call(HttpMethod.PATCH, fleet, Role.MANAGER, "/vehicles/" + vehicle, change, version))
                .hasStatusOk();
    }

    String damage(TestOrganisation fleet, String vehicle, int xMm, String diameterMm) {
        return id(created(fleet, "/damages", """
            {"vehicleId": "%s", "kind": "star-break", "observation": {"xMm": %d, "yMm": 420, "diameterMm": %s,
             "pitMm": 3, "longestLegMm": 9, "layers": "outer", "condition": "clean-dry", "source": "gauge"}}\
            """.formatted(vehicle, xMm, diameterMm)));
    }

    void imported(TestOrganisation fleet, String list) {
        assertThat(mvc.getObject()
                        .post()
                        .uri("/api/v1/vehicles/import?mode=good-rows")
                        .header("Authorization", fleet.bearer(Role.MANAGER))
                        .contentType("text/csv")
                        .content(list)
                        .exchange())
                .hasStatusOk();
    }

    List<String> registrations(TestOrganisation fleet, String query) {
        var all = new ArrayList<String>();
        list(fleet, query).forEach(each -> all.add(each.path("registration").asString()));
        return all;
    }

    JsonNode first(TestOrganisation fleet, String query) {
        return list(fleet, query).path(0);
    }

    JsonNode list(TestOrganisation fleet, String query) {
        return read(call(HttpMethod.GET, fleet, Role.TECHNICIAN, "/inspections" + query, null, null))
                .path("items");
    }

    JsonNode created(TestOrganisation who, String path, String body) {
        var result = call(HttpMethod.POST, who, Role.MANAGER, path, body, null);
        assertThat(result).as(() -> path + " " + text(result)).hasStatus(201);
        return read(result);
    }

    MvcTestResult call(
            HttpMethod method,
            TestOrganisation who,
            Role role,
            String path,
            @Nullable String body,
            @Nullable String version) {
        var request = mvc.getObject().method(method).uri("/api/v1" + path).header("Authorization", who.bearer(role));
        if (version != null) {
            request.header("If-Match", version);
        }
        return body == null
                ? request.exchange()
                : request.contentType(MediaType.APPLICATION_JSON).content(body).exchange();
    }

    /** A page that is there. */
    MvcTestResult get(TestOrganisation who, Role role, String path) {
        var result = page(who, role, path);
        assertThat(result).as(() -> path + " " + text(result)).hasStatusOk();
        return result;
    }

    MvcTestResult page(TestOrganisation who, Role role, String path) {
        return mvc.getObject()
                .get()
                .uri(path)
                .with(authentication(new ActingAuthentication(who.person(role))))
                .exchange();
    }

    MvcTestResult post(TestOrganisation who, Role role, String path, String... fields) {
        var request = mvc.getObject()
                .post()
                .uri(path)
                .with(authentication(new ActingAuthentication(who.person(role))))
                .with(csrf());
        for (int i = 0; i < fields.length; i += 2) {
            request.param(fields[i], fields[i + 1]);
        }
        return request.exchange();
    }

    /** What a piece of a page answers to htmx. */
    MvcTestResult swapped(TestOrganisation who, Role role, String path, String... fields) {
        var request = mvc.getObject()
                .post()
                .uri(path)
                .header("HX-Request", "true")
                .with(authentication(new ActingAuthentication(who.person(role))))
                .with(csrf());
        for (int i = 0; i < fields.length; i += 2) {
            request.param(fields[i], fields[i + 1]);
        }
        return request.exchange();
    }

    JsonNode read(MvcTestResult result) {
        return json.readTree(text(result));
    }

    static String text(MvcTestResult result) {
        return new String(result.getResponse().getContentAsByteArray(), StandardCharsets.UTF_8);
    }

    static String id(JsonNode node) {
        return node.path("id").asString();
    }
}

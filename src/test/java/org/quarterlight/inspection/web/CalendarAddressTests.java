package org.quarterlight.inspection.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.quarterlight.TestCsrf.csrf;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.authentication;

import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.time.LocalDate;
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
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResult;

/** Addresses that open a calendar, or a vehicle in a round, to whoever holds them and to nobody else. */
@QuarterlightTest
class CalendarAddressTests {
    @Autowired
    private InspectionCalls calls;

    @Autowired
    private MockMvcTester mvc;

    @Autowired
    private TestOrganisations organisations;

    private TestOrganisation fleet;
    private String depot;
    private String vehicle;

    @BeforeEach
    void aVehicleThatIsDue() {
        fleet = organisations.fleet();
        depot = calls.depot(fleet, "North yard", "Europe/London");
        vehicle = calls.vehicle(fleet, depot, "QV23 KTB", "N1");
        calls.created(fleet, "/inspection-plans", """
            {"name": "All", "periodDays": 30, "firstDue": "%s"}\
            """.formatted(LocalDate.now().minusDays(300)));
    }

    @Test
    void aCalendarProgramReadsWhatWaitsUntilTheAddressIsRevoked() {
        var made = calls.read(
                calls.call(HttpMethod.POST, fleet, Role.TECHNICIAN, "/inspections/calendar-addresses", null, null));
        var address = URI.create(made.path("address").asString());

        var answer = asked(address, null);
        assertThat(answer).hasStatusOk();
        assertThat(answer.getResponse().getContentType()).startsWith("text/calendar");
        assertThat(text(answer)).contains("BEGIN:VEVENT", "SUMMARY:Inspect QV23 KTB");
        assertThat(text(asked(URI.create(address + "?depot=" + depot), null))).contains("QV23 KTB");

        var other = organisations.fleet();
        assertThat(asked(URI.create(address + "?depot=" + calls.depot(other, "Elsewhere", "Europe/London")), null))
                .as("another fleet's depot")
                .hasStatus(404);

        assertThat(calls.call(
                        HttpMethod.DELETE,
                        fleet,
                        Role.TECHNICIAN,
                        "/tokens/" + made.path("key").asString(),
                        null,
                        null))
                .hasStatus(204);
        assertThat(asked(address, null)).hasStatus(404);
    }

    @Test
    void aKeyOfOneSortOpensNothingOfTheOther() {
        var made = calls.read(
                calls.call(HttpMethod.POST, fleet, Role.MANAGER, "/inspections/calendar-addresses", null, null));
        var key = made.path("address").asString().replaceAll(".*/calendars/(.*)\\.ics", "$1");
        assertThat(asked(URI.create("/api/v1/inspections"), "Bearer " + key)).hasStatus(401);
        var bearer = fleet.bearer(Role.MANAGER).substring("Bearer ".length());
        assertThat(asked(URI.create("/calendars/" + bearer + ".ics"), null)).hasStatus(404);
        assertThat(asked(URI.create("/calendars/" + key.substring(0, key.length() - 2) + "AA.ics"), null))
                .hasStatus(404);
    }

    @Test
    void theAddressIsShownOnceOnItsPage() {
        var page = mvc.post()
                .uri("/inspections/calendar-address")
                .param("depot", depot)
                .with(authentication(new ActingAuthentication(fleet.person(Role.MANAGER))))
                .with(csrf())
                .exchange();
        assertThat(page).hasStatusOk();
        assertThat(text(page)).contains("/calendars/ql_", "depot=" + depot);
    }

    @Test
    void aRoundReadsTheCabCodeOfItsOwnVehiclesAlone() {
        var own = code(fleet, vehicle);
        assertThat(round("https://glass.example/r/" + own)).contains("QV23 KTB", "Nothing new");
        assertThat(round(own)).contains("QV23 KTB");

        var other = organisations.fleet();
        var theirs = calls.vehicle(other, calls.depot(other, "Elsewhere", "Europe/London"), "QV24 AAA", "N1");
        assertThat(round("https://glass.example/r/" + code(other, theirs)))
                .contains("This cab code is not in force")
                .doesNotContain("QV24 AAA");
        assertThat(round("https://glass.example/r/" + "A".repeat(64))).contains("This cab code is not in force");
    }

    private String code(TestOrganisation of, String vehicle) {
        return calls.read(calls.call(HttpMethod.POST, of, Role.MANAGER, "/vehicles/" + vehicle + "/cab-code", null, null))
                .path("code")
                .asString();
    }

    private String round(String scanned) {
        return text(mvc.get()
                .uri("/inspections/round")
                .param("depot", depot)
                .param("plate", scanned)
                .with(authentication(new ActingAuthentication(fleet.person(Role.TECHNICIAN))))
                .exchange());
    }

    private MvcTestResult asked(URI address, @Nullable String authorization) {
        var path = address.getRawPath() + (address.getRawQuery() == null ? "" : "?" + address.getRawQuery());
        var get = mvc.get().uri(URI.create(path));
        return authorization == null
                ? get.exchange()
                : get.header("Authorization", authorization).exchange();
    }

    private static String text(MvcTestResult answer) {
        return new String(answer.getResponse().getContentAsByteArray(), StandardCharsets.UTF_8);
    }
}

package org.quarterlight.inspection.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.quarterlight.TestCsrf.csrf;
import static org.quarterlight.TestOrganisations.as;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.authentication;

import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.time.LocalDate;
import java.util.UUID;
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
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResult;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.support.TransactionTemplate;

/** Addresses that open a calendar, or a vehicle in a round, to whoever holds them and to nobody else. */
@QuarterlightTest
class CalendarAddressTests {
    @Autowired
    private InspectionCalls calls;

    @Autowired
    private MockMvcTester mvc;

    @Autowired
    private TestOrganisations organisations;

    @Autowired
    private JdbcClient jdbc;

    @Autowired
    private PlatformTransactionManager transactions;

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

    /** The first 2000 are shown, and what is left out is told in the calendar itself. */
    @Test
    void aCalendarOfMoreThanTwoThousandSaysHowManyItLeavesOut() {
        as(
                fleet,
                Role.MANAGER,
                () -> new TransactionTemplate(transactions)
                        .execute(status -> jdbc.sql("""
            insert into vehicle (tenant_id, id, depot_id, registration, registration_key, category, steering_side, version)
            select :fleet, uuidv7(), :depot, 'P' || n, 'P' || n, 'M1', 'RIGHT', 0 from generate_series(1, 2100) n\
            """)
                                .param("fleet", fleet.id())
                                .param("depot", UUID.fromString(depot))
                                .update()));
        calls.created(fleet, "/inspection-plans", """
            {"name": "Cars", "category": "M1", "periodDays": 30, "firstDue": "%s"}\
            """.formatted(LocalDate.now().minusDays(300)));
        var made = calls.read(
                calls.call(HttpMethod.POST, fleet, Role.TECHNICIAN, "/inspections/calendar-addresses", null, null));
        var whole = unfolded(asked(URI.create(made.path("address").asString()), null));
        assertThat(whole.lines().filter(line -> line.startsWith("SUMMARY:Inspect ")))
                .hasSize(2000);
        assertThat(whole).contains("SUMMARY:101 more inspections wait than this calendar shows");
        assertThat(whole).contains("It shows the 2000 that fall due first. A calendar of one depot may");
        assertThat(whole.lines().filter(line -> line.startsWith("UID:")).distinct())
                .as("each once")
                .hasSize(2001);
        assertThat(unfolded(calls.call(
                        HttpMethod.GET, fleet, Role.MANAGER, "/inspections/calendar.ics?depot=" + depot, null, null)))
                .as("the same by a key")
                .contains("SUMMARY:101 more inspections wait than this calendar shows")
                .doesNotContain("A calendar of one depot");
    }

    private static String unfolded(MvcTestResult calendar) {
        assertThat(calendar).hasStatusOk();
        return text(calendar).replace("\r\n ", "");
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
        assertThat(mvc.get()
                        .uri("/calendars/" + bearer + ".ics")
                        .with(authentication(new ActingAuthentication(fleet.person(Role.MANAGER))))
                        .exchange())
                .as("signed in besides")
                .hasStatus(404);
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
        return calls.read(
                        calls.call(HttpMethod.POST, of, Role.MANAGER, "/vehicles/" + vehicle + "/cab-code", null, null))
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

package org.quarterlight.inspection.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.DayOfWeek;
import java.time.LocalDate;
import java.time.ZoneId;
import java.time.temporal.TemporalAdjusters;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.quarterlight.QuarterlightTest;
import org.quarterlight.TestOrganisation;
import org.quarterlight.TestOrganisations;
import org.quarterlight.tenancy.Role;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.http.HttpMethod;

/** Planning many inspections at once, and the calendar that follows. */
@QuarterlightTest
class SpreadingTests {
    private static final ZoneId ZONE = ZoneId.of("Europe/London");

    @Autowired
    private InspectionCalls calls;

    @Autowired
    private TestOrganisations organisations;

    private final LocalDate tomorrow = LocalDate.now(ZONE).plusDays(1);
    private TestOrganisation fleet;
    private String depot;

    @BeforeEach
    void sixVehiclesThatAreDueInTwoWeeks() {
        fleet = organisations.fleet();
        depot = calls.depot(fleet, "North yard, gate; 2", "Europe/London");
        calls.created(fleet, "/inspection-plans", """
            {"name": "All", "periodDays": 30, "firstDue": "%s"}\
            """.formatted(tomorrow.plusDays(14)));
        for (int i = 1; i <= 6; i++) {
            calls.vehicle(fleet, depot, "QV 10" + i, "M3");
        }
    }

    @Test
    void daysAreProposedThenKeptAndStandInListAndCalendar() {
        var proposed = calls.read(spread("false"));
        assertThat(proposed.path("kept").asBoolean()).isFalse();
        assertThat(proposed.path("withoutDay")).isEmpty();
        assertThat(proposed.path("days").valueStream())
                .hasSize(6)
                .allSatisfy(day -> assertThat(LocalDate.parse(day.path("on").asString())
                                .getDayOfWeek()
                                .getValue())
                        .isLessThan(6));
        assertThat(calls.first(fleet, "").path("plannedOn").isNull()).isTrue();

        assertThat(calls.post(
                        fleet,
                        Role.MANAGER,
                        "/inspections/spread",
                        "depot",
                        depot,
                        "from",
                        tomorrow.toString(),
                        "to",
                        tomorrow.plusDays(14).toString(),
                        "mostPerDay",
                        "2",
                        "keep",
                        "true"))
                .hasRedirectedUrl("/inspections?depot=" + depot);
        var planned = calls.first(fleet, "").path("plannedOn").asString();
        assertThat(LocalDate.parse(planned)).isBetween(tomorrow, tomorrow.plusDays(14));
        var again = calls.read(spread("false"));
        assertThat(again.at("/days/0/plannedBefore").asInt()).isEqualTo(1);
        assertThat(again.at("/days/0/inspections")).isEmpty();

        var calendar = calls.call(
                HttpMethod.GET, fleet, Role.DISPATCHER, "/inspections/calendar.ics?depot=" + depot, null, null);
        assertThat(calendar).hasStatusOk().hasContentType("text/calendar;charset=UTF-8");
        assertThat(InspectionCalls.text(calendar))
                .contains("LOCATION:North yard\\, gate\\; 2", "SUMMARY:Inspect QV 101\r\n")
                .contains("DTSTART;VALUE=DATE:" + planned.replace("-", ""));
        assertThat(InspectionCalls.text(calls.get(fleet, Role.MANAGER, "/inspections?depot=" + depot)))
                .contains("calendar.ics?depot=" + depot, "Spread over days");
    }

    @Test
    void eachIsPlannedOnTheDaysOfItsOwnPlanAndNoneWhileTheDepotIsClosed() {
        var vans = LocalDate.now(ZONE).with(TemporalAdjusters.next(DayOfWeek.WEDNESDAY));
        calls.created(fleet, "/inspection-plans", """
            {"name": "Vans", "category": "N1", "periodDays": 30, "firstDue": "%s", "weekdays": ["wednesday"]}\
            """.formatted(tomorrow.plusDays(14)));
        calls.vehicle(fleet, depot, "QV 201", "N1");
        calls.vehicle(fleet, depot, "QV 202", "N1");
        // One plan for all falls due on the same day and was made first, so it has to go for the vans' own to count.
        var all = calls.read(calls.call(HttpMethod.GET, fleet, Role.MANAGER, "/inspection-plans", null, null))
                .at("/items/0");
        assertThat(calls.call(
                        HttpMethod.PATCH,
                        fleet,
                        Role.MANAGER,
                        "/inspection-plans/" + InspectionCalls.id(all),
                        "{\"category\": \"M3\"}",
                        "\"0\""))
                .hasStatusOk();
        assertThat(calls.call(
                        HttpMethod.PATCH,
                        fleet,
                        Role.MANAGER,
                        "/depots/" + depot,
                        "{\"closedOn\": [\"" + vans + "\"]}",
                        "\"0\""))
                .hasStatusOk();

        var days = calls.read(spread("false")).path("days");
        assertThat(days.valueStream().map(day -> day.path("on").asString())).doesNotContain(vans.toString());
        days.valueStream()
                .filter(day -> day.path("inspections")
                        .valueStream()
                        .anyMatch(each -> each.path("registration").asString().startsWith("QV 20")))
                .forEach(day -> assertThat(
                                LocalDate.parse(day.path("on").asString()).getDayOfWeek())
                        .isEqualTo(DayOfWeek.WEDNESDAY));
        assertThat(days.valueStream()
                        .flatMap(day -> day.path("inspections").valueStream())
                        .map(each -> each.path("registration").asString()))
                .contains("QV 201", "QV 202", "QV 101", "QV 106");
    }

    @Test
    void thePageProposesAndSaysWhatIsWrong() {
        assertThat(InspectionCalls.text(calls.get(fleet, Role.MANAGER, "/inspections/spread?depot=" + depot)))
                .contains("Propose days");
        var shown = InspectionCalls.text(calls.post(
                fleet,
                Role.MANAGER,
                "/inspections/spread",
                "depot",
                depot,
                "from",
                tomorrow.toString(),
                "to",
                tomorrow.plusDays(14).toString(),
                "mostPerDay",
                "1"));
        assertThat(shown).contains("Keep these days", "QV 101", "QV 106");
        var wrong = calls.post(
                fleet,
                Role.MANAGER,
                "/inspections/spread",
                "depot",
                depot,
                "from",
                tomorrow.minusDays(3).toString(),
                "to",
                tomorrow.toString(),
                "mostPerDay",
                "1");
        assertThat(wrong).hasStatus(422);
        assertThat(InspectionCalls.text(wrong)).contains("This day has passed");
        assertThat(calls.page(fleet, Role.TECHNICIAN, "/inspections/spread")).hasStatus(403);
    }

    private org.springframework.test.web.servlet.assertj.MvcTestResult spread(String keep) {
        var answer = calls.call(
                HttpMethod.POST,
                fleet,
                Role.MANAGER,
                "/inspections/spread",
                """
                {"depot": "%s", "from": "%s", "to": "%s", "mostPerDay": 2, "keep": %s}\
                """.formatted(depot, tomorrow, tomorrow.plusDays(14), keep),
                null);
        assertThat(answer).as(() -> InspectionCalls.text(answer)).hasStatusOk();
        return answer;
    }
}

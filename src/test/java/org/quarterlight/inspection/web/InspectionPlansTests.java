package org.quarterlight.inspection.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.DayOfWeek;
import java.time.LocalDate;
import java.time.ZoneId;
import java.time.temporal.TemporalAdjusters;
import java.util.stream.Stream;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.quarterlight.QuarterlightTest;
import org.quarterlight.TestOrganisation;
import org.quarterlight.TestOrganisations;
import org.quarterlight.tenancy.Role;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.http.HttpMethod;

/** Plans, and what falls due by them, as a page and as JSON. */
@QuarterlightTest
class InspectionPlansTests {
    private static final ZoneId ZONE = ZoneId.of("Europe/London");

    @Autowired
    private InspectionCalls calls;

    @Autowired
    private TestOrganisations organisations;

    private final LocalDate today = LocalDate.now(ZONE);
    private TestOrganisation fleet;
    private String depot;

    @BeforeEach
    void aFleetWithADepot() {
        fleet = organisations.fleet();
        depot = calls.depotOpenEachDay(fleet, "North yard", "Europe/London");
    }

    @Test
    void aPlanMakesItsVehiclesDueAtOnceAndFollowsThem() {
        var coach = calls.vehicle(fleet, depot, "QV23 KTB", "M3");
        calls.vehicle(fleet, depot, "QV21 VAN", "N1");

        var plan = calls.created(fleet, "/inspection-plans", """
            {"name": "Coaches", "category": "M3", "periodDays": 90, "firstDue": "%s"}\
            """.formatted(today.plusDays(10)));

        assertThat(calls.registrations(fleet, "?state=due")).containsExactly("QV23 KTB");
        assertThat(calls.first(fleet, "?state=due").path("dueOn").asString())
                .isEqualTo(today.plusDays(10).toString());

        // A vehicle that comes later waits for nothing either; one of another category is none of the plan's.
        var later = calls.vehicle(fleet, depot, "QV24 CAR", "M3");
        assertThat(calls.registrations(fleet, "?state=due")).containsExactlyInAnyOrder("QV23 KTB", "QV24 CAR");
        var inspection = calls.first(fleet, "?vehicle=" + coach).path("id").asString();

        var changed = calls.call(
                HttpMethod.PATCH,
                fleet,
                Role.MANAGER,
                "/inspection-plans/" + InspectionCalls.id(plan),
                "{\"firstDue\": \"" + today.minusDays(1) + "\"}",
                "\"0\"");
        assertThat(changed).hasStatusOk().hasHeader("ETag", "\"1\"");
        assertThat(calls.first(fleet, "?vehicle=" + coach).path("id").asString())
                .as("the inspection moves and stays the same")
                .isEqualTo(inspection);
        calls.patchVehicle(fleet, later, "{\"category\": \"N2\"}");
        assertThat(calls.registrations(fleet, "")).containsExactly("QV23 KTB");
        calls.patchVehicle(fleet, later, "{\"category\": \"M3\"}");
        assertThat(calls.registrations(fleet, "")).containsExactlyInAnyOrder("QV23 KTB", "QV24 CAR");

        assertThat(calls.call(HttpMethod.DELETE, fleet, Role.MANAGER, "/vehicles/" + later, null, "\"2\""))
                .hasStatus(204);
        assertThat(calls.registrations(fleet, "")).containsExactly("QV23 KTB");
        assertThat(calls.call(
                        HttpMethod.DELETE,
                        fleet,
                        Role.MANAGER,
                        "/inspection-plans/" + InspectionCalls.id(plan),
                        null,
                        "\"1\""))
                .hasStatus(204);
        assertThat(calls.registrations(fleet, "")).isEmpty();
    }

    @Test
    void anImportedListIsPlannedLikeVehiclesThatAreTypedIn() {
        calls.created(fleet, "/inspection-plans", """
            {"name": "All", "periodDays": 30, "firstDue": "%s"}\
            """.formatted(today.plusDays(3)));

        calls.imported(fleet, "registration,category\nQV 1001,M3\nQV 1002,N1\n");

        assertThat(calls.registrations(fleet, "?state=due")).containsExactlyInAnyOrder("QV 1001", "QV 1002");
    }

    @Test
    void aPlanMayCountKilometresAloneAndSaysWhereAReadingIsNeeded() {
        assertThat(calls.call(
                        HttpMethod.POST,
                        fleet,
                        Role.MANAGER,
                        "/inspection-plans",
                        "{\"name\": \"Nothing\", \"firstDue\": \"" + today + "\"}",
                        null))
                .hasStatus(422);
        var vehicle = calls.vehicle(fleet, depot, "QV23 KTB", "M3");
        calls.created(fleet, "/inspection-plans", """
            {"name": "By the odometer", "periodKm": 5000, "firstDue": "%s"}\
            """.formatted(today.minusDays(200)));
        var inspection = calls.first(fleet, "?vehicle=" + vehicle);
        assertThat(inspection.path("readingNeeded").asBoolean())
                .as("never looked at: due at once, whatever it runs")
                .isFalse();
        done(inspection.path("id").asString(), today.minusDays(100), 100_000);

        var guess = calls.first(fleet, "?vehicle=" + vehicle);
        assertThat(guess.path("readingNeeded").asBoolean()).isTrue();
        assertThat(guess.path("dueOn").asString())
                .isEqualTo(today.minusDays(100).plusDays(365).toString());
        assertThat(InspectionCalls.text(calls.get(fleet, Role.MANAGER, "/inspections?days=0")))
                .contains("odometer reading needed");
        assertThat(InspectionCalls.text(calls.get(fleet, Role.MANAGER, "/inspections/plans")))
                .contains("5 000 km");

        // 2000 km in 100 days leave 3000 km, which are 150 days more.
        calls.created(fleet, "/vehicles/" + vehicle + "/odometer-readings", "{\"km\": 102000}");
        var known = calls.first(fleet, "?vehicle=" + vehicle);
        assertThat(known.path("readingNeeded").asBoolean()).isFalse();
        assertThat(known.path("dueOn").asString()).isEqualTo(today.plusDays(150).toString());
    }

    @Test
    void nothingFallsDueOnADayOnWhichTheDepotIsClosed() {
        var vehicle = calls.vehicle(fleet, depot, "QV23 KTB", "M3");
        calls.created(fleet, "/inspection-plans", """
            {"name": "All", "periodDays": 90, "firstDue": "%s"}\
            """.formatted(today.plusDays(10)));
        assertThat(calls.call(
                        HttpMethod.PATCH,
                        fleet,
                        Role.MANAGER,
                        "/depots/" + depot,
                        "{\"closedOn\": [\"" + today.plusDays(9) + "\", \"" + today.plusDays(10) + "\"]}",
                        "\"0\""))
                .hasStatusOk();
        assertThat(calls.first(fleet, "?vehicle=" + vehicle).path("dueOn").asString())
                .isEqualTo(today.plusDays(8).toString());
        var form = InspectionCalls.text(calls.get(fleet, Role.MANAGER, "/depots/" + depot));
        assertThat(form).contains(today.plusDays(9) + "\n" + today.plusDays(10));
    }

    @Test
    void nothingFallsDueOnAWeekdayOnWhichTheDepotIsClosed() {
        var vehicle = calls.vehicle(fleet, depot, "QV23 KTB", "M3");
        // A Sunday at least a week away.
        var sunday = today.plusDays(7).with(TemporalAdjusters.nextOrSame(DayOfWeek.SUNDAY));
        calls.created(fleet, "/inspection-plans", """
            {"name": "All", "periodDays": 90, "firstDue": "%s"}\
            """.formatted(sunday));
        assertThat(due(vehicle)).as("open on all days").isEqualTo(sunday);
        var hours = "{\"opens\": \"08:00\", \"closes\": \"17:00\"}";
        var week =
                "{\"openingHours\": {\"days\": {\"monday\": %s, \"friday\": %s, \"sunday\": null, \"saturday\": null,"
                                .formatted(hours, hours)
                        + " \"tuesday\": null, \"wednesday\": null, \"thursday\": null}}}";
        depot("0", week);
        assertThat(due(vehicle)).isEqualTo(sunday.minusDays(2));
        depot("1", "{\"closedOn\": [\"" + sunday.minusDays(2) + "\"]}");
        assertThat(due(vehicle))
                .as("that Friday is a holiday, and from Tuesday to Thursday the depot is closed")
                .isEqualTo(sunday.minusDays(6));
    }

    @Test
    void aVehicleThatCameOnAClosedDayIsNotOverdueFromTheStart() {
        depot("0", "{\"closedOn\": [\"" + today + "\"]}");
        var vehicle = calls.vehicle(fleet, depot, "QV23 KTB", "M3");
        calls.created(fleet, "/inspection-plans", """
            {"name": "All", "periodDays": 90, "firstDue": "%s"}\
            """.formatted(today.minusDays(30)));
        assertThat(due(vehicle)).isEqualTo(today);
    }

    private LocalDate due(String vehicle) {
        return LocalDate.parse(
                calls.first(fleet, "?vehicle=" + vehicle).path("dueOn").asString());
    }

    private void depot(String version, String change) {
        var changed =
                calls.call(HttpMethod.PATCH, fleet, Role.MANAGER, "/depots/" + depot, change, "\"" + version + "\"");
        assertThat(changed).as(() -> InspectionCalls.text(changed)).hasStatusOk();
    }

    private void done(String inspection, LocalDate on, int km) {
        assertThat(calls.call(
                        HttpMethod.POST,
                        fleet,
                        Role.TECHNICIAN,
                        "/inspections/" + inspection + "/result",
                        "{\"restUnchanged\": true, \"grade\": \"none\", \"odometerKm\": " + km + ", \"occurredAt\": \""
                                + on.atTime(12, 0).atZone(ZONE).toInstant() + "\"}",
                        null))
                .hasStatusOk();
    }

    /** A plan writes all of them in one statement, a vehicle its own in another; both come to the same rows. */
    @Test
    void aPlanForAllAndAChangeOfEachVehicleComeToTheSame() {
        var vehicles = Stream.of("QV 1001", "QV 1002", "QV 1003")
                .map(plate -> calls.vehicle(fleet, depot, plate, "M3"))
                .toList();
        var plan = calls.created(fleet, "/inspection-plans", """
            {"name": "All", "periodDays": 90, "firstDue": "%s"}\
            """.formatted(today.plusDays(10)));
        var first = calls.first(fleet, "?vehicle=" + vehicles.getFirst());
        done(first.path("id").asString(), today.minusDays(20), 100_000);
        var later = calls.vehicle(fleet, depot, "QV 1004", "N1");
        assertThat(calls.call(
                        HttpMethod.PATCH,
                        fleet,
                        Role.MANAGER,
                        "/inspection-plans/" + InspectionCalls.id(plan),
                        "{\"periodDays\": 60}",
                        "\"0\""))
                .hasStatusOk();
        calls.created(fleet, "/inspection-plans", """
            {"name": "Vans", "category": "N1", "periodDays": 30, "firstDue": "%s"}\
            """.formatted(today.plusDays(3)));
        assertThat(due(vehicles.getFirst())).isEqualTo(today.plusDays(40));
        assertThat(due(vehicles.get(1))).isEqualTo(today.plusDays(10));
        assertThat(due(later)).isEqualTo(today.plusDays(3));
        var byPlan = calls.list(fleet, "").toString();
        Stream.concat(vehicles.stream(), Stream.of(later))
                .forEach(vehicle -> calls.patchVehicle(fleet, vehicle, "{\"makeModel\": \"Other\"}"));
        assertThat(calls.list(fleet, "").toString().replace("Other", ""))
                .as("ids, days and versions")
                .isEqualTo(byPlan);

        // What it is called moves nothing.
        assertThat(calls.call(
                        HttpMethod.PATCH,
                        fleet,
                        Role.MANAGER,
                        "/inspection-plans/" + InspectionCalls.id(plan),
                        "{\"name\": \"All of them\"}",
                        "\"1\""))
                .hasStatusOk();
        assertThat(calls.list(fleet, "").toString().replace("Other", "").replace("All of them", "All"))
                .isEqualTo(byPlan);
    }

    @Test
    void ofSeveralPlansWhatFallsDueFirstCounts() {
        var vehicle = calls.vehicle(fleet, depot, "QV23 KTB", "M3");
        calls.created(fleet, "/inspection-plans", """
            {"name": "Late", "periodDays": 300, "firstDue": "%s"}\
            """.formatted(today.plusDays(40)));
        calls.created(fleet, "/inspection-plans", """
            {"name": "Early", "depot": "%s", "periodDays": 30, "firstDue": "%s"}\
            """.formatted(depot, today.plusDays(20)));

        var waiting = calls.list(fleet, "?vehicle=" + vehicle);
        assertThat(waiting).hasSize(1);
        assertThat(waiting.get(0).path("planName").asString()).isEqualTo("Early");
    }

    @Test
    void pagesShowPlansAndWhatIsDueAndKeepWhatWasTyped() {
        calls.vehicle(fleet, depot, "QV23 KTB", "M3");

        var refused =
                calls.post(fleet, Role.MANAGER, "/inspections/plans", "name", "Coaches & more", "periodDays", "0");
        assertThat(refused).hasStatus(422);
        assertThat(InspectionCalls.text(refused))
                .contains("At least 1 day", "Give the first day", "Coaches &amp; more");
        assertThat(calls.post(
                        fleet,
                        Role.MANAGER,
                        "/inspections/plans",
                        "name",
                        "Coaches & more",
                        "category",
                        "M3",
                        "depot",
                        depot,
                        "periodDays",
                        "90",
                        "periodKm",
                        "20000",
                        "firstDue",
                        today.minusDays(2).toString(),
                        "weekdays",
                        "MONDAY",
                        "weekdays",
                        "SATURDAY"))
                .hasRedirectedUrl("/inspections/plans");

        assertThat(InspectionCalls.text(calls.get(fleet, Role.MANAGER, "/inspections/plans")))
                .contains("Coaches &amp; more", "90 days or 20 000 km", "Mon, Sat", "North yard");
        var plan = calls.read(calls.call(HttpMethod.GET, fleet, Role.MANAGER, "/inspection-plans", null, null))
                .at("/items/0");
        var form = "/inspections/plans/" + InspectionCalls.id(plan);
        assertThat(InspectionCalls.text(calls.get(fleet, Role.MANAGER, form)))
                .contains("value=\"Coaches &amp; more\"", "North yard: Mon", "Retire the plan");
        // Due on the day it came, which is today.
        assertThat(InspectionCalls.text(calls.get(fleet, Role.TECHNICIAN, "/inspections")))
                .contains("QV23 KTB", "1 inspection due", "North yard", "today");
        assertThat(InspectionCalls.text(calls.get(fleet, Role.MANAGER, "/inspections?state=overdue&depot=" + depot)))
                .contains("Nothing is overdue", "class=\"chip\"");
        assertThat(InspectionCalls.text(calls.get(fleet, Role.MANAGER, "/")))
                .contains("1 inspection due at North yard", "href=\"/inspections\"");

        var stale = calls.post(
                fleet,
                Role.MANAGER,
                form,
                "name",
                "Mine",
                "periodDays",
                "5",
                "firstDue",
                today.toString(),
                "version",
                "7");
        assertThat(stale).hasStatus(409);
        assertThat(InspectionCalls.text(stale)).contains("changed by somebody else", "value=\"Mine\"");
        assertThat(calls.post(fleet, Role.MANAGER, form + "/retire", "version", "0"))
                .hasRedirectedUrl("/inspections/plans");
        assertThat(calls.registrations(fleet, "")).isEmpty();
    }

    @Test
    void technicianAndDispatcherReadPlansAndChangeNone() {
        var plan = InspectionCalls.id(calls.created(fleet, "/inspection-plans", """
            {"name": "All", "periodDays": 30, "firstDue": "%s"}\
            """.formatted(today)));

        for (var role : new Role[] {Role.TECHNICIAN, Role.DISPATCHER}) {
            var shown = InspectionCalls.text(calls.get(fleet, role, "/inspections/plans/" + plan));
            assertThat(shown).contains("30 days").doesNotContain("Retire the plan", "name=\"periodDays\"");
            assertThat(calls.post(fleet, role, "/inspections/plans/" + plan + "/retire", "version", "0"))
                    .hasStatus(403);
            assertThat(calls.page(fleet, role, "/inspections/plans/new")).hasStatus(403);
        }
        assertThat(calls.page(fleet, Role.DRIVER, "/inspections")).hasStatus(403);
    }

    @Test
    void aDepotOfNobodyAndAPeriodOfNothingAreRefused() {
        var refused = calls.call(
                HttpMethod.POST,
                fleet,
                Role.MANAGER,
                "/inspection-plans",
                """
                {"name": "All", "depot": "%s", "periodDays": 30, "firstDue": "%s"}\
                """.formatted(java.util.UUID.randomUUID(), today),
                null);
        assertThat(refused).hasStatus(422);
        assertThat(InspectionCalls.text(refused)).contains("There is no such depot");
        assertThat(calls.call(HttpMethod.POST, fleet, Role.MANAGER, "/inspection-plans", """
            {"name": "All", "periodDays": 0, "firstDue": "%s", "weekdays": ["noday"]}\
            """.formatted(today), null))
                .hasStatus(422);
    }
}

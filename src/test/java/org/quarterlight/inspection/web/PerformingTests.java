package org.quarterlight.inspection.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.time.temporal.ChronoUnit;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.quarterlight.QuarterlightTest;
import org.quarterlight.TestOrganisation;
import org.quarterlight.TestOrganisations;
import org.quarterlight.tenancy.Role;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.http.HttpMethod;
import org.springframework.test.web.servlet.assertj.MvcTestResult;
import tools.jackson.databind.JsonNode;

/** Looking at glass: what an inspector says becomes observations, reports and endings of damages. */
@QuarterlightTest
class PerformingTests {
    private static final ZoneId ZONE = ZoneId.of("Europe/London");

    @Autowired
    private InspectionCalls calls;

    @Autowired
    private TestOrganisations organisations;

    private final LocalDate today = LocalDate.now(ZONE);
    private TestOrganisation fleet;
    private String depot;
    private String vehicle;
    private String inspection;

    @BeforeEach
    void aVehicleThatIsDue() {
        fleet = organisations.fleet();
        depot = calls.depotOpenEachDay(fleet, "North yard", "Europe/London");
        vehicle = calls.vehicle(fleet, depot, "QV23 KTB", "N1");
        calls.created(fleet, "/inspection-plans", """
            {"name": "All", "periodDays": 30, "periodKm": 3000, "firstDue": "%s"}\
            """.formatted(today.minusDays(300)));
        inspection = waiting();
    }

    @Test
    void nothingNewConfirmsWhatIsKnownWithTheSameLengths() {
        var damage = calls.damage(fleet, vehicle, 300, "18.5");
        var before = calls.read(get("/damages/" + damage));

        var done = read(result(inspection, "{\"restUnchanged\": true, \"grade\": \"none\"}"));

        assertThat(done.path("state").asString()).isEqualTo("done");
        assertThat(done.path("grade").asString()).isEqualTo("none");
        assertThat(done.at("/findings/0/answer").asString()).isEqualTo("confirmed");
        var seen = calls.read(get("/damages/" + damage + "/observations")).path("items");
        assertThat(seen).hasSize(2);
        assertThat(seen.get(0).path("note").asString()).isEqualTo("Seen, unchanged");
        for (var length : new String[] {
            "xMm", "yMm", "diameterMm", "diameterStandardUncertaintyMm", "pitMm", "longestLegMm", "layers", "source"
        }) {
            assertThat(seen.get(0).path(length))
                    .as(length)
                    .isEqualTo(seen.get(1).path(length));
        }
        assertThat(calls.read(get("/damages/" + damage)).at("/verdict/outcome"))
                .isEqualTo(before.at("/verdict/outcome"));
        // The next one waits already, a period later.
        assertThat(calls.first(fleet, "?vehicle=" + vehicle).path("dueOn").asString())
                .isEqualTo(today.plusDays(30).toString());
        assertThat(calls.registrations(fleet, "?state=done")).containsExactly("QV23 KTB");
    }

    @Test
    void changedNewAndGoneAreToldToTheDamages() {
        var grown = calls.damage(fleet, vehicle, 300, "18.5");
        var gone = calls.damage(fleet, vehicle, -300, "12");
        var silent = result(inspection, """
            {"grade": "none", "damages": [{"damage": "%s", "answer": "gone", "goneAs": "no-damage"}]}\
            """.formatted(gone));
        assertThat(silent).hasStatus(422);
        assertThat(InspectionCalls.text(silent)).contains("Say of damage 1");

        var done = read(result(inspection, """
            {"grade": "none", "damages": [
              {"damage": "%s", "answer": "changed", "observation": {"xMm": 300, "yMm": 420, "diameterMm": 31,
                "layers": "outer", "condition": "clean-dry", "source": "gauge"}},
              {"damage": "%s", "answer": "gone", "goneAs": "no-damage", "reason": "a dead fly"}],
             "found": [{"kind": "pit", "observation": {"xMm": -100, "yMm": 500, "diameterMm": 2, "layers": "outer",
                "condition": "clean-dry", "source": "gauge"}}],
             "note": "washed first"}\
            """.formatted(grown, gone)));

        assertThat(done.path("findings")
                        .valueStream()
                        .map(each -> each.path("answer").asString()))
                .containsExactly("changed", "gone", "new");
        assertThat(calls.read(get("/damages/" + grown))
                        .at("/observation/diameterMm")
                        .asInt())
                .isEqualTo(31);
        var closed = calls.read(get("/damages/" + gone));
        assertThat(closed.path("closedAs").asString()).isEqualTo("withdrawn");
        assertThat(closed.path("closedBecause").asString()).isEqualTo("a dead fly");
        assertThat(calls.read(get("/damages?vehicle=" + vehicle + "&state=open"))
                        .path("items"))
                .hasSize(2);
    }

    @Test
    void replacedGlassEndsTheOldDamagesAndCarriesTheNewOnes() {
        var old = calls.damage(fleet, vehicle, 300, "18.5");
        var other = calls.damage(fleet, vehicle, -300, "12");
        assertThat(result(inspection, """
            {"grade": "none", "restUnchanged": true, "damages": [{"damage": "%s", "answer": "gone", "goneAs": "replaced"}]}\
            """.formatted(old))).hasStatus(422);

        read(result(inspection, """
            {"grade": "none", "damages": [{"damage": "%s", "answer": "gone", "goneAs": "replaced"},
                         {"damage": "%s", "answer": "gone", "goneAs": "replaced"}],
             "found": [{"kind": "pit", "observation": {"xMm": -100, "yMm": 500, "diameterMm": 2, "source": "gauge"}}]}\
            """.formatted(old, other)));

        assertThat(calls.read(get("/damages/" + old)).path("closedAs").asString())
                .isEqualTo("replaced");
        var glasses = calls.read(get("/vehicles/" + vehicle + "/windscreens")).path("items");
        assertThat(glasses).hasSize(2);
        var open =
                calls.read(get("/damages?vehicle=" + vehicle + "&state=open")).path("items");
        assertThat(open).hasSize(1);
        assertThat(open.get(0).path("number").asInt()).isEqualTo(1);
    }

    /** Directive 2014/45/EU grades; dangerous is not driven anywhere, major where the organisation says so. */
    @Test
    void aDangerousViewStandsTheVehicleDownUntilSomebodyClearsIt() {
        read(result(inspection, "{\"restUnchanged\": true, \"grade\": \"major\"}"));
        assertThat(vehicle().path("standsDownSince").isMissingNode()
                        || vehicle().path("standsDownSince").isNull())
                .as("major does not stand a van down unless chosen")
                .isTrue();

        read(result(waiting(), "{\"restUnchanged\": true, \"grade\": \"dangerous\"}"));
        assertThat(vehicle().path("standsDownBecause").asString()).contains("dangerous");
        read(result(waiting(), "{\"restUnchanged\": true, \"grade\": \"none\"}"));
        assertThat(vehicle().path("standsDownBecause").asString())
                .as("it lasts")
                .contains("dangerous");
        assertThat(calls.call(
                        HttpMethod.POST,
                        fleet,
                        Role.MANAGER,
                        "/vehicles/" + vehicle + "/clear-stand-down",
                        "{\"reason\": \"washed\"}",
                        null))
                .hasStatusOk();
        assertThat(vehicle().path("standsDownBecause").asString("")).isEmpty();
    }

    @Test
    void whatIsFoundOfADamageIsPartOfItsObservationAndStays() {
        var damage = calls.damage(fleet, vehicle, 300, "18.5");
        var done = read(result(inspection, """
            {"grade": "none", "damages": [{"damage": "%s", "answer": "confirmed", "found": "dangerous"}]}\
            """.formatted(damage)));

        assertThat(done.path("grade").asString()).isEqualTo("dangerous");
        var judged = calls.read(get("/damages/" + damage));
        assertThat(judged.at("/observation/found").asString()).isEqualTo("dangerous");
        assertThat(judged.at("/verdict/outcome").asString()).isEqualTo("stand-down");
        assertThat(vehicle().path("standsDownBecause").asString()).startsWith("Damage 1:");

        read(result(waiting(), "{\"restUnchanged\": true, \"grade\": \"none\"}"));
        assertThat(calls.read(get("/damages/" + damage))
                        .at("/observation/found")
                        .asString())
                .isEqualTo("dangerous");
    }

    @Test
    void aResultThatComesTwiceIsWrittenOnceAndCarriesItsTime() {
        var at = Instant.now().minus(40, ChronoUnit.DAYS).truncatedTo(ChronoUnit.SECONDS);
        var body = "{\"restUnchanged\": true, \"grade\": \"none\", \"occurredAt\": \"" + at + "\"}";
        var first = read(result(inspection, body));
        var second = read(result(inspection, body));

        assertThat(second).isEqualTo(first);
        assertThat(Instant.parse(first.path("doneAt").asString())).isEqualTo(at);
        assertThat(result(inspection, "{\"restUnchanged\": true, \"grade\": \"none\"}"))
                .hasStatus(409);
        assertThat(result(
                        waiting(),
                        "{\"restUnchanged\": true, \"grade\": \"none\", \"occurredAt\": \""
                                + Instant.now().plusSeconds(900) + "\"}"))
                .hasStatus(422);
        // Thirty days after it, ten days ago.
        assertThat(calls.registrations(fleet, "?state=overdue")).containsExactly("QV23 KTB");
        assertThat(calls.registrations(fleet, "?state=due")).isEmpty();
        assertThat(InspectionCalls.text(calls.get(fleet, Role.MANAGER, "/")))
                .containsPattern("Inspections</span><span class=\"count\">1<")
                .contains("1 overdue");
    }

    @Test
    void kilometresMakeAVehicleDueBeforeTheDaysDo() {
        var at = Instant.now().minus(20, ChronoUnit.DAYS).truncatedTo(ChronoUnit.SECONDS);
        read(result(
                inspection,
                "{\"restUnchanged\": true, \"grade\": \"none\", \"odometerKm\": 50000, \"occurredAt\": \"" + at
                        + "\"}"));
        assertThat(calls.first(fleet, "?vehicle=" + vehicle).path("dueOn").asString())
                .as("one reading tells no rate")
                .isEqualTo(today.plusDays(10).toString());

        // 2500 km in 20 days are 125 a day; 500 are left of 3000: 4 days.
        assertThat(odometer("{\"km\": 52500}")).hasStatus(201);
        assertThat(calls.first(fleet, "?vehicle=" + vehicle).path("dueOn").asString())
                .isEqualTo(today.plusDays(4).toString());
        assertThat(odometer("{\"km\": 49000}")).hasStatus(422);
        assertThat(odometer("{\"km\": 54000}")).as("corrects the day's reading").hasStatus(201);
        assertThat(calls.first(fleet, "?state=overdue").path("registration").asString())
                .isEqualTo("QV23 KTB");
    }

    @Test
    void askedForOnceAndNotOfVehiclesOfOthers() {
        var asked = calls.created(fleet, "/inspections", "{\"vehicleId\": \"" + vehicle + "\"}");
        assertThat(asked.path("dueOn").asString()).isEqualTo(today.toString());
        assertThat(calls.call(
                        HttpMethod.POST,
                        fleet,
                        Role.TECHNICIAN,
                        "/inspections",
                        "{\"vehicleId\": \"" + vehicle + "\"}",
                        null))
                .hasStatus(409);
        var stranger = organisations.fleet();
        assertThat(calls.call(
                        HttpMethod.POST,
                        stranger,
                        Role.MANAGER,
                        "/inspections",
                        "{\"vehicleId\": \"" + vehicle + "\"}",
                        null))
                .hasStatus(422);
        assertThat(calls.call(
                        HttpMethod.POST,
                        stranger,
                        Role.MANAGER,
                        "/inspections/" + inspection + "/result",
                        "{\"restUnchanged\": true, \"grade\": \"none\"}",
                        null))
                .hasStatus(404);
    }

    @Test
    void thePageTakesEveryAnswerAndKeepsWhatWasTypedBesideAMistake() {
        var damage = calls.damage(fleet, vehicle, 300, "18.5");
        var page = InspectionCalls.text(calls.get(fleet, Role.TECHNICIAN, "/inspections/" + inspection));
        assertThat(page)
                .contains("1 · Star break, 18.5 mm", "name=\"damages[0].answer\"", "Report a new damage")
                .contains("/report?vehicle=" + vehicle + "&amp;inspection=" + inspection)
                .doesNotContain("style=", "<script>");

        var mistake = calls.post(
                fleet,
                Role.TECHNICIAN,
                "/inspections/" + inspection,
                "damages[0].damage",
                damage,
                "grade",
                "none",
                "note",
                "<wet>");
        assertThat(mistake).hasStatus(422);
        assertThat(InspectionCalls.text(mistake)).contains("Say of damage 1", "&lt;wet&gt;");

        assertThat(calls.post(
                        fleet,
                        Role.TECHNICIAN,
                        "/inspections/" + inspection,
                        "damages[0].damage",
                        damage,
                        "damages[0].answer",
                        "changed",
                        "damages[0].diameterMm",
                        "22,5",
                        "damages[0].layers",
                        "outer",
                        "damages[0].found",
                        "minor",
                        "grade",
                        "none",
                        "odometerKm",
                        "1200"))
                .hasRedirectedUrl("/inspections/" + inspection);
        assertThat(calls.read(get("/damages/" + damage))
                        .at("/observation/diameterMm")
                        .asDouble())
                .isEqualTo(22.5);
        assertThat(InspectionCalls.text(calls.get(fleet, Role.DISPATCHER, "/inspections/" + inspection)))
                .contains("changed", "Minor", "1200 km");
    }

    @Test
    void aFinishedRepairThatFailedIsToldAndNothingElseCanHaveFailed() {
        var open = calls.damage(fleet, vehicle, 300, "18.5");
        var repaired = calls.damage(fleet, vehicle, -300, "12");
        read(result(inspection, """
            {"grade": "none", "restUnchanged": true,
             "damages": [{"damage": "%s", "answer": "gone", "goneAs": "repaired"}]}\
            """.formatted(repaired)));
        var next = waiting();
        var page = InspectionCalls.text(calls.get(fleet, Role.TECHNICIAN, "/inspections/" + next));
        assertThat(page).contains("2 · repaired star break", "The repair has failed");
        assertThat(result(next, """
            {"grade": "none", "restUnchanged": true, "damages": [{"damage": "%s", "answer": "failed"}]}\
            """.formatted(open))).hasStatus(422);

        var done = calls.post(
                fleet,
                Role.TECHNICIAN,
                "/inspections/" + next,
                "grade",
                "none",
                "damages[0].damage",
                open,
                "damages[0].answer",
                "confirmed",
                "damages[1].damage",
                repaired,
                "damages[1].answer",
                "failed",
                "damages[1].reason",
                "the filling has sunk");
        assertThat(done).as(() -> InspectionCalls.text(done)).hasStatus3xxRedirection();
        var finding = calls.read(get("/inspections/" + next)).at("/findings/1");
        assertThat(finding.path("answer").asString()).isEqualTo("failed");
        assertThat(finding.path("reason").asString()).isEqualTo("the filling has sunk");
        // Nobody knows whose job repaired it, so it is open again at once.
        assertThat(calls.read(get("/damages/" + repaired)).path("state").asString())
                .isEqualTo("open");
    }

    @Test
    void aDrawnCrackKeepsItsCourseWhereItIsNoLongerAndElseIsDrawnAnew() {
        var crack = InspectionCalls.id(calls.created(fleet, "/damages", """
            {"vehicleId": "%s", "kind": "crack", "observation": {"xMm": 300, "yMm": 400,
             "course": [{"xMm": 300, "yMm": 400}, {"xMm": 380, "yMm": 420}, {"xMm": 420, "yMm": 480}],
             "layers": "outer", "condition": "clean-dry", "source": "gauge"}}\
            """.formatted(vehicle)));
        var before = calls.read(get("/damages/" + crack)).path("observation");
        var size = before.path("diameterMm").asString();
        var longer = changed(crack, "diameterMm", "190");
        assertThat(longer).hasStatus(422);
        assertThat(InspectionCalls.text(longer))
                .contains("is of another length now: draw it anew", "Draw it anew on the glass")
                .contains("/damages/" + crack + "/observe?inspection=" + inspection);
        assertThat(calls.read(get("/damages/" + crack + "/observations")).path("items"))
                .hasSize(1);

        var observed = calls.post(
                fleet,
                Role.TECHNICIAN,
                "/damages/" + crack + "/observe",
                "vehicleId",
                vehicle,
                "inspection",
                inspection,
                "kind",
                "crack",
                "xMm",
                "300",
                "yMm",
                "400",
                "course",
                "300 400\n380 420\n420 480\n440 540",
                "layers",
                "outer",
                "condition",
                "clean-dry",
                "source",
                "gauge");
        assertThat(observed).as(() -> InspectionCalls.text(observed)).hasRedirectedUrl("/inspections/" + inspection);
        assertThat(InspectionCalls.text(calls.get(fleet, Role.TECHNICIAN, "/inspections/" + inspection)))
                .contains("Told with a drawing just now");
        assertThat(changed(crack, "drawnAnew", "true")).hasStatus3xxRedirection();
        var after = calls.read(get("/damages/" + crack + "/observations")).path("items");
        assertThat(after).as("nothing is observed a second time").hasSize(2);
        assertThat(after.get(0).path("course")).hasSize(4);
        assertThat(calls.read(get("/inspections/" + inspection))
                        .at("/findings/0/answer")
                        .asString())
                .isEqualTo("changed");

        inspection = waiting();
        assertThat(changed(
                        crack,
                        "diameterMm",
                        calls.read(get("/damages/" + crack))
                                .at("/observation/diameterMm")
                                .asString()))
                .hasStatus3xxRedirection();
        assertThat(calls.read(get("/damages/" + crack)).at("/observation/course"))
                .as("only the inside was felt anew")
                .hasSize(4);
        assertThat(size).isNotEmpty();

        var glass =
                calls.read(get("/vehicles/" + vehicle + "/damages-over-time")).path("items");
        assertThat(glass).hasSize(1);
        assertThat(glass.get(0).path("observations")).hasSize(3);
        assertThat(InspectionCalls.text(calls.call(
                        HttpMethod.GET,
                        fleet,
                        Role.TECHNICIAN,
                        "/vehicles/" + vehicle + "/damages-over-time.svg",
                        null,
                        null)))
                .contains("<svg", "All that was seen on the windscreen of QV23 KTB");
    }

    private MvcTestResult changed(String damage, String field, String value) {
        return calls.post(
                fleet,
                Role.TECHNICIAN,
                "/inspections/" + inspection,
                "grade",
                "none",
                "damages[0].damage",
                damage,
                "damages[0].answer",
                "changed",
                "damages[0].layers",
                "through",
                "damages[0]." + field,
                value);
    }

    @Test
    void aVehicleLeftForLaterComesAgainOnlyAfterTheOthers() {
        calls.vehicle(fleet, depot, "QV 2", "N1");
        calls.vehicle(fleet, depot, "QV 3", "N1");
        var all = calls.list(fleet, "?depot=" + depot)
                .valueStream()
                .map(each -> each.path("id").asString())
                .toList();
        var plates = calls.registrations(fleet, "?depot=" + depot);
        var round = "/inspections/round?depot=" + depot;
        assertThat(InspectionCalls.text(calls.get(fleet, Role.TECHNICIAN, round + "&past=" + all.get(0))))
                .contains("/inspections/" + all.get(1) + "/nothing-new", "3 left at");
        var after = InspectionCalls.text(calls.swapped(
                fleet,
                Role.TECHNICIAN,
                "/inspections/" + all.get(1) + "/nothing-new",
                "round",
                depot,
                "past",
                all.get(1)));
        assertThat(after)
                .as("the first was left for later, so the third comes before it")
                .contains("/inspections/" + all.get(2) + "/nothing-new", "2 left at", plates.get(0));
        var last = InspectionCalls.text(calls.swapped(
                fleet,
                Role.TECHNICIAN,
                "/inspections/" + all.get(2) + "/nothing-new",
                "round",
                depot,
                "past",
                all.get(2)));
        assertThat(last).contains("/inspections/" + all.get(0) + "/nothing-new", "1 left at");
    }

    @Test
    void aTechnicianSeesOnTheStartPageWhatIsDue() {
        assertThat(InspectionCalls.text(calls.get(fleet, Role.TECHNICIAN, "/")))
                .contains("Inspections due", "North yard");
        assertThat(InspectionCalls.text(calls.get(fleet, Role.DISPATCHER, "/"))).doesNotContain("Inspections due");
    }

    @Test
    void nobodyIsTakenToHaveLookedThroughGlassOfWhichTheySaidNothing() {
        var silent = result(inspection, "{\"restUnchanged\": true}");
        assertThat(silent).hasStatus(422);
        assertThat(InspectionCalls.text(silent)).contains("\"field\":\"grade\"");

        var round = calls.swapped(fleet, Role.TECHNICIAN, "/inspections/" + inspection, "round", depot, "note", "dusk");
        assertThat(round).hasStatus(422);
        assertThat(InspectionCalls.text(round))
                .contains("id=\"grade-error\"", "value=\"dusk\"", "name=\"round\"")
                .doesNotContain("<html");
        assertThat(waiting()).isEqualTo(inspection);
    }

    @Test
    void aReportBegunFromAnInspectionLeadsBackAndIsNewThere() {
        assertThat(calls.post(
                        fleet,
                        Role.TECHNICIAN,
                        "/report",
                        "vehicleId",
                        vehicle,
                        "inspection",
                        inspection,
                        "kind",
                        "pit",
                        "xMm",
                        "100",
                        "yMm",
                        "400",
                        "diameterMm",
                        "2",
                        "layers",
                        "outer"))
                .hasRedirectedUrl("/inspections/" + inspection);
        var damage =
                calls.read(get("/damages?vehicle=" + vehicle)).at("/items/0/id").asString();
        assertThat(InspectionCalls.text(calls.get(fleet, Role.TECHNICIAN, "/inspections/" + inspection)))
                .containsPattern("value=\"new\"[^>]*checked");
        assertThat(calls.post(
                        fleet,
                        Role.TECHNICIAN,
                        "/inspections/" + inspection,
                        "damages[0].damage",
                        damage,
                        "damages[0].answer",
                        "new",
                        "grade",
                        "none"))
                .hasStatus3xxRedirection();
        assertThat(calls.read(get("/inspections/" + inspection))
                        .at("/findings/0/answer")
                        .asString())
                .isEqualTo("new");
        assertThat(calls.read(get("/damages/" + damage + "/observations")).path("items"))
                .hasSize(1);
    }

    @Test
    void aYardIsWalkedThroughVehicleByVehicleWithAndWithoutSwaps() {
        calls.vehicle(fleet, depot, "QV24 CAR", "N1");
        var start = "/inspections/round?depot=" + depot;
        assertThat(InspectionCalls.text(calls.get(fleet, Role.TECHNICIAN, "/inspections/round")))
                .contains("2 due");
        var first = InspectionCalls.text(calls.get(fleet, Role.TECHNICIAN, start));
        assertThat(first)
                .contains("Nothing new", "Something to tell", "Later", "2 left at North yard", "Next")
                .contains("hx-post=\"/inspections/", "aria-keyshortcuts=\"n\"");

        var swapped =
                calls.swapped(fleet, Role.TECHNICIAN, "/inspections/" + inspection + "/nothing-new", "round", depot);
        assertThat(swapped).hasStatusOk();
        assertThat(InspectionCalls.text(swapped))
                .contains("QV23 KTB is inspected", "QV24 CAR", "1 left at North yard")
                .doesNotContain("<html", "Later");

        var typed = InspectionCalls.text(calls.get(fleet, Role.TECHNICIAN, start + "&plate=qv23ktb"));
        assertThat(typed).contains("QV23 KTB", "Nothing new");
        assertThat(InspectionCalls.text(calls.get(fleet, Role.TECHNICIAN, start + "&plate=XX")))
                .contains("No vehicle of yours has the plate XX");

        var second = calls.first(fleet, "?state=due").path("id").asString();
        assertThat(calls.post(fleet, Role.TECHNICIAN, "/inspections/" + second + "/nothing-new", "round", depot))
                .hasRedirectedUrl(start);
        assertThat(InspectionCalls.text(calls.get(fleet, Role.TECHNICIAN, start)))
                .contains("Nothing is left");
        assertThat(calls.page(fleet, Role.DISPATCHER, start)).hasStatus(403);
    }

    private String waiting() {
        return calls.first(fleet, "?vehicle=" + vehicle).path("id").asString();
    }

    private JsonNode vehicle() {
        return calls.read(get("/vehicles/" + vehicle));
    }

    private MvcTestResult get(String path) {
        return calls.call(HttpMethod.GET, fleet, Role.TECHNICIAN, path, null, null);
    }

    private MvcTestResult odometer(String body) {
        return calls.call(
                HttpMethod.POST, fleet, Role.TECHNICIAN, "/vehicles/" + vehicle + "/odometer-readings", body, null);
    }

    private MvcTestResult result(String id, String body) {
        return calls.call(HttpMethod.POST, fleet, Role.TECHNICIAN, "/inspections/" + id + "/result", body, null);
    }

    private JsonNode read(MvcTestResult result) {
        assertThat(result).as(() -> InspectionCalls.text(result)).hasStatusOk();
        return calls.read(result);
    }
}

package org.quarterlight.rulebook;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.awaitility.Awaitility.await;
import static org.quarterlight.TestOrganisations.as;

import java.math.BigDecimal;
import java.time.Clock;
import java.time.Duration;
import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.quarterlight.QuarterlightTest;
import org.quarterlight.TestOrganisation;
import org.quarterlight.TestOrganisations;
import org.quarterlight.damage.DamageReporting;
import org.quarterlight.damage.DamageView;
import org.quarterlight.damage.ReportDamage;
import org.quarterlight.damage.SeenDamage;
import org.quarterlight.damage.VerdictAgain;
import org.quarterlight.eligibility.Condition;
import org.quarterlight.eligibility.Layers;
import org.quarterlight.eligibility.Outcome;
import org.quarterlight.eligibility.Seen;
import org.quarterlight.eligibility.SheetReference;
import org.quarterlight.eligibility.Sheets;
import org.quarterlight.eligibility.Verdict;
import org.quarterlight.fleet.Depots;
import org.quarterlight.fleet.Fleet;
import org.quarterlight.fleet.SaveDepot;
import org.quarterlight.fleet.SaveVehicle;
import org.quarterlight.glass.DamageKind;
import org.quarterlight.glass.SteeringSide;
import org.quarterlight.glass.VehicleCategory;
import org.quarterlight.tenancy.Role;
import org.quarterlight.tenancy.TenantId;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.dao.DataAccessException;
import org.springframework.http.MediaType;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResult;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.support.TransactionTemplate;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;
import tools.jackson.databind.node.ObjectNode;

/** A fleet's own sheets: written, refused, published, judging, and found again behind a verdict. */
@QuarterlightTest
class OwnSheetsTests {
    private static final String SHEETS = "/api/v1/rule-sheets";

    @Autowired
    private MockMvcTester mvc;

    @Autowired
    private TestOrganisations organisations;

    @Autowired
    private Depots depots;

    @Autowired
    private Fleet fleet;

    @Autowired
    private DamageReporting damages;

    @Autowired
    private Rulebook rulebook;

    @Autowired
    private OwnSheets own;

    @Autowired
    private SheetStore store;

    @Autowired
    private SheetStarts starts;

    @Autowired
    private JdbcClient jdbc;

    @Autowired
    private JsonMapper json;

    @Autowired
    private Clock clock;

    @Autowired
    private PlatformTransactionManager transactions;

    private TestOrganisation owner;

    @BeforeEach
    void aFleet() {
        owner = organisations.fleet();
    }

    @Test
    void aCopyOfAShippedSheetIsADraftThatSaysTheSame() {
        var made = post("?from=bs-au-242b-2022&name=Ours", "");
        assertThat(made).hasStatus(201);
        var draft = body(made);
        assertThat(draft.path("name").asString()).isEqualTo("Ours");
        assertThat(made.getResponse().getHeader("Location"))
                .endsWith(SHEETS + "/" + draft.path("id").asString());
        assertThat(draft.path("rules"))
                .isEqualTo(json.readTree(Sheets.textOf("bs-au-242b-2022")).path("rules"));

        var listed = body(get(""))
                .path("items")
                .valueStream()
                .filter(item -> item.path("id").equals(draft.path("id")))
                .toList();
        assertThat(listed).singleElement().satisfies(item -> {
            assertThat(item.path("origin").asString()).isEqualTo("draft");
            assertThat(item.path("judges").asBoolean()).isFalse();
            assertThat(item.path("startedAs").asString()).isEqualTo("bs-au-242b-2022");
        });
    }

    @Test
    void aSheetIsTakenAsItWasWritten() {
        var made = post("", sheet("Pits", 7));
        assertThat(made).hasStatus(201);
        var id = body(made).path("id").asString();
        assertThat(body(get("/" + id)).at("/rules/0/limitMm").asInt()).isEqualTo(7);
    }

    @Test
    void everyMistakeIsToldWithItsLineAndField() {
        refused("{ \"id\": ", "sheet", 1, "no JSON");
        refused("[]", "sheet", 1, "");
        refused(sheet("x".repeat(60_000), 7), "name", 1, "characters");
        refused(sheet("Pits", 7).replace("\"limitMm\": 7,", ""), "rules[0].limitMm", 4, "missing");
        refused(sheet("Pits", -7), "rules[0].limitMm", 4, "");
        refused(sheet("Pits", 7).replace("pit-diameter", "diameter"), "rules[0].quantity", 4, "");
        refused(sheet("Pits", 7).replace("\"rules\"", """
            "zones": {
            "near": [{"without": {"from": "far", "zones": ["swept-area"]}}],
            "far": [{"without": {"from": "near", "zones": ["swept-area"]}}]},
            "rules"\
            """), "zones.near", 4, "drawn from itself");
        var rule = """
            {"rule": "size-2", "quantity": "pit-diameter", "bound": "more-than", "limitMm": 9, "ifBroken": "no",
             "countsFinishedRepairs": false, "source": {"document": "none", "status": "common-practice"}}]}\
            """;
        refused(sheet("Pits", 7).replaceFirst("}]}$", "},\n" + rule), "rules[1].limitMm", 7, "cannot be kept together");
    }

    @Test
    void aDraftIsChangedFromTheVersionThatWasRead() {
        var id = body(post("?from=common-practice-repair", "")).path("id").asString();
        var etag = get("/" + id).getResponse().getHeader("ETag");
        assertThat(patch(id, "{\"name\": \"Ours\"}", null)).hasStatus(428);
        assertThat(patch(id, "{\"name\": \"Ours\"}", etag)).hasStatus(200);
        assertThat(patch(id, "{\"name\": \"Mine\"}", etag)).hasStatus(412);
        assertThat(body(get("/" + id)).path("name").asString()).isEqualTo("Ours");
        assertThat(patch(id, "{\"rules\": []}", get("/" + id).getResponse().getHeader("ETag")))
                .hasStatus(422);
        assertThat(patch("common-practice-repair", "{\"name\": \"Mine\"}", etag))
                .hasStatus(409);
    }

    @Test
    void whatIsPublishedNeverChangesInCodeNorInTheDatabase() {
        var id = body(post("", sheet("Pits", 7))).path("id").asString();
        assertThat(publish(id, clockDay().minusDays(2))).hasStatus(422);
        assertThat(publish(id, clockDay().plusDays(40))).hasStatus(200);
        assertThat(publish(id, clockDay().plusDays(40))).hasStatus(409);
        assertThat(patch(id, "{\"name\": \"Mine\"}", get("/" + id).getResponse().getHeader("ETag")))
                .hasStatus(409);
        for (var statement : List.of(
                "update own_sheet_version set content = content where sheet_id = :id",
                "update own_sheet_version set state = 'DRAFT', valid_from = null, applies_from = null where sheet_id ="
                        + " :id",
                "delete from own_sheet_version where sheet_id = :id")) {
            assertThatThrownBy(() -> inTransaction(() ->
                            jdbc.sql(statement).param("id", UUID.fromString(id)).update()))
                    .isInstanceOf(DataAccessException.class)
                    .hasMessageContaining("never changes");
        }
        var next = post("/" + id + "/versions", "");
        assertThat(next).hasStatus(201);
        assertThat(body(next).path("version").asInt()).isEqualTo(2);
        assertThat(post("/" + id + "/versions", "")).hasStatus(409);
        assertThat(body(get("/" + id + "?version=1")).path("version").asInt()).isEqualTo(1);
    }

    @Test
    void onlyAManagerWritesAndEverybodyOfTheFleetReads() {
        var id = body(post("", sheet("Pits", 7))).path("id").asString();
        assertThat(publish(id, clockDay())).hasStatus(200);
        var stranger = organisations.fleet();
        for (var role : List.of(Role.DISPATCHER, Role.TECHNICIAN, Role.DRIVER, Role.ADMINISTRATOR)) {
            assertThat(readBy(role, id)).as(role.name()).hasStatus(200);
            assertThat(mvc.post()
                            .uri(SHEETS + "?from=common-practice-repair")
                            .header("Authorization", owner.bearer(role))
                            .exchange())
                    .as(role.name())
                    .hasStatus(403);
        }
        assertThat(mvc.get()
                        .uri(SHEETS + "/" + id)
                        .header("Authorization", stranger.bearer(Role.MANAGER))
                        .exchange())
                .hasStatus(404);
    }

    @Test
    void draftsAreSeenByThoseAloneWhoWorkWithRules() {
        var id = body(post("", sheet("Pits", 7))).path("id").asString();
        for (var role : List.of(Role.MANAGER, Role.DISPATCHER, Role.TECHNICIAN)) {
            assertThat(readBy(role, id)).as(role.name()).hasStatus(200);
            assertThat(listedBy(role)).as(role.name()).contains(id);
        }
        for (var role : List.of(Role.DRIVER, Role.ADMINISTRATOR)) {
            assertThat(readBy(role, id)).as(role.name()).hasStatus(404);
            assertThat(readBy(role, id + "?version=1")).as(role.name()).hasStatus(404);
            assertThat(listedBy(role)).as(role.name()).doesNotContain(id);
            assertThatThrownBy(() -> as(owner, role, () -> rulebook.sheet(id))).isInstanceOf(SheetNotFound.class);
            assertThatThrownBy(() -> as(owner, role, () -> rulebook.text(id))).isInstanceOf(SheetNotFound.class);
        }
        publish(id, clockDay());
        assertThat(post("/" + id + "/versions", "")).hasStatus(201);
        for (var role : List.of(Role.DRIVER, Role.ADMINISTRATOR)) {
            assertThat(body(readBy(role, id)).path("version").asInt())
                    .as("the published version")
                    .isEqualTo(1);
            assertThat(readBy(role, id + "?version=2")).hasStatus(404);
        }
    }

    private List<String> listedBy(Role role) {
        return body(mvc.get()
                        .uri(SHEETS)
                        .header("Authorization", owner.bearer(role))
                        .exchange())
                .path("items")
                .valueStream()
                .map(item -> item.path("id").asString())
                .toList();
    }

    @Test
    void aDraftIsDeletedAndWhatIsPublishedStays() {
        var id = body(post("", sheet("Pits", 7))).path("id").asString();
        assertThat(delete(id, null)).hasStatus(428);
        assertThat(delete(id, "\"7\"")).hasStatus(412);
        assertThat(delete(id, "\"0\"")).hasStatus(204);
        assertThat(get("/" + id)).hasStatus(404);
        assertThat(as(owner, Role.MANAGER, () -> own.all())).isEmpty();
        assertThat(as(owner, Role.MANAGER, () -> inTransaction(() -> store.count())))
                .isZero();

        var published = body(post("", sheet("Pits", 7))).path("id").asString();
        publish(published, clockDay());
        assertThat(delete(published, "\"1\"")).hasStatus(409);
        post("/" + published + "/versions", "");
        assertThat(delete(published, "\"0\"")).hasStatus(204);
        assertThat(body(get("/" + published)).path("version").asInt()).isEqualTo(1);
        assertThat(delete("common-practice-repair", "\"1\"")).hasStatus(409);
        assertThat(post("/" + published + "/versions", "")).hasStatus(201);
    }

    private MvcTestResult delete(String id, @Nullable String etag) {
        var request = mvc.delete().uri(SHEETS + "/" + id).header("Authorization", owner.bearer(Role.MANAGER));
        return (etag == null ? request : request.header("If-Match", etag)).exchange();
    }

    @Test
    void whatASheetWasStartedFromHasToBeThere() {
        assertThat(post("?from=nowhere", "")).hasStatus(404);
        assertThat(post("?from=nowhere", sheet("Pits", 7))).hasStatus(404);
        assertThat(post("?from=a%00b", sheet("Pits", 7))).hasStatus(404);
        assertThat(post("?from=common-practice-repair", sheet("Pits", 7))).hasStatus(201);
    }

    @Test
    void aChangeIsReadAsStrictlyAsASheet() {
        var id = body(post("", sheet("Pits", 7))).path("id").asString();
        for (var change : List.of(
                "{\"name\": \"A\", \"name\": \"B\"}",
                "{\"name\": \"A\\u0000\"}",
                "{\"name\": \" \"}",
                "{\"name\": \"A\\r\\nB\"}",
                "{\"version\": 1e1000}",
                "{\"rules\": [{\"limitCount\": 1e1000000000}]}",
                "{\"name\": " + "[".repeat(5000),
                "[]")) {
            var answer = patch(id, change, "\"0\"");
            assertThat(answer).as(change).hasStatus(422);
            assertThat(body(answer).at("/errors/0/line").asInt()).isPositive();
            assertThat(body(answer).toString()).doesNotContain("jackson", "Stream");
        }
        assertThat(body(patch(id, "{\"name\": \"A\", \"name\": \"B\"}", "\"0\""))
                        .at("/errors/0/field")
                        .asString())
                .isEqualTo("name");
        assertThat(patch(id, " ".repeat(600_000), "\"0\"")).hasStatus(413);
        assertThat(post("", " ".repeat(600_000) + sheet("Pits", 7))).hasStatus(413);
    }

    @Test
    void noDayLiesOutOfAllReason() {
        refused(sheet("Pits", 7).replace("2026-01-01", "9999-01-01"), "validFrom", 2, "between 1950 and 2200");
        refused(sheet("Pits", 7).replace("2026-01-01", "0000-01-01"), "validFrom", 2, "between 1950 and 2200");
        var id = body(post("", sheet("Pits", 7))).path("id").asString();
        for (var day : List.of(LocalDate.of(9999, 1, 1), clockDay().plusYears(5).plusDays(3))) {
            var answer = publish(id, day);
            assertThat(answer).hasStatus(422);
            assertThat(body(answer).at("/errors/0/field").asString()).isEqualTo("validFrom");
        }
        assertThat(publish(id, clockDay().plusYears(5).minusDays(3))).hasStatus(200);
    }

    private MvcTestResult readBy(Role role, String id) {
        return mvc.get()
                .uri(SHEETS + "/" + id)
                .header("Authorization", owner.bearer(role))
                .exchange();
    }

    @Test
    void aSheetThatDoesNotJudgeYetCannotBeChosen() {
        var id = body(post("", sheet("Pits", 7))).path("id").asString();
        assertThat(choose(List.of(id, "common-practice-repair", "common-practice-roadworthiness")))
                .hasStatus(422);
        assertThat(publish(id, clockDay())).hasStatus(200);
        assertThat(choose(List.of(id, "common-practice-repair", "common-practice-roadworthiness")))
                .hasStatus(200);
    }

    @Test
    void aVerdictIsComputedAgainToTheSameBytesFromTheVersionsItNames() {
        var id = body(post("", sheet("Pits", 7))).path("id").asString();
        publish(id, clockDay());
        choose(List.of(id, "common-practice-roadworthiness"));
        var vehicle = car();
        var damage = report(vehicle);
        assertThat(damage.verdict().outcome()).isEqualTo(Outcome.REPAIR);
        assertThat(damage.verdict().judgedFrom().sheets()).contains(new SheetReference(id, "Pits", 1));

        var etag = Objects.requireNonNull(
                body(post("/" + id + "/versions", "")).path("id").asString());
        assertThat(etag).isEqualTo(id);
        var change = (ObjectNode) json.createObjectNode();
        change.set("rules", json.readTree(sheet("Pits", 2)).path("rules"));
        as(owner, Role.MANAGER, () -> own.change(id, change, 0));
        assertThat(publish(id, clockDay())).hasStatus(200);
        await().atMost(Duration.ofSeconds(20))
                .untilAsserted(() -> assertThat(verdicts(damage)).hasSize(2));

        var both = verdicts(damage);
        assertThat(both.getFirst().judgedFrom().sheets()).contains(new SheetReference(id, "Pits", 2));
        assertThat(both.getFirst().outcome()).isNotEqualTo(Outcome.REPAIR);
        as(
                owner,
                Role.MANAGER,
                () -> rulebook.choose(
                        new ChooseRules(Map.of(), new BigDecimal("0.2"), null, new BigDecimal("9"), null, null, null),
                        rulebook.version()));
        report(vehicle);
        assertThat(as(owner, Role.MANAGER, () -> damages.verdictsAgain(damage.id())))
                .as("whatever was chosen and seen on the glass since")
                .hasSizeGreaterThanOrEqualTo(2)
                .allMatch(each -> each.again() == VerdictAgain.Again.SAME);
    }

    @Test
    void aFleetIsJudgedAgainOnTheDayOfASheetOnce() {
        var id = body(post("", sheet("Pits", 7))).path("id").asString();
        publish(id, clockDay());
        choose(List.of(id, "common-practice-roadworthiness"));
        var damage = report(car());
        as(owner, Role.MANAGER, () -> own.startVersion(id));
        var change = (ObjectNode) json.createObjectNode();
        change.set("rules", json.readTree(sheet("Pits", 2)).path("rules"));
        var draft = as(owner, Role.MANAGER, () -> own.change(id, change, 0));
        var soon = clock.instant().plusMillis(1500);
        inTransaction(() -> store.publish(draft, draft.text(), clockDay(), soon, "Test"));

        starts.begin();
        assertThat(verdicts(damage)).as("its time has not come").hasSize(1);
        assertThat(as(owner, Role.MANAGER, () -> rulebook.sheet(id)).version()).isEqualTo(1);
        await().until(() -> clock.instant().isAfter(soon));
        assertThat(as(owner, Role.MANAGER, () -> rulebook.sheet(id)).version()).isEqualTo(2);
        starts.begin();
        starts.begin();

        await().atMost(Duration.ofSeconds(20))
                .untilAsserted(() -> assertThat(verdicts(damage)).hasSize(2));
        assertThat(inTransaction(() -> store.waiting())).doesNotContain(new TenantId(owner.id()));
    }

    private List<Verdict> verdicts(DamageView damage) {
        return as(owner, Role.MANAGER, () -> damages.verdicts(damage.id()));
    }

    private UUID car() {
        return as(owner, Role.MANAGER, () -> {
            var depot = depots.create(new SaveDepot(
                    "Yard",
                    "1 Yard Lane",
                    new BigDecimal("52"),
                    new BigDecimal("-1"),
                    "Europe/London",
                    "GB",
                    null,
                    null,
                    0,
                    null));
            return fleet.create(new SaveVehicle(
                            depot.id(), "QV21 ABC", null, VehicleCategory.M1, null, SteeringSide.RIGHT, "", "", ""))
                    .id();
        });
    }

    private DamageView report(UUID vehicle) {
        var seen = new SeenDamage(
                new BigDecimal("300"),
                new BigDecimal("420"),
                null,
                null,
                new BigDecimal("12"),
                new BigDecimal("0.3"),
                new BigDecimal("4"),
                null,
                Layers.OUTER,
                Condition.CLEAN_DRY,
                Seen.GAUGE,
                null,
                null);
        return as(
                owner,
                Role.MANAGER,
                () -> damages.report(new ReportDamage(vehicle, DamageKind.STAR_BREAK, null, seen)));
    }

    private void refused(String text, String field, int line, String message) {
        var answer = post("", text);
        assertThat(answer).as(text.substring(0, Math.min(300, text.length()))).hasStatus(422);
        assertThat(body(answer).path("errors").valueStream())
                .as(body(answer).toString())
                .anySatisfy(error -> {
                    assertThat(error.path("field").asString()).isEqualTo(field);
                    assertThat(error.path("line").asInt()).isEqualTo(line);
                    assertThat(error.path("message").asString()).contains(message);
                });
    }

    private static String sheet(String name, int limitMm) {
        return """
            {"id": "pits", "name": "%s", "version": 1,
             "question": "repairable", "validFrom": "2026-01-01",
             "rules": [
              {"rule": "size", "quantity": "pit-diameter", "bound": "at-most", "limitMm": %d, "ifBroken": "no",
               "countsFinishedRepairs": false,
               "source": {"document": "none", "status": "common-practice"}}]}\
            """.formatted(name, limitMm);
    }

    private MvcTestResult choose(List<String> sheets) {
        var version = as(owner, Role.MANAGER, () -> rulebook.chosen()).version();
        return mvc.patch()
                .uri(SHEETS + "/chosen")
                .header("Authorization", owner.bearer(Role.MANAGER))
                .header("If-Match", "\"" + version + "\"")
                .contentType(MediaType.APPLICATION_JSON)
                .content(json.writeValueAsString(Map.of("sheets", Map.of("M1", sheets))))
                .exchange();
    }

    private MvcTestResult publish(String id, LocalDate from) {
        return post("/" + id + "/publish", "{\"validFrom\": \"" + from + "\"}");
    }

    private LocalDate clockDay() {
        return LocalDate.now(clock);
    }

    private MvcTestResult get(String path) {
        return mvc.get()
                .uri(SHEETS + path)
                .header("Authorization", owner.bearer(Role.MANAGER))
                .exchange();
    }

    private MvcTestResult post(String path, String body) {
        return mvc.post()
                .uri(SHEETS + path)
                .header("Authorization", owner.bearer(Role.MANAGER))
                .contentType(MediaType.APPLICATION_JSON)
                .content(body)
                .exchange();
    }

    private MvcTestResult patch(String id, String body, @Nullable String etag) {
        var request = mvc.patch()
                .uri(SHEETS + "/" + id)
                .header("Authorization", owner.bearer(Role.MANAGER))
                .contentType(MediaType.APPLICATION_JSON)
                .content(body);
        if (etag != null) {
            request.header("If-Match", etag);
        }
        return request.exchange();
    }

    private JsonNode body(MvcTestResult answer) {
        return json.readTree(answer.getResponse().getContentAsByteArray());
    }

    private <T extends @Nullable Object> T inTransaction(java.util.function.Supplier<T> work) {
        return as(owner, Role.MANAGER, () -> new TransactionTemplate(transactions).execute(status -> work.get()));
    }
}

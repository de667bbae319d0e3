package org.quarterlight.damage;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;
import static org.quarterlight.TestCsrf.csrf;
import static org.quarterlight.TestOrganisations.as;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.authentication;

import java.math.BigDecimal;
import java.time.Duration;
import java.time.LocalDate;
import java.util.List;
import java.util.Objects;
import java.util.UUID;
import java.util.stream.IntStream;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.quarterlight.QuarterlightTest;
import org.quarterlight.TestOrganisation;
import org.quarterlight.TestOrganisations;
import org.quarterlight.account.Partners;
import org.quarterlight.agreement.PriceAgreements;
import org.quarterlight.agreement.SavePrices;
import org.quarterlight.eligibility.Condition;
import org.quarterlight.eligibility.Layers;
import org.quarterlight.eligibility.Outcome;
import org.quarterlight.eligibility.Seen;
import org.quarterlight.fleet.Depots;
import org.quarterlight.fleet.Fleet;
import org.quarterlight.fleet.SaveDepot;
import org.quarterlight.fleet.SaveVehicle;
import org.quarterlight.glass.DamageKind;
import org.quarterlight.glass.SteeringSide;
import org.quarterlight.glass.VehicleCategory;
import org.quarterlight.kernel.Money;
import org.quarterlight.rulebook.ChooseRules;
import org.quarterlight.rulebook.OwnSheets;
import org.quarterlight.rulebook.PublishSheet;
import org.quarterlight.rulebook.Rulebook;
import org.quarterlight.rulebook.SaveCostRates;
import org.quarterlight.tenancy.Role;
import org.quarterlight.web.ActingAuthentication;
import org.quarterlight.web.SliceRequest;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResult;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.support.TransactionTemplate;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;
import tools.jackson.databind.node.ObjectNode;

/** Trying a sheet on a fleet: what it counts, that it changes nothing, and that publishing brings what it said. */
@QuarterlightTest
class SheetPreviewsTests {
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
    private SheetPreviews previews;

    @Autowired
    private Partners partners;

    @Autowired
    private PriceAgreements prices;

    @Autowired
    private JsonMapper json;

    @Autowired
    private PlatformTransactionManager transactions;

    private TestOrganisation owner;
    private UUID depot;

    @BeforeEach
    void aFleetJudgedByASheetOfItsOwn() {
        owner = organisations.fleet();
        depot = as(owner, Role.MANAGER, () -> depots.create(yard())).id();
    }

    @Test
    void countsFromOutcomeToOutcomeAndChangesNothing() {
        var sheet = judging(30);
        var small = report(0, "8");
        var large = report(1, "20");
        draft(sheet, 10);

        var answer = post("/api/v1/rule-sheets/" + sheet + "/preview", "{}");
        assertThat(answer).hasStatus(200);
        var preview = body(answer);
        assertThat(preview.path("state").asString()).isEqualTo("done");
        assertThat(preview.at("/replaces/id").asString()).isEqualTo(sheet);
        assertThat(preview.at("/sheet/version").asInt()).isEqualTo(2);
        assertThat(preview.path("cost").isNull()).isTrue();
        assertThat(damages(preview, "repair", "repair")).isEqualTo(1);
        assertThat(damages(preview, "repair", "watch")).isEqualTo(1);
        for (var damage : List.of(small, large)) {
            assertThat(as(owner, Role.MANAGER, () -> damages.verdicts(damage.id())))
                    .as("nothing is judged by it")
                    .hasSize(1);
        }

        var behind = body(
                get("/api/v1/rule-sheets/previews/" + preview.path("id").asString() + "/damages?from=repair&to=watch"));
        assertThat(behind.path("items")).hasSize(1);
        assertThat(behind.at("/items/0/damage").asString()).isEqualTo(large.id().toString());
        assertThat(behind.at("/items/0/registration").asString()).isEqualTo("QV40 1");
    }

    @Test
    void whatItSaidComesTrueWhenItIsPublished() {
        var sheet = judging(30);
        var reported = IntStream.range(0, 12)
                .mapToObj(number -> report(number, Integer.toString(5 + 3 * number)))
                .toList();
        draft(sheet, 17);
        var said = as(owner, Role.MANAGER, () -> previews.start(sheet, new PreviewSheet(null)));
        assertThat(said.judged()).isEqualTo(12);
        var then = as(owner, Role.MANAGER, () -> previews.damages(said.id(), null, null, new SliceRequest(200, null)))
                .items();

        as(owner, Role.MANAGER, () -> own.publish(sheet, new PublishSheet(today()), null));

        await().atMost(Duration.ofSeconds(30)).untilAsserted(() -> {
            for (var damage : reported) {
                var predicted = then.stream()
                        .filter(each -> each.damage().equals(damage.id()))
                        .findFirst()
                        .orElseThrow();
                assertThat(as(owner, Role.MANAGER, () -> damages.damage(damage.id()))
                                .verdict()
                                .outcome())
                        .isEqualTo(predicted.to());
            }
        });
    }

    @Test
    void reckonsWithTheFleetsOwnFigures() {
        var sheet = judging(30);
        report(0, "8");
        report(1, "20");
        as(owner, Role.MANAGER, () -> rulebook.reckonWith(new SaveCostRates(5000L, 40000L, "GBP"), 0));
        draft(sheet, 10);
        var cost = Objects.requireNonNull(as(owner, Role.MANAGER, () -> previews.start(sheet, new PreviewSheet(null)))
                .cost());
        assertThat(cost.present().amountMinor()).isEqualTo(10000);
        assertThat(cost.proposed().amountMinor()).isEqualTo(5000);
        assertThat(cost.difference().amountMinor()).isEqualTo(-5000);
    }

    /** Both with the call-out: 49 + 25 for a repair, 320 + 25 for new glass. */
    @Test
    void reckonsWithPricesAgreedWithAPartnerUntilTheFleetHasItsOwn() {
        var sheet = judging(30);
        report(0, "8");
        report(1, "20");
        draft(sheet, 10);
        var repairer = organisations.repairer();
        organisations.join(owner, repairer);
        var partner = as(owner, Role.MANAGER, () -> partners.list(null, SliceRequest.first()))
                .items()
                .getFirst();
        var proposed = as(
                owner,
                Role.MANAGER,
                () -> prices.propose(
                        partner.id(),
                        new SavePrices(LocalDate.now().minusDays(3), "GBP", 4900L, 1900L, 2500L, 32000L, null)));
        assertThat(tried(sheet)).as("nobody has accepted them").isNull();

        as(repairer, Role.DISPATCHER, () -> prices.accept(partner.id(), proposed.id()));
        var cost = Objects.requireNonNull(tried(sheet));
        assertThat(cost.agreedWith()).isEqualTo(partner.repairerName());
        assertThat(cost.present()).isEqualTo(new Money(2 * 7400, "GBP"));
        assertThat(cost.proposed()).as("one is repaired, the other watched").isEqualTo(new Money(7400, "GBP"));
        assertThat(cost.difference()).isEqualTo(new Money(-7400, "GBP"));
        var listed = body(get("/api/v1/rule-sheets/previews")).at("/items/0");
        assertThat(listed.path("standDowns").isNull())
                .as("not counted in a list")
                .isTrue();
        assertThat(listed.path("cost").isNull()).isTrue();

        as(owner, Role.MANAGER, () -> rulebook.reckonWith(new SaveCostRates(5000L, 40000L, "GBP"), 0));
        assertThat(Objects.requireNonNull(tried(sheet)).agreedWith()).isNull();
    }

    private PreviewView.@Nullable Cost tried(String sheet) {
        return as(owner, Role.MANAGER, () -> previews.start(sheet, new PreviewSheet(null)))
                .cost();
    }

    @Test
    void aShippedSheetIsTriedInPlaceOfAnotherOrBesideAll() {
        report(0, "30");
        var beside =
                as(owner, Role.MANAGER, () -> previews.start("common-practice-repair-coin", new PreviewSheet(null)));
        assertThat(beside.replaces()).isNull();
        assertThat(beside.damages(Outcome.REPAIR, Outcome.WATCH)).isEqualTo(1);
        var instead = as(
                owner,
                Role.MANAGER,
                () -> previews.start("common-practice-repair", new PreviewSheet("bs-au-242b-2022")));
        assertThat(instead.judged()).isEqualTo(1);
        assertThat(post(
                        "/api/v1/rule-sheets/common-practice-repair/preview",
                        "{\"replaces\": \"uk-cars-roadworthiness\"}"))
                .hasStatus(422);
        assertThat(post("/api/v1/rule-sheets/common-practice-repair/preview", "{\"replaces\": \"nowhere\"}"))
                .hasStatus(422);
    }

    @Test
    void whatTakesLongerThanAnybodyWaitsGoesOnByItselfAndCanBeStopped() {
        var sheet = judging(30);
        for (var number = 0; number < 45; number++) { // more than the windscreens of a first step
            report(number, "8");
        }
        draft(sheet, 10);
        var started = as(owner, Role.MANAGER, () -> previews.start(sheet, new PreviewSheet(null), Duration.ofNanos(1)));
        var location = "/api/v1/rule-sheets/previews/" + started.id();
        assertThat(body(get("/api/v1/rule-sheets/previews")).at("/items/0/id").asString())
                .isEqualTo(started.id().toString());
        await().atMost(Duration.ofSeconds(30)).untilAsserted(() -> {
            var made = body(get(location));
            assertThat(made.path("state").asString()).isEqualTo("done");
            assertThat(made.path("done")).isEqualTo(made.path("total"));
            assertThat(damages(made, "repair", "repair")).isEqualTo(45);
        });
        var stopped = body(post(location + "/cancel", ""));
        assertThat(stopped.path("state").asString()).as("ended already").isEqualTo("done");

        var next = as(owner, Role.MANAGER, () -> previews.start(sheet, new PreviewSheet(null), Duration.ofNanos(1)));
        assertThat(body(post("/api/v1/rule-sheets/previews/" + next.id() + "/cancel", ""))
                        .path("state")
                        .asString())
                .isIn("cancelled", "done");
    }

    /** Judging inside the transaction that starts it would hold that for as long as a sheet likes to take. */
    @Test
    void isKeptBeforeItsFirstWindscreenIsJudged() {
        var sheet = judging(30);
        report(0, "8");
        draft(sheet, 10);
        var within = as(
                owner,
                Role.MANAGER,
                () -> new TransactionTemplate(transactions)
                        .execute(status -> previews.start(sheet, new PreviewSheet(null), Duration.ofMillis(200))));
        assertThat(Objects.requireNonNull(within).state())
                .as("begins when the transaction has ended")
                .isEqualTo(PreviewState.RUNNING);
        await().atMost(Duration.ofSeconds(30))
                .untilAsserted(() -> assertThat(body(get("/api/v1/rule-sheets/previews/" + within.id()))
                                .path("state")
                                .asString())
                        .isEqualTo("done"));
    }

    @Test
    void thePageShowsTheTableTheDamagesBehindItAndTheCosts() {
        var sheet = judging(30);
        report(0, "8");
        report(1, "20");
        draft(sheet, 10);
        assertThat(page("/rule-sheets/" + sheet + "/preview")).contains("In place of", "Try it");
        var started = mvc.post()
                .uri("/rule-sheets/" + sheet + "/preview")
                .with(authentication(new ActingAuthentication(owner.person(Role.MANAGER))))
                .with(csrf())
                .param("replaces", sheet)
                .exchange();
        assertThat(started).hasStatus3xxRedirection();
        var result = Objects.requireNonNull(started.getResponse().getRedirectedUrl());
        assertThat(page(result))
                .contains("1 of 2 damages come out otherwise", "1 from Repair to Watch")
                .contains("Nobody has said what a repair and a replacement cost you");
        assertThat(page(result + "?from=repair&to=watch")).contains("From repair to watch", "QV40 1");
    }

    private static LocalDate today() {
        return LocalDate.now(java.time.ZoneId.of("Europe/London"));
    }

    /** A sheet that allows repairs of up to so many mm, by which cars are judged. */
    private String judging(int limitMm) {
        return as(owner, Role.MANAGER, () -> {
            var id = own.create(text(limitMm), null).id().toString();
            own.publish(id, new PublishSheet(today()), null);
            rulebook.choose(
                    new ChooseRules(
                            java.util.Map.of(VehicleCategory.M1, List.of(id, "common-practice-roadworthiness")),
                            null,
                            null,
                            null,
                            null,
                            null,
                            null),
                    rulebook.version());
            return id;
        });
    }

    private void draft(String sheet, int limitMm) {
        as(owner, Role.MANAGER, () -> {
            var draft = own.startVersion(sheet);
            var change = (ObjectNode) json.createObjectNode();
            change.set("rules", json.readTree(text(limitMm)).path("rules"));
            return own.change(sheet, change, draft.version());
        });
    }

    private static String text(int limitMm) {
        return """
            {"id": "size", "name": "Size", "version": 1, "question": "repairable", "validFrom": "2026-01-01",
             "rules": [
              {"rule": "size", "quantity": "overall-diameter", "bound": "at-most", "limitMm": %d, "ifBroken": "no",
               "countsFinishedRepairs": false,
               "source": {"document": "none", "status": "common-practice"}}]}\
            """.formatted(limitMm);
    }

    private DamageView report(int number, String diameterMm) {
        return as(owner, Role.MANAGER, () -> {
            var vehicle = fleet.create(new SaveVehicle(
                    depot, "QV40 " + number, null, VehicleCategory.M1, null, SteeringSide.RIGHT, "", "", ""));
            var seen = new SeenDamage(
                    new BigDecimal("400"),
                    new BigDecimal("420"),
                    null,
                    null,
                    new BigDecimal(diameterMm),
                    new BigDecimal("0.3"),
                    null,
                    null,
                    Layers.OUTER,
                    Condition.CLEAN_DRY,
                    Seen.GAUGE,
                    null,
                    null);
            return damages.report(new ReportDamage(vehicle.id(), DamageKind.STAR_BREAK, null, seen));
        });
    }

    private static int damages(JsonNode preview, String from, String to) {
        return preview.path("cells")
                .valueStream()
                .filter(cell -> cell.path("from").asString().equals(from)
                        && cell.path("to").asString().equals(to))
                .mapToInt(cell -> cell.path("damages").asInt())
                .sum();
    }

    private static SaveDepot yard() {
        return new SaveDepot(
                "Yard",
                "1 Yard Lane",
                new BigDecimal("52"),
                new BigDecimal("-1"),
                "Europe/London",
                "GB",
                null,
                null,
                0,
                null);
    }

    private MvcTestResult get(String path) {
        return mvc.get()
                .uri(path)
                .header("Authorization", owner.bearer(Role.MANAGER))
                .exchange();
    }

    private MvcTestResult post(String path, String body) {
        var request = mvc.post().uri(path).header("Authorization", owner.bearer(Role.MANAGER));
        if (!body.isEmpty()) {
            request.contentType("application/json").content(body);
        }
        return request.exchange();
    }

    private String page(String path) {
        var answer = mvc.get()
                .uri(path)
                .with(authentication(new ActingAuthentication(owner.person(Role.MANAGER))))
                .exchange();
        assertThat(answer).hasStatus(200);
        return new String(answer.getResponse().getContentAsByteArray(), java.nio.charset.StandardCharsets.UTF_8);
    }

    private JsonNode body(MvcTestResult answer) {
        return json.readTree(answer.getResponse().getContentAsByteArray());
    }
}

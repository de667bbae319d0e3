package org.quarterlight.damage;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;
import static org.quarterlight.TestOrganisations.as;

import java.math.BigDecimal;
import java.time.Duration;
import java.time.Instant;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.quarterlight.QuarterlightTest;
import org.quarterlight.TestOrganisation;
import org.quarterlight.TestOrganisations;
import org.quarterlight.eligibility.Condition;
import org.quarterlight.eligibility.Layers;
import org.quarterlight.eligibility.Outcome;
import org.quarterlight.eligibility.Seen;
import org.quarterlight.fleet.Depots;
import org.quarterlight.fleet.Fleet;
import org.quarterlight.fleet.SaveDepot;
import org.quarterlight.fleet.SaveVehicle;
import org.quarterlight.fleet.VehicleFilter;
import org.quarterlight.fleet.VehicleView;
import org.quarterlight.glass.DamageKind;
import org.quarterlight.glass.SteeringSide;
import org.quarterlight.glass.VehicleCategory;
import org.quarterlight.rulebook.ChooseRules;
import org.quarterlight.rulebook.Rulebook;
import org.quarterlight.rulebook.RulesChosen;
import org.quarterlight.tenancy.Role;
import org.quarterlight.tenancy.TenantEvent;
import org.quarterlight.tenancy.TenantId;
import org.quarterlight.web.SliceRequest;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.modulith.events.IncompleteEventPublications;
import org.springframework.modulith.events.core.EventSerializer;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.transaction.support.TransactionTemplate;

/** When a verdict is given anew, and what that does to the vehicle. */
@QuarterlightTest
class JudgingAgainTests {
    private static final SliceRequest FEW = new SliceRequest(10, null);

    @Autowired
    private TestOrganisations organisations;

    @Autowired
    private Depots depots;

    @Autowired
    private Fleet fleet;

    @Autowired
    private Rulebook rulebook;

    @Autowired
    private DamageReporting damages;

    @Autowired
    private MockMvcTester mvc;

    @Autowired
    private JdbcClient jdbc;

    @Autowired
    private TransactionTemplate transaction;

    @Autowired
    private EventSerializer serializer;

    @Autowired
    private IncompleteEventPublications incomplete;

    private TestOrganisation owner;
    private UUID depot;
    private VehicleView vehicle;

    @BeforeEach
    void aCar() {
        owner = organisations.fleet();
        depot = as(owner, Role.MANAGER, () -> depots.create(yard("GB"))).id();
        vehicle = as(owner, Role.MANAGER, () -> fleet.create(of(VehicleCategory.M1, null)));
    }

    @Test
    void anotherCategoryIsJudgedByItsOwnSheets() {
        var damage = report("300", "12", Layers.OUTER);
        assertThat(sheetsOf(damage.id())).anyMatch(name -> name.contains("cars"));

        as(owner, Role.MANAGER, () -> fleet.change(vehicle.id(), of(VehicleCategory.N3, 18_000), now().version()));

        await().untilAsserted(() -> assertThat(sheetsOf(damage.id()))
                .anyMatch(name -> name.contains("goods"))
                .noneMatch(name -> name.contains("cars")));
    }

    @Test
    void anotherCountryOfTheDepotIsJudgedByItsOwnSheets() {
        var damage = report("300", "12", Layers.OUTER);
        var before = sheetsOf(damage.id());
        var version = as(owner, Role.MANAGER, () -> depots.depot(depot)).version();

        as(owner, Role.MANAGER, () -> depots.change(depot, yard("DE"), version));

        await().untilAsserted(() -> assertThat(sheetsOf(damage.id())).isNotEqualTo(before));
    }

    @Test
    void anotherChoiceOfRulesIsCarriedThroughAFleetOfManyGlasses() {
        var reported = IntStream.range(0, DamageReporting.JUDGED_AT_ONCE + 5)
                .mapToObj(number -> {
                    var one = as(
                            owner,
                            Role.MANAGER,
                            () -> fleet.create(new SaveVehicle(
                                    depot,
                                    "QV30 " + number,
                                    null,
                                    VehicleCategory.M1,
                                    null,
                                    SteeringSide.RIGHT,
                                    "",
                                    "",
                                    "")));
                    return as(
                                    owner,
                                    Role.MANAGER,
                                    () -> damages.report(new ReportDamage(
                                            one.id(), DamageKind.STAR_BREAK, null, seen("300", "12", Layers.OUTER))))
                            .id();
                })
                .toList();
        var sheets = List.of("common-practice-repair", "common-practice-roadworthiness");
        as(
                owner,
                Role.MANAGER,
                () -> rulebook.choose(
                        new ChooseRules(Map.of(VehicleCategory.M1, sheets), null, null, null, null, null, null),
                        rulebook.version()));

        await().atMost(Duration.ofMinutes(1)).untilAsserted(() -> {
            for (var damage : reported) {
                assertThat(sheetsOf(damage))
                        .allMatch(name -> name.toLowerCase(Locale.ROOT).contains("common practice"));
            }
        });
        assertThat(as(owner, Role.MANAGER, () -> damages.verdicts(reported.getLast())))
                .as("judged when reported, and once by the new choice")
                .hasSize(2);
    }

    /** As after a kill: some are judged, and what tells of the rest lies in the table unheard. It may be told twice. */
    @Test
    void aJudgingThatAStoppedServiceLeftGoesOnAndJudgesEachDamageOnce() {
        var cars = IntStream.range(0, 3)
                .mapToObj(number -> as(
                        owner,
                        Role.MANAGER,
                        () -> fleet.create(new SaveVehicle(
                                depot,
                                "QV31 " + number,
                                null,
                                VehicleCategory.M1,
                                null,
                                SteeringSide.RIGHT,
                                "",
                                "",
                                ""))))
                .toList();
        var reported = cars.stream()
                .map(car -> as(
                        owner,
                        Role.MANAGER,
                        () -> damages.report(new ReportDamage(
                                car.id(), DamageKind.STAR_BREAK, null, seen("300", "12", Layers.OUTER)))))
                .sorted(Comparator.comparing(each -> each.windscreen().toString()))
                .map(DamageView::id)
                .toList();
        var windscreens = reported.stream()
                .map(id -> as(owner, Role.MANAGER, () -> damages.damage(id)).windscreen())
                .toList();
        var tenant = owner.id();
        var version = as(owner, Role.MANAGER, () -> rulebook.version()) + 1;
        // The present telling finds all of it done; nothing is judged yet.
        judgedTo(version, new UUID(-1, -1));
        as(
                owner,
                Role.MANAGER,
                () -> rulebook.choose(
                        new ChooseRules(
                                Map.of(
                                        VehicleCategory.M1,
                                        List.of("common-practice-repair", "common-practice-roadworthiness")),
                                null,
                                null,
                                null,
                                null,
                                null,
                                null),
                        version - 1));
        await().untilAsserted(() -> assertThat(unheard()).isZero());
        assertThat(verdictsOf(reported)).containsExactly(1, 1, 1);

        judgedTo(version, windscreens.getFirst());
        leaveUnheard(new JudgingGoesOn(new TenantId(tenant), version, windscreens.getFirst()));
        leaveUnheard(new JudgingGoesOn(new TenantId(tenant), version, windscreens.getFirst()));
        leaveUnheard(new RulesChosen(new TenantId(tenant), version));
        assertThat(as(owner, Role.MANAGER, () -> damages.leftToJudge())).isEqualTo(2);
        assertThat(mvc.get()
                        .uri("/api/v1/rule-sheets/judging")
                        .header("Authorization", owner.bearer(Role.TECHNICIAN))
                        .exchange())
                .hasStatusOk()
                .bodyJson()
                .isStrictlyEqualTo("{\"leftToJudge\": 2}");

        incomplete.resubmitIncompletePublicationsOlderThan(Duration.ofMinutes(1));
        await().atMost(Duration.ofMinutes(1))
                .untilAsserted(() -> assertThat(unheard()).isZero());
        assertThat(verdictsOf(reported)).as("the first was judged before").containsExactly(1, 2, 2);
        assertThat(as(owner, Role.MANAGER, () -> damages.leftToJudge())).isZero();
    }

    private void judgedTo(int version, UUID windscreen) {
        as(
                owner,
                Role.MANAGER,
                () -> transaction.execute(status -> jdbc.sql("""
                insert into judging (tenant_id, version, judged_to, begun_at) values (:tenant, :version, :to, now())
                on conflict (tenant_id) do update set version = :version, judged_to = :to\
                """)
                        .param("tenant", owner.id())
                        .param("version", version)
                        .param("to", windscreen)
                        .update()));
    }

    private void leaveUnheard(TenantEvent event) {
        jdbc.sql("""
            insert into event_publication (id, listener_id, event_type, serialized_event, publication_date, status,
                completion_attempts)
            values (:id, :listener, :type, :event, now() - interval '1 hour', 'PROCESSING', 1)\
            """)
                .param("id", UUID.randomUUID())
                .param(
                        "listener",
                        DamageReporting.class.getName() + ".on("
                                + event.getClass().getName() + ")")
                .param("type", event.getClass().getName())
                .param("event", serializer.serialize(event))
                .update();
    }

    private long unheard() {
        return jdbc.sql("select count(*) from event_publication where serialized_event like :tenant")
                .param("tenant", "%" + owner.id() + "%")
                .query(Long.class)
                .single();
    }

    private List<Integer> verdictsOf(List<UUID> reported) {
        return reported.stream()
                .map(id -> as(owner, Role.MANAGER, () -> damages.verdicts(id)).size())
                .toList();
    }

    @Test
    void whatSomebodyHasClearedStaysOnTheRoadUntilThereIsNews() {
        var damage = report("0", "30", Layers.THROUGH);
        assertThat(damage.verdict().outcome()).isEqualTo(Outcome.STAND_DOWN);
        assertThat(now().standsDownSince()).isNotNull();
        assertThat(offTheRoad()).containsExactly(vehicle.id());
        as(owner, Role.MANAGER, () -> fleet.clearStandDown(vehicle.id(), "Looked at again, held by film."));

        as(owner, Role.MANAGER, () -> {
            damages.takeInHand(List.of(damage.id()), UUID.randomUUID());
            return 0;
        });
        assertThat(now().standsDownSince()).isNull();
        assertThat(offTheRoad()).isEmpty();

        as(
                owner,
                Role.MANAGER,
                () -> damages.observe(damage.id(), new ObserveDamage(null, null, seen("0", "34", Layers.THROUGH))));
        assertThat(now().standsDownSince()).isNotNull();
    }

    @Test
    void aVehicleStandsDownUntilItIsClearedAlsoWhereNothingIsOpenAnyMore() {
        var damage = report("0", "30", Layers.THROUGH);
        as(owner, Role.MANAGER, () -> damages.withdraw(damage.id(), "A sticker."));

        assertThat(now().openDamages()).isZero();
        assertThat(offTheRoad()).containsExactly(vehicle.id());
    }

    @Test
    void eachObservationMovesTheVersionThatPagesAndProgramsCompare() {
        var damage = report("300", "12", Layers.OUTER);
        var again = as(
                owner,
                Role.MANAGER,
                () -> damages.observe(damage.id(), new ObserveDamage(null, null, seen("300", "12", Layers.OUTER))));
        assertThat(again.version()).isGreaterThan(damage.version());
    }

    @Test
    void whatWasSeenEarlierAndToldLateChangesNothingOfToday() {
        var damage = report("300", "12", Layers.OUTER);
        var yesterday = Instant.now().minus(Duration.ofDays(1));
        var told = as(
                owner,
                Role.MANAGER,
                () -> damages.observe(
                        damage.id(),
                        new ObserveDamage(DamageKind.BULLSEYE, yesterday, seen("300", "6", Layers.OUTER))));

        assertThat(told.kind()).isEqualTo(DamageKind.STAR_BREAK);
        assertThat(told.observation().diameterMm()).isEqualByComparingTo("12");
        var row = as(owner, Role.MANAGER, () -> damages.list(DamageFilter.ofVehicle(vehicle.id()), FEW))
                .items()
                .getFirst();
        assertThat(row.diameterMm()).isEqualByComparingTo("12");
    }

    private VehicleView now() {
        return as(owner, Role.MANAGER, () -> fleet.read(vehicle.id()));
    }

    private List<UUID> offTheRoad() {
        return as(owner, Role.MANAGER, () -> fleet.vehicles(VehicleFilter.offTheRoad(), FEW)).items().stream()
                .map(VehicleView::id)
                .toList();
    }

    private Set<String> sheetsOf(UUID damage) {
        return as(owner, Role.MANAGER, () -> damages.damage(damage)).verdict().findings().stream()
                .map(finding -> Objects.requireNonNull(finding.sheet()).name())
                .collect(Collectors.toSet());
    }

    private DamageView report(String xMm, String diameterMm, Layers layers) {
        return as(
                owner,
                Role.MANAGER,
                () -> damages.report(
                        new ReportDamage(vehicle.id(), DamageKind.STAR_BREAK, null, seen(xMm, diameterMm, layers))));
    }

    private static SeenDamage seen(String xMm, String diameterMm, Layers layers) {
        return new SeenDamage(
                new BigDecimal(xMm),
                new BigDecimal("420"),
                null,
                null,
                new BigDecimal(diameterMm),
                null,
                null,
                null,
                layers,
                Condition.CLEAN_DRY,
                Seen.GAUGE,
                null,
                null);
    }

    private static SaveDepot yard(String country) {
        return new SaveDepot(
                "Yard",
                "1 Yard Lane",
                new BigDecimal("52"),
                new BigDecimal("-1"),
                "Europe/London",
                country,
                null,
                null,
                0,
                null);
    }

    private SaveVehicle of(VehicleCategory category, @Nullable Integer massKg) {
        return new SaveVehicle(depot, "QV21 ABC", null, category, massKg, SteeringSide.RIGHT, "", "", "");
    }
}

package org.quarterlight.damage;

import static java.util.Objects.requireNonNull;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.quarterlight.TestOrganisations.as;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.authentication;

import java.io.UnsupportedEncodingException;
import java.math.BigDecimal;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.TimeUnit;
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
import org.quarterlight.eligibility.Quantity;
import org.quarterlight.eligibility.Seen;
import org.quarterlight.fleet.Depots;
import org.quarterlight.fleet.Fleet;
import org.quarterlight.fleet.SaveDepot;
import org.quarterlight.fleet.SaveVehicle;
import org.quarterlight.glass.DamageKind;
import org.quarterlight.glass.SteeringSide;
import org.quarterlight.glass.VehicleCategory;
import org.quarterlight.inspection.AskInspection;
import org.quarterlight.inspection.Inspections;
import org.quarterlight.tenancy.Role;
import org.quarterlight.web.ActingAuthentication;
import org.quarterlight.web.SliceRequest;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.test.web.servlet.assertj.MvcTestResult;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.support.TransactionTemplate;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** What several looks at a damage tell, and when its verdict turns. */
@QuarterlightTest
class DamageGrowthTests {
    private static final ZoneId ZONE = ZoneId.of("Europe/London");

    @Autowired
    private TestOrganisations organisations;

    @Autowired
    private Depots depots;

    @Autowired
    private Fleet fleet;

    @Autowired
    private DamageReporting reporting;

    @Autowired
    private DamageGrowth growth;

    @Autowired
    private Inspections inspections;

    @Autowired
    private GrowthWatch watch;

    @Autowired
    private DamageRepository damages;

    @Autowired
    private PlatformTransactionManager transactions;

    @Autowired
    private GrowthCatchUp catchUp;

    @Autowired
    private JdbcClient jdbc;

    @Autowired
    private MockMvcTester mvc;

    @Autowired
    private JsonMapper json;

    private final Instant now = Instant.now();
    private TestOrganisation owner;
    private UUID vehicle;

    @BeforeEach
    void aCar() {
        owner = organisations.fleet();
        vehicle = as(owner, Role.MANAGER, () -> {
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
                            depot.id(), "QV23 KTB", null, VehicleCategory.M1, null, SteeringSide.RIGHT, "", "", ""))
                    .id();
        });
    }

    @Test
    void warnsWhereItGrowsPastALimitBeforeThePlannedDay() { // BS AU 242b:2022, secondary: at most 40 mm outside zone A
        var damage = report("20", 20);
        observe(damage, "28.5", 10);
        observe(damage, "37", 0);
        var view = of(damage);
        assertThat(view.quantity()).isEqualTo(Quantity.OVERALL_DIAMETER);
        assertThat(view.readings()).extracting(GrowthView.Reading::mm).containsExactly(20.0, 28.5, 37.0);
        assertThat(requireNonNull(view.rate()).mmPerWeek()).isCloseTo(5.95, within(0.01));
        assertThat(view.rate().lowestMmPerWeek()).isLessThan(5.95);
        assertThat(view.plannedFor()).isEqualTo(LocalDate.ofInstant(now, ZONE).plusDays(14));
        var expected = requireNonNull(view.expected());
        assertThat(expected.outcome()).isEqualTo(Outcome.REPLACE);
        assertThat(expected.on())
                .as("3 mm at 0.85 mm a day")
                .isBetween(
                        LocalDate.ofInstant(now, ZONE).plusDays(3),
                        LocalDate.ofInstant(now, ZONE).plusDays(5));
        assertThat(expected.beforePlanned()).isTrue();
        assertThat(view.possible())
                .as("of three readings the interval reaches beyond the limit today, which is the verdict's matter")
                .isNull();
        assertThat(view.warning()).contains("At this rate it passes a limit on").contains("at most 40 mm");

        var page = page(damage);
        assertThat(page).contains("At this rate it passes a limit on", "class=\"glass-drawing growth\"", "mm a week");
        assertThat(page).contains("Numbered from the first look to the last");
        var answer = mvc.get()
                .uri("/api/v1/damages/" + damage + "/growth")
                .header("Authorization", owner.bearer(Role.TECHNICIAN))
                .exchange();
        assertThat(answer).hasStatusOk();
        assertThat(json.readTree(text(answer)).path("expected").path("outcome").asString())
                .isEqualTo("replace");
    }

    @Test
    void saysNothingOfOneThatDoesNotGrow() {
        var damage = report("20", 20);
        observe(damage, "20", 10);
        observe(damage, "20", 0);
        var view = of(damage);
        assertThat(requireNonNull(view.rate()).mmPerWeek()).isCloseTo(0, within(1e-9));
        assertThat(view.expected()).isNull();
        assertThat(view.warning()).isNull();
        assertThat(page(damage)).contains("At this rate no limit is reached within a year");
    }

    @Test
    void namesAnInspectionThatComesFirstAndWarnsOfNothingBehindIt() {
        var damage = report("20", 20);
        observe(damage, "28.5", 10);
        observe(damage, "37", 0);
        assertThat(growing()).extracting(DamageRow::id).containsExactly(damage);
        assertThat(start()).contains("Growing: passes a limit before its day");
        assertThat(text(get("/vehicles"))).contains("grows, past a limit on");
        assertThat(text(get("/damages?needs=growth"))).contains("By its rate each passes a limit");
        var row = api("/damages?needs=growth&sort=first-to-pass");
        assertThat(row.path("id").asString()).isEqualTo(damage.toString());
        var passesOn = row.at("/growing/passesOn").asString();
        assertThat(LocalDate.parse(passesOn)).isAfter(LocalDate.ofInstant(now, ZONE));
        assertThat(api("/vehicles").path("registration").asString()).isEqualTo("QV23 KTB");
        assertThat(api("/vehicles").path("growsPastLimitOn").asString()).isEqualTo(passesOn);

        var tomorrow = LocalDate.ofInstant(now, ZONE).plusDays(1);
        as(owner, Role.MANAGER, () -> inspections.ask(new AskInspection(vehicle, tomorrow)));
        var view = of(damage);
        assertThat(view.plannedFor()).isEqualTo(tomorrow);
        assertThat(view.plannedBy()).isEqualTo(PlannedBy.INSPECTION);
        assertThat(requireNonNull(view.expected()).beforePlanned()).isFalse();
        assertThat(view.warning()).isNull();
        assertThat(growing()).as("somebody looks before").isEmpty();
        assertThat(api("/vehicles").path("growsPastLimitOn").isNull()).isTrue();
        assertThat(start()).doesNotContain("Growing: passes a limit before its day");
    }

    @Test
    void keepsWarningWhereTheInspectionComesAfterTheLimitIsPassed() {
        var damage = report("20", 20);
        observe(damage, "28", 10);
        observe(damage, "36", 0);
        var later = LocalDate.ofInstant(now, ZONE).plusDays(9);
        as(owner, Role.MANAGER, () -> inspections.ask(new AskInspection(vehicle, later)));
        var view = of(damage);
        assertThat(view.plannedFor()).isEqualTo(later);
        assertThat(view.warning()).contains("the day of the vehicle's next inspection");
        assertThat(growing()).singleElement().satisfies(row -> {
            var growing = requireNonNull(row.growing());
            assertThat(growing.plannedFor()).isEqualTo(later);
            assertThat(growing.plannedBy()).isEqualTo(PlannedBy.INSPECTION);
            assertThat(growing.passesOn())
                    .isEqualTo(requireNonNull(view.expected()).on());
        });
    }

    /** A day that is planned meanwhile is noted without a version, so whoever has read the damage before must not undo it. */
    @Test
    void aDayThatIsPlannedMeanwhileIsNotOverwrittenByWhoeverReadTheDamageBefore() {
        var damage = report("20", 20);
        observe(damage, "36", 0);
        var tomorrow = LocalDate.ofInstant(now, ZONE).plusDays(1);
        as(
                owner,
                Role.MANAGER,
                () -> new TransactionTemplate(transactions).execute(status -> {
                    var read = damages.findByTenantIdAndIdIn(owner.id(), List.of(damage))
                            .getFirst();
                    elsewhere(() -> inspections.ask(new AskInspection(vehicle, tomorrow)));
                    read.takeInHand(UUID.randomUUID());
                    return damages.saveAndFlush(read);
                }));
        assertThat(growing()).as("somebody looks before").isEmpty();
        assertThat(of(damage).plannedFor()).isEqualTo(tomorrow);
    }

    /** In a thread and so a transaction of its own. */
    private void elsewhere(Runnable work) {
        CompletableFuture.runAsync(() -> as(owner, Role.MANAGER, () -> {
                    work.run();
                    return true;
                }))
                .orTimeout(20, TimeUnit.SECONDS)
                .join();
    }

    @Test
    void notesTheDaysOfMoreVehiclesThanAStatementHasParameters() {
        var damage = report("20", 20);
        observe(damage, "36", 0);
        var many = new ArrayList<UUID>(
                IntStream.range(0, 70_000).mapToObj(each -> new UUID(7, each)).toList());
        many.add(vehicle);
        as(
                owner,
                Role.MANAGER,
                () -> new TransactionTemplate(transactions).execute(status -> {
                    watch.looksMoved(many);
                    return watch.firstOf(many);
                }));
        assertThat(growing()).hasSize(1);
    }

    @Test
    void growsNoMoreOnceItIsClosed() {
        var damage = report("20", 20);
        observe(damage, "36", 0);
        assertThat(growing()).hasSize(1);
        as(owner, Role.MANAGER, () -> reporting.withdraw(damage, "reported twice"));
        assertThat(growing()).isEmpty();
        assertThat(of(damage).warning()).isNull();
    }

    @Test
    void saysThatRoughReadingsRuleNothingOutAndClaimsNoGrowth() {
        var damage = report("38", 3);
        observe(damage, "38", 0);
        var view = of(damage);
        assertThat(requireNonNull(view.rate()).mmPerWeek()).isCloseTo(0, within(1e-9));
        assertThat(view.expected()).isNull();
        assertThat(view.warning())
                .startsWith("The readings show no growth but are too rough to rule it out: it could pass a limit on")
                .contains("Measure again with a gauge");
        assertThat(growing()).as("nothing shows growth").isEmpty();
    }

    @Test
    void leavesTheDoubtOfTodayToTheVerdict() { // BS AU 242b:2022, secondary: at most 40 mm outside zone A
        var damage = report("39.9", 3);
        observe(damage, "39.9", 0);
        assertThat(of(damage).possible()).as("it may be over the limit today").isNull();
        assertThat(of(damage).warning()).isNull();
    }

    /** Common practice, no source: an inner layer that is broken in the wiped area is dangerous; nobody has felt it. */
    @Test
    void putsWhatMayBeDangerousAmongWhatMustNotBeDriven() {
        var abroad = as(owner, Role.MANAGER, () -> {
            var depot = depots.create(new SaveDepot(
                    "Cour",
                    "1 Rue",
                    new BigDecimal("48"),
                    new BigDecimal("2"),
                    "Europe/Paris",
                    "FR",
                    null,
                    null,
                    0,
                    null));
            return fleet.create(new SaveVehicle(
                            depot.id(), "QV24 KTB", null, VehicleCategory.M1, null, SteeringSide.LEFT, "", "", ""))
                    .id();
        });
        var damage = as(
                owner,
                Role.MANAGER,
                () -> reporting.report(new ReportDamage(abroad, DamageKind.BULLSEYE, now, seen("20", null))));
        assertThat(as(owner, Role.MANAGER, () -> reporting.forDriver(damage.id())))
                .startsWith("Do not drive on until somebody has measured it");
        assertThat(as(owner, Role.MANAGER, () -> fleet.vehicle(abroad))).satisfies(vehicle -> {
            assertThat(vehicle.untilMeasured()).isTrue();
            assertThat(vehicle.standsDownSince()).as("it does not stand down").isNull();
        });
        assertThat(start()).contains("Must not be driven", "not to be driven until measured", "QV24 KTB");
        assertThat(text(get("/vehicles?notToBeDriven=true"))).contains("QV24 KTB", "not to be driven until measured");
        assertThat(text(get("/vehicles?standsDown=true"))).doesNotContain("QV24 KTB");

        as(owner, Role.MANAGER, () -> reporting.observe(damage.id(), new ObserveDamage(null, now, seen("20"))));
        assertThat(as(owner, Role.MANAGER, () -> fleet.vehicle(abroad)).untilMeasured())
                .isFalse();
        assertThat(start()).doesNotContain("not to be driven until measured");
    }

    private List<DamageRow> growing() {
        return as(
                owner,
                Role.MANAGER,
                () -> reporting
                        .list(DamageFilter.growing(), SliceRequest.most())
                        .items());
    }

    /** The first of a list. */
    private JsonNode api(String path) {
        var answer = mvc.get()
                .uri("/api/v1" + path)
                .header("Authorization", owner.bearer(Role.TECHNICIAN))
                .exchange();
        assertThat(answer).hasStatusOk();
        return json.readTree(text(answer)).at("/items/0");
    }

    private String start() {
        return text(get("/"));
    }

    private MvcTestResult get(String address) {
        return mvc.get()
                .uri(address)
                .with(authentication(new ActingAuthentication(owner.person(Role.MANAGER))))
                .exchange();
    }

    @Test
    void whatWasJudgedBeforeGrowthWasNotedIsCaughtUpWithOnce() {
        var damage = report("20", 20);
        observe(damage, "36", 0);
        var verdicts = as(owner, Role.MANAGER, () -> reporting.verdicts(damage)).size();
        var windscreen = as(owner, Role.MANAGER, () -> fleet.glazing(vehicle)).windscreen();
        forget(damage, windscreen);
        catchUp.catchUp();
        assertThat(growing()).as("told already of all up to this glass").isEmpty();
        assertThat(left()).isZero();

        forget(damage, new UUID(0, 0));
        catchUp.catchUp();
        assertThat(growing()).extracting(DamageRow::id).containsExactly(damage);
        assertThat(left()).isZero();
        assertThat(as(owner, Role.MANAGER, () -> reporting.verdicts(damage)))
                .as("nothing is judged anew")
                .hasSize(verdicts);
    }

    /** As rows from before were, with the catching up as far as this glass. */
    private void forget(UUID damage, UUID followedTo) {
        inTransaction("update damage set passes_on = null, planned_on = null where id = '" + damage + "'");
        inTransaction("insert into growth_catch_up (tenant_id, followed_to) values ('" + owner.id() + "', '"
                + followedTo + "')");
    }

    private int left() {
        return as(
                owner,
                Role.MANAGER,
                () -> requireNonNull(new TransactionTemplate(transactions)
                        .execute(status -> jdbc.sql("select count(*) from growth_catch_up")
                                .query(Integer.class)
                                .single())));
    }

    private void inTransaction(String sql) {
        as(
                owner,
                Role.MANAGER,
                () -> requireNonNull(new TransactionTemplate(transactions)
                        .execute(status -> jdbc.sql(sql).update())));
    }

    @Test
    void needsASecondLook() {
        var damage = report("20", 1);
        assertThat(of(damage).rate()).isNull();
        assertThat(page(damage)).contains("A second look tells how fast it grows");
    }

    private GrowthView of(UUID damage) {
        return as(owner, Role.MANAGER, () -> growth.of(damage));
    }

    private UUID report(String diameterMm, int daysAgo) {
        return as(
                owner,
                Role.MANAGER,
                () -> reporting
                        .report(new ReportDamage(
                                vehicle, DamageKind.BULLSEYE, now.minus(Duration.ofDays(daysAgo)), seen(diameterMm)))
                        .id());
    }

    private void observe(UUID damage, String diameterMm, int daysAgo) {
        as(
                owner,
                Role.MANAGER,
                () -> reporting.observe(
                        damage, new ObserveDamage(null, now.minus(Duration.ofDays(daysAgo)), seen(diameterMm))));
    }

    private static SeenDamage seen(String diameterMm) {
        return seen(diameterMm, Layers.OUTER);
    }

    private static SeenDamage seen(String diameterMm, @Nullable Layers layers) {
        return new SeenDamage(
                new BigDecimal("300"),
                new BigDecimal("420"),
                null,
                null,
                new BigDecimal(diameterMm),
                null,
                new BigDecimal("3"),
                null,
                layers,
                Condition.CLEAN_DRY,
                Seen.GAUGE,
                null,
                null);
    }

    private String page(UUID damage) {
        var result = mvc.get()
                .uri("/damages/" + damage)
                .with(authentication(new ActingAuthentication(owner.person(Role.MANAGER))))
                .exchange();
        assertThat(result).as(() -> text(result)).hasStatusOk();
        return text(result);
    }

    private static String text(MvcTestResult result) {
        try {
            return result.getResponse().getContentAsString();
        } catch (UnsupportedEncodingException e) {
            throw new IllegalStateException(e);
        }
    }
}

package org.quarterlight;

import static org.assertj.core.api.Assertions.assertThat;

import ch.qos.logback.classic.Level;
import ch.qos.logback.classic.Logger;
import ch.qos.logback.classic.spi.ILoggingEvent;
import ch.qos.logback.core.read.ListAppender;
import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.TreeSet;
import java.util.UUID;
import java.util.function.Function;
import java.util.function.Supplier;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.quarterlight.agreement.PriceAgreements;
import org.quarterlight.damage.DamageFilter;
import org.quarterlight.damage.DamageReporting;
import org.quarterlight.damage.DamageState;
import org.quarterlight.damage.SheetPreviews;
import org.quarterlight.eligibility.Outcome;
import org.quarterlight.fleet.Fleet;
import org.quarterlight.fleet.VehicleFilter;
import org.quarterlight.glass.DamageKind;
import org.quarterlight.glass.VehicleCategory;
import org.quarterlight.inspection.InspectionFilter;
import org.quarterlight.inspection.InspectionPlans;
import org.quarterlight.inspection.InspectionState;
import org.quarterlight.inspection.Inspections;
import org.quarterlight.inspection.SavePlan;
import org.quarterlight.repair.ChargeFilter;
import org.quarterlight.repair.Charges;
import org.quarterlight.repair.JobFilter;
import org.quarterlight.repair.JobState;
import org.quarterlight.repair.Materials;
import org.quarterlight.repair.RepairJobs;
import org.quarterlight.repair.Stock;
import org.quarterlight.repair.WarrantyRates;
import org.quarterlight.tenancy.Role;
import org.quarterlight.tenancy.Tenants;
import org.quarterlight.web.Slice;
import org.quarterlight.web.SliceRequest;
import org.slf4j.LoggerFactory;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.core.env.Environment;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.jdbc.datasource.DriverManagerDataSource;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.support.TransactionTemplate;
import tools.jackson.databind.JsonNode;

/**
 * How PostgreSQL reads the lists of a large fleet, as the application's role: the statements are taken from the log of
 * what was really sent, with their values. {@code -Dplans.vehicles=1000000 -Dplans.jobs=1000000} asks for a larger one.
 */
@QuarterlightTest
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class ListPlansTests {
    private static final int VEHICLES = Integer.getInteger("plans.vehicles", 100_000);
    private static final int JOBS = Integer.getInteger("plans.jobs", 100_000);
    private static final int LIMIT = 50;

    /** Rows of all large tables together: where a filter without an index keeps one in twenty, a page costs twenty. */
    private static final long READ_AT_MOST = 60L * (LIMIT + 1);

    /**
     * Rarely asked for, and then sorted or searched on the way: not worth an index that every change has to keep. Bounds
     * are a few times what is seen, for the planner's sample is another each time; a whole table would be beyond them.
     */
    private static final Map<Pattern, Long> MORE = Map.of(
            Pattern.compile("Job.*open=false.*technician=[0-9a-f].*FIRST_DUE.*"), 30_000L,
            // Of so few open jobs all may be read and sorted; among a million this allows an eighth of them.
            Pattern.compile("Job.*open=true.*"), 6_000L,
            Pattern.compile("Job.*state=APPROVED.*NEWEST.*"), 6_000L,
            Pattern.compile("Job.*dueBy=2.*NEWEST.*"), 10_000L,
            Pattern.compile("Vehicle.*(category=M3|worst=STAND_DOWN|damaged=true|depot=[0-9a-f]).*"), 40_000L,
            Pattern.compile("(Damage|Inspection).*depot=[0-9a-f].*"), 40_000L,
            Pattern.compile("Damage.*reportedFrom=2.*WORST_FIRST.*"), 40_000L,
            // Of those that wait for a decision few grow.
            Pattern.compile("Damage.*needs=DECISION.*FIRST_TO_PASS.*"), 10_000L,
            // Figures of a period: all its repairs are read, and nothing of before it.
            Pattern.compile("Warranty.*"), 6_000L,
            // Damages of a cell stand in the order of all damages, so what lies between is stepped over.
            Pattern.compile("Preview.*"), 30_000L);

    private static final Set<String> LARGE = Set.of(
            "vehicle",
            "vehicle_condition",
            "windscreen",
            "damage",
            "inspection",
            "job",
            "charge",
            "invoice_change",
            "price_agreement",
            "stock_balance",
            "stock_movement",
            "sheet_preview_damage");
    private static final String SENT = "org.springframework.jdbc.core.JdbcTemplate";
    private static final String VALUES = "org.springframework.jdbc.core.StatementCreatorUtils";
    private static final Pattern STATEMENT = Pattern.compile("(?s)Executing prepared SQL statement \\[(.*)]");
    private static final Pattern VALUE = Pattern.compile(
            "(?s)Setting SQL statement parameter value: column index \\d+, parameter value \\[(.*)], value class .*");

    @Autowired
    private TestBusiness business;

    @Autowired
    private Fleet fleet;

    @Autowired
    private DamageReporting damages;

    @Autowired
    private InspectionPlans plans;

    @Autowired
    private Inspections inspections;

    @Autowired
    private RepairJobs jobs;

    @Autowired
    private Charges charges;

    @Autowired
    private PriceAgreements prices;

    @Autowired
    private SheetPreviews previews;

    @Autowired
    private Stock stock;

    @Autowired
    private Materials materials;

    @Autowired
    private WarrantyRates rates;

    @Autowired
    private MockMvcTester mvc;

    @Autowired
    private JdbcTemplate application;

    @Autowired
    private PlatformTransactionManager transactions;

    @Autowired
    private Environment environment;

    /** Events know their thread only once somebody asks them, and appending is all that happens there. */
    private final ListAppender<ILoggingEvent> log = new ListAppender<>() {
        @Override
        protected synchronized void append(ILoggingEvent event) {
            event.prepareForDeferredProcessing();
            super.append(event);
        }
    };

    private final List<String> report = new ArrayList<>();
    private UUID depot = UUID.randomUUID();
    private UUID vehicle = UUID.randomUUID();
    private UUID technician = UUID.randomUUID();
    private List<TestBusiness.Lived> made = List.of();

    /** Lists within something else ask for that first. */
    private boolean several;

    @AfterEach
    void oneStatementAgain() {
        several = false;
    }

    private TestBusiness.Lived lived() {
        return made.getFirst();
    }

    @BeforeAll
    void makeALargeFleet() {
        var lived = business.live(mvc);
        made = List.of(lived);
        depot = lived.depot();
        vehicle = lived.vehicle();
        technician =
                Objects.requireNonNull(lived.repairer().person(Role.TECHNICIAN).person());
        var owner = JdbcClient.create(new DriverManagerDataSource(
                Objects.requireNonNull(environment.getProperty("spring.datasource.url")),
                DatabaseRoles.OWNER,
                TestServer.PASSWORD));
        sown(owner, seeds(), lived);
        var began = System.nanoTime();
        TestOrganisations.as(
                lived.fleet(),
                Role.MANAGER,
                () -> plans.create(new SavePlan("All", null, null, 365, 20_000, LocalDate.now(), null)));
        LoggerFactory.getLogger(ListPlansTests.class)
                .info("a plan for {} vehicles: {} ms", VEHICLES, (System.nanoTime() - began) / 1_000_000);
        sown(owner, inspectionSeeds(), lived);
        sown(owner, moneySeeds(), lived);
        sown(owner, stockSeeds(), lived);
    }

    private void sown(JdbcClient owner, List<String> statements, TestBusiness.Lived lived) {
        for (var statement : statements) {
            owner.sql(statement
                            .replace(":fleet", "'" + lived.fleet().id() + "'::uuid")
                            .replace(":repairer", "'" + lived.repairer().id() + "'::uuid")
                            .replace(":depot", "'" + depot + "'::uuid")
                            .replace(
                                    ":person",
                                    "'" + lived.fleet().person(Role.DRIVER).person() + "'::uuid")
                            .replace(":technician", "'" + technician + "'::uuid")
                            .replace(":vehicles", Integer.toString(VEHICLES))
                            .replace(":jobs", Integer.toString(JOBS)))
                    .update();
        }
    }

    /** One vehicle in ten has an open damage and each had one once; one job in twenty has not ended. */
    private static List<String> seeds() {
        return List.of(
                """
                insert into depot (tenant_id, id, name, name_key, latitude, longitude, zone, country, opening_hours,
                                   covered_bays, version)
                select :fleet, md5('depot' || n)::uuid, 'Depot ' || n, 'depot ' || n, 51, 0, 'Europe/London', 'GB',
                       '{"days": {}}', 0, 0
                from generate_series(1, 20) n\
                """,
                """
                insert into vehicle (tenant_id, id, depot_id, registration, registration_key, vin, category,
                                     steering_side, version)
                select :fleet, md5('vehicle' || n)::uuid, md5('depot' || (1 + n / 7 % 20))::uuid,
                       'R' || lpad(n::text, 7, '0'), 'R' || lpad(n::text, 7, '0'),
                       'WVVZZZ' || lpad(n::text, 11, '0'), (array['M1', 'M2', 'M3', 'N1', 'N2', 'N3'])[1 + n / 11 % 6],
                       'RIGHT', 0
                from generate_series(1, :vehicles) n\
                """,
                """
                insert into windscreen (tenant_id, id, vehicle_id, pattern_id, pattern_number, made_at)
                select :fleet, md5('glass' || n)::uuid, md5('vehicle' || n)::uuid, w.pattern_id, w.pattern_number, now()
                from generate_series(1, :vehicles) n,
                     (select pattern_id, pattern_number from windscreen where tenant_id = :fleet limit 1) w\
                """,
                """
                insert into vehicle_condition (tenant_id, vehicle_id, worst, rank, open_count, act_by, version,
                                               stands_down_since, until_measured)
                select :fleet, md5('vehicle' || n)::uuid,
                       case when n % 10 = 0
                            then (array['STAND_DOWN', 'REPLACE', 'MEASURE_AGAIN', 'REPAIR', 'WATCH'])[1 + n / 10 % 5] end,
                       case when n % 10 = 0 then n / 10 % 5 else 9 end, case when n % 10 = 0 then 1 else 0 end,
                       case when n % 10 = 0 then date '2026-01-01' + n % 365 else 'infinity' end, 0,
                       case when n % 1000 = 0 then now() end, n % 1000 = 20
                from generate_series(1, :vehicles) n\
                """,
                """
                insert into damage (tenant_id, id, vehicle_id, windscreen_id, number, kind, state, closed_as, closed_at,
                                    occurred_at, arrived_at, reported_by, person_id, outcome, rank, act_by, diameter_mm,
                                    passes_on, planned_on, version)
                select :fleet, md5('damage' || n)::uuid, md5('vehicle' || n)::uuid, md5('glass' || n)::uuid, 1,
                       (array['PIT', 'BULLSEYE', 'HALF_MOON', 'STAR_BREAK', 'COMBINATION_BREAK', 'CRACK',
                              'NOT_SURE'])[1 + n % 7],
                       case when n % 10 = 0 then (array['OPEN', 'IN_HAND'])[1 + n / 10 % 2] else 'CLOSED' end,
                       case when n % 10 = 0 then null else 'REPAIRED' end, case when n % 10 = 0 then null else now() end,
                       now() - make_interval(mins => n), now(), 'somebody', case when n % 50 = 0 then :person end,
                       (array['STAND_DOWN', 'REPLACE', 'MEASURE_AGAIN', 'REPAIR', 'WATCH'])[1 + n / 10 % 5],
                       n / 10 % 5, date '2026-01-01' + n % 365, 10,
                       case when n % 200 = 0 then date '2026-01-01' + n % 300 end,
                       case when n % 400 = 0 then date '2026-01-01' + n % 365 end, 0
                from generate_series(1, :vehicles) n\
                """,
                """
                insert into job (tenant_id, performer_id, id, number, work, state, vehicle_id, windscreen_id, registration,
                                 registration_key, depot_name, zone, act_by, brief, warranty, performer_name,
                                 technician_id, technician_name, planned_on, requested_at, requested_by, version)
                select :fleet, case when n % 2 = 0 then :repairer else :fleet end, md5('job' || n)::uuid, 1000 + n, 'REPAIR',
                       case when n % 20 = 0
                            then (array['REQUESTED', 'APPROVED', 'PLANNED', 'UNDER_WAY', 'INSPECTED'])[1 + n / 20 % 5]
                            else (array['CLOSED', 'DECLINED', 'ABANDONED'])[1 + n % 3] end,
                       md5('vehicle' || n)::uuid, md5('glass' || n)::uuid, 'R' || lpad(n::text, 7, '0'),
                       'R' || lpad(n::text, 7, '0'), 'Depot', 'Europe/London', date '2026-01-01' + n % 365, '{}', false,
                       'somebody', case when n % 4 = 0 then :technician end, case when n % 4 = 0 then 'T' end,
                       case when n % 4 = 0 then date '2024-01-01' + n % 900 end,
                       now() - make_interval(mins => n), 'somebody', 0
                from generate_series(1, :jobs) n\
                """,
                "vacuum analyze vehicle",
                "vacuum analyze vehicle_condition",
                "vacuum analyze windscreen",
                "vacuum analyze damage",
                "vacuum analyze job",
                "vacuum analyze odometer_reading",
                "vacuum analyze depot");
    }

    /** One in twenty is overdue, and each was inspected once. */
    private static List<String> inspectionSeeds() {
        return List.of("""
            update inspection set due_on = current_date - 18 + abs(hashtext(id::text)) % 365
            where tenant_id = :fleet and done_at is null\
            """, """
            insert into inspection (tenant_id, id, vehicle_id, plan_id, due_on, done_at, done_on, inspector,
                                    windscreen_id, grade, version)
            select :fleet, md5('inspection' || n)::uuid, md5('vehicle' || n)::uuid,
                   (select id from inspection_plan where tenant_id = :fleet and name = 'All'), current_date - 400,
                   now() - make_interval(mins => n), (now() - make_interval(mins => n))::date, 'somebody',
                   md5('glass' || n)::uuid, 'NONE', 1
            from generate_series(1, :vehicles) n\
            """, "vacuum analyze inspection");
    }

    /** Every job that the repairer has ended has its charge, of which one in a hundred is not invoiced yet. */
    private static List<String> moneySeeds() {
        return List.of(
                """
            update job set ended_at = requested_at where tenant_id = :fleet and state = 'CLOSED' and ended_at is null\
            """,
                """
            insert into charge (tenant_id, performer_id, id, job_id, basis, chips, further_chips, work_minor, call_out_minor,
                                currency, vehicle_id, depot_id, visited_on, visited_by, fixed_at, invoice_number, invoiced_at)
            select j.tenant_id, j.performer_id, md5('charge' || j.number)::uuid, j.id, 'AGREED', 1, 0, 4900, 2500, 'GBP',
                   j.vehicle_id, :depot, date '2024-01-01' + j.number % 900, 'van', now(),
                   case when j.number % 100 <> 0 then 'S-' || j.number / 100 end,
                   case when j.number % 100 <> 0 then now() end
            from job j where j.tenant_id = :fleet and j.performer_id = :repairer and j.number > 1000
                and j.state in ('CLOSED', 'ABANDONED')\
            """,
                """
            insert into invoice_change (tenant_id, performer_id, id, old_number, new_number, charges, reason, changed_at,
                                        changed_by)
            select :fleet, :repairer, md5('change' || n)::uuid, 'O-' || n, 'N-' || n, 1, 'typed wrongly',
                   now() - make_interval(mins => n), 'somebody'
            from generate_series(1, 20000) n\
            """,
                """
            insert into price_agreement (tenant_id, performer_id, id, valid_from, currency, repair_minor, further_minor,
                                         call_out_minor, made_at, made_by, proposed_by_id, answer, answered_at, answered_by)
            select :fleet, :repairer, md5('prices' || n)::uuid, current_date - 20 - n, 'GBP', 4900, 1900, 2500, now(),
                   'somebody', :fleet, 'ACCEPTED', now(), 'somebody'
            from generate_series(1, 5000) n\
            """,
                """
            insert into sheet_preview_damage (tenant_id, preview_id, damage_id, from_outcome, to_outcome)
            select :fleet, (select id from sheet_preview where tenant_id = :fleet limit 1), md5('damage' || n)::uuid,
                   (array['REPAIR', 'WATCH', 'REPLACE'])[1 + n % 3], (array['REPLACE', 'REPAIR', 'WATCH'])[1 + n / 3 % 3]
            from generate_series(1, :vehicles) n\
            """,
                "vacuum analyze job",
                "vacuum analyze charge",
                "vacuum analyze invoice_change",
                "vacuum analyze price_agreement",
                "vacuum analyze sheet_preview_damage");
    }

    /** The repairer's places are few beside the fleet's own; most lots that ever lay in one are used up. */
    private static List<String> stockSeeds() {
        return List.of(
                """
            insert into stock_place (tenant_id, id, name, kind, version)
            select o, md5('place' || n || o)::uuid, 'Place ' || n, 'VAN', 0
            from unnest(array[:fleet, :repairer]) o, generate_series(1, 20) n\
            """,
                """
            insert into resin_lot (tenant_id, id, number, resin, kind, expires_on, version)
            select o, md5('lot' || n || o)::uuid, 'S' || lpad(n::text, 6, '0'), 'thin', 'RESIN',
                   current_date - 400 + n % 800, 0
            from unnest(array[:fleet, :repairer]) o, generate_series(1, 3000) n\
            """,
                """
            insert into stock_level (tenant_id, place_id, kind, at_least)
            select o, md5('place' || n || o)::uuid, k, 100000
            from unnest(array[:fleet, :repairer]) o, generate_series(1, 20) n, unnest(array['RESIN', 'BLADE']) k\
            """,
                """
            insert into stock_balance (tenant_id, place_id, lot_id, quantity)
            select o, md5('place' || p || o)::uuid, md5('lot' || n || o)::uuid,
                   case when n % 30 = 0 or o = :fleet then 5 else 0 end
            from unnest(array[:fleet, :repairer]) o, generate_series(1, 20) p, generate_series(1, 3000) n\
            """,
                """
            insert into stock_movement (tenant_id, id, place_id, lot_id, kind, change, left_there, moved_at, moved_by)
            select :repairer, md5('move' || n)::uuid, md5('place' || 1 + n % 20 || :repairer)::uuid,
                   md5('lot' || 1 + n % 3000 || :repairer)::uuid, 'RECEIVED', 5, 5, now(), 'somebody'
            from generate_series(1, 100000) n\
            """,
                """
            insert into lot_use (tenant_id, id, lot_id, job_id, used_at, used_by)
            select :repairer, md5('use' || j.number)::uuid, md5('lot' || 1 + j.number % 3000 || :repairer)::uuid, j.id,
                   j.requested_at, 'somebody'
            from job j where j.tenant_id = :fleet and j.performer_id = :repairer and j.number > 1000 and j.state = 'CLOSED'\
            """,
                "vacuum analyze resin_lot",
                "vacuum analyze stock_balance",
                "vacuum analyze stock_movement",
                "vacuum analyze lot_use",
                "vacuum analyze stock_level");
    }

    @Test
    void listsOfChargesReadAboutWhatTheyShow() {
        var wrong = new TreeSet<String>();
        var day = LocalDate.parse("2025-05-01");
        for (var role : List.of(Role.MANAGER, Role.DISPATCHER)) {
            for (var filter : List.of(
                    new ChargeFilter(null, null, null, null, null),
                    new ChargeFilter(lived().fleet().id(), null, null, null, null),
                    new ChargeFilter(null, null, null, null, false),
                    new ChargeFilter(null, null, null, null, true),
                    new ChargeFilter(null, day, day.plusDays(30), null, null))) {
                tried(filter.toString(), role, page -> charges.list(filter, page), wrong);
            }
            tried("InvoiceChanges", role, page -> charges.invoiceChanges(page), wrong);
        }
        print();
        assertThat(wrong).isEmpty();
    }

    @Test
    void listsOfPricesAndPreviewsReadAboutWhatTheyShow() {
        several = true;
        var wrong = new TreeSet<String>();
        for (var role : List.of(Role.MANAGER, Role.DISPATCHER)) {
            tried("Prices", role, page -> prices.list(lived().partner(), page), wrong);
        }
        for (var from : new Outcome[] {null, Outcome.REPAIR}) {
            tried(
                    "Preview from " + from,
                    Role.MANAGER,
                    page -> previews.damages(lived().preview(), from, from == null ? null : Outcome.REPLACE, page),
                    wrong);
        }
        print();
        assertThat(wrong).isEmpty();
    }

    @Test
    void listsOfStockReadAboutWhatTheyShow() {
        several = true;
        var wrong = new TreeSet<String>();
        var place = named("place3" + lived().repairer().id());
        var lot = named("lot60" + lived().repairer().id());
        tried("Balances", Role.DISPATCHER, page -> stock.balances(place, page), wrong);
        tried("BalancesOfLot", Role.DISPATCHER, page -> stock.ofLot(lot, page), wrong);
        tried("Movements", Role.DISPATCHER, page -> stock.movements(place, page), wrong);
        tried("Lots", Role.DISPATCHER, page -> materials.lots(page), wrong);
        tried("UsesOfLot", Role.DISPATCHER, page -> materials.uses(lot, page), wrong);
        for (var by : WarrantyRates.By.values()) {
            var to = LocalDate.now();
            tried("Warranty by " + by, Role.DISPATCHER, page -> rates.rates(by, to.minusDays(7), to, page), wrong);
        }
        print();
        assertThat(wrong).isEmpty();
    }

    @Test
    void listsOfInspectionsReadAboutWhatTheyShow() {
        var wrong = new TreeSet<String>();
        for (var state :
                new InspectionState[] {null, InspectionState.DUE, InspectionState.OVERDUE, InspectionState.DONE}) {
            for (var filter : List.of(
                    new InspectionFilter(state, null, null, null),
                    new InspectionFilter(state, depotNumber(3), null, null),
                    new InspectionFilter(state, null, vehicleNumber(70), null),
                    new InspectionFilter(state, null, null, LocalDate.now().plusDays(30)))) {
                tried(filter.toString(), Role.MANAGER, page -> inspections.list(filter, page), wrong);
            }
        }
        print();
        assertThat(wrong).isEmpty();
    }

    @Test
    void listsOfVehiclesReadAboutWhatTheyShow() {
        var wrong = new TreeSet<String>();
        for (var sort : VehicleFilter.Sort.values()) {
            for (var filter : List.of(
                    new VehicleFilter(null, null, null, null, null, null, null, sort),
                    new VehicleFilter("R00123", null, null, null, null, null, null, sort),
                    new VehicleFilter("R0", null, null, null, null, null, null, sort),
                    new VehicleFilter("WVVZZZ000001234", null, null, null, null, null, null, sort),
                    new VehicleFilter(null, depotNumber(3), null, null, null, null, null, sort),
                    new VehicleFilter(null, null, VehicleCategory.M3, null, null, null, null, sort),
                    new VehicleFilter(null, null, null, true, null, null, null, sort),
                    new VehicleFilter(null, null, null, false, null, null, null, sort),
                    new VehicleFilter(null, null, null, null, Outcome.STAND_DOWN, null, null, sort),
                    new VehicleFilter(null, null, null, null, null, true, null, sort),
                    new VehicleFilter(null, null, null, null, null, null, true, sort),
                    new VehicleFilter(null, depotNumber(3), VehicleCategory.M3, null, null, null, null, sort))) {
                tried(filter.toString(), Role.MANAGER, page -> fleet.vehicles(filter, page), wrong);
            }
        }
        print();
        assertThat(wrong).isEmpty();
    }

    @Test
    void listsOfDamagesReadAboutWhatTheyShow() {
        var wrong = new TreeSet<String>();
        for (var sort : DamageFilter.Sort.values()) {
            for (var filter : List.of(
                    new DamageFilter(null, null, null, null, null, null, null, null, null, null, sort),
                    new DamageFilter(DamageState.OPEN, null, null, null, null, null, null, null, null, null, sort),
                    new DamageFilter(DamageState.IN_HAND, null, null, null, null, null, null, null, null, null, sort),
                    new DamageFilter(DamageState.CLOSED, null, null, null, null, null, null, null, null, null, sort),
                    new DamageFilter(null, Outcome.REPLACE, null, null, null, null, null, null, null, null, sort),
                    new DamageFilter(
                            null, null, DamageFilter.Needs.DECISION, null, null, null, null, null, null, null, sort),
                    new DamageFilter(
                            null, null, DamageFilter.Needs.GROWTH, null, null, null, null, null, null, null, sort),
                    new DamageFilter(null, null, null, depotNumber(3), null, null, null, null, null, null, sort),
                    new DamageFilter(null, null, null, null, vehicleNumber(70), null, null, null, null, null, sort),
                    new DamageFilter(null, null, null, null, null, DamageKind.CRACK, null, null, null, null, sort),
                    new DamageFilter(
                            null,
                            null,
                            null,
                            null,
                            null,
                            null,
                            Instant.now().minusSeconds(86_400),
                            null,
                            null,
                            null,
                            sort),
                    new DamageFilter(
                            null,
                            Outcome.WATCH,
                            null,
                            null,
                            null,
                            null,
                            null,
                            null,
                            LocalDate.parse("2026-03-01"),
                            null,
                            sort),
                    new DamageFilter(
                            null,
                            null,
                            null,
                            null,
                            null,
                            null,
                            null,
                            Instant.parse("2026-06-01T00:00:00Z"),
                            null,
                            null,
                            sort))) {
                tried(filter.toString(), Role.MANAGER, page -> damages.list(filter, page), wrong);
            }
            var own = new DamageFilter(null, null, null, null, null, null, null, null, null, true, sort);
            tried(own.toString(), Role.DRIVER, page -> damages.list(own, page), wrong);
        }
        print();
        assertThat(wrong).isEmpty();
    }

    @Test
    void listsOfJobsReadAboutWhatTheyShow() {
        var wrong = new TreeSet<String>();
        for (var role : List.of(Role.MANAGER, Role.DISPATCHER)) {
            for (var sort : JobFilter.Sort.values()) {
                for (var filter : List.of(
                        new JobFilter(null, false, null, null, null, null, null, null, sort),
                        new JobFilter(null, true, null, null, null, null, null, null, sort),
                        new JobFilter(null, true, null, null, null, LocalDate.parse("2026-03-01"), null, null, sort),
                        new JobFilter(JobState.APPROVED, false, null, null, null, null, null, null, sort),
                        new JobFilter(JobState.CLOSED, false, null, null, null, null, null, null, sort),
                        new JobFilter(null, false, null, technician, null, null, null, null, sort),
                        new JobFilter(null, true, null, technician, null, null, null, null, sort),
                        new JobFilter(null, false, null, null, LocalDate.parse("2024-05-01"), null, null, null, sort),
                        new JobFilter(null, false, null, null, null, null, "R000012", null, sort),
                        new JobFilter(null, false, null, null, null, null, null, vehicleNumber(70), sort))) {
                    tried(filter.toString(), role, page -> jobs.list(filter, page), wrong);
                }
            }
        }
        print();
        assertThat(wrong).isEmpty();
    }

    private static UUID depotNumber(int number) {
        return named("depot" + number);
    }

    private static UUID vehicleNumber(int number) {
        return named("vehicle" + number);
    }

    /** As {@code md5(name)::uuid} has it. */
    private static UUID named(String name) {
        try {
            var digest = java.nio.ByteBuffer.wrap(java.security.MessageDigest.getInstance("MD5")
                    .digest(name.getBytes(java.nio.charset.StandardCharsets.US_ASCII)));
            return new UUID(digest.getLong(), digest.getLong());
        } catch (java.security.NoSuchAlgorithmException e) {
            throw new IllegalStateException(e);
        }
    }

    /** The first page and the one after a thousand rows, or as far as the list goes. */
    private void tried(String what, Role role, Function<SliceRequest, Slice<?>> list, TreeSet<String> wrong) {
        var organisation = role == Role.DISPATCHER ? lived().repairer() : lived().fleet();
        explained(what + " as " + role, organisation, role, () -> list.apply(new SliceRequest(LIMIT, null)), wrong);
        var cursor = cursorFar(organisation, role, list);
        if (!cursor.isEmpty()) {
            explained(
                    what + " as " + role + ", far",
                    organisation,
                    role,
                    () -> list.apply(new SliceRequest(LIMIT, cursor)),
                    wrong);
        }
    }

    private static String cursorFar(TestOrganisation organisation, Role role, Function<SliceRequest, Slice<?>> list) {
        var cursor = "";
        for (int i = 0; i < 5; i++) {
            var after = cursor.isEmpty() ? null : cursor;
            var next = TestOrganisations.as(
                            organisation, role, () -> list.apply(new SliceRequest(SliceRequest.MOST, after)))
                    .next();
            if (next == null) {
                return cursor;
            }
            cursor = next;
        }
        return cursor;
    }

    private void explained(
            String what, TestOrganisation organisation, Role role, Supplier<Slice<?>> page, TreeSet<String> wrong) {
        var statements = sent(() -> TestOrganisations.as(organisation, role, page));
        if (several ? statements.isEmpty() : statements.size() != 1) {
            wrong.add(what + " needs " + statements.size() + " statements");
        }
        for (var statement : statements) {
            var plan = Tenants.callAs(
                    organisation.tenant(),
                    () -> new TransactionTemplate(transactions)
                            .execute(status -> application.queryForObject(
                                    "explain (analyze, format json) " + statement, String.class)));
            var root = ApiDocument.JSON.readTree(Objects.requireNonNull(plan)).get(0);
            var scans = new ArrayList<String>();
            var read = scanned(root.path("Plan"), scans);
            var line = String.format(
                    Locale.ROOT,
                    "%8.2f ms %7d rows  %s",
                    root.path("Execution Time").asDouble(),
                    read,
                    what);
            report.add(line);
            if (read > most(what) || scans.stream().anyMatch(scan -> scan.startsWith("Seq Scan"))) {
                wrong.add(line + " " + scans);
            }
        }
    }

    private static long most(String what) {
        return MORE.entrySet().stream()
                .filter(each -> each.getKey().matcher(what).matches())
                .mapToLong(Map.Entry::getValue)
                .max()
                .orElse(READ_AT_MOST);
    }

    /** Rows read from large tables, shown or thrown away. */
    private static long scanned(JsonNode node, List<String> scans) {
        var rows = 0L;
        var table = node.path("Relation Name").asString("");
        if (LARGE.contains(table)) {
            var loops = node.path("Actual Loops").asDouble(1);
            rows = Math.round(loops
                    * (node.path("Actual Rows").asDouble(0)
                            + node.path("Rows Removed by Filter").asDouble(0)
                            + node.path("Rows Removed by Index Recheck").asDouble(0)));
            scans.add(node.path("Node Type").asString() + " " + table + " "
                    + node.path("Index Name").asString("") + " " + rows);
        }
        for (var child : node.path("Plans")) {
            rows += scanned(child, scans);
        }
        return rows;
    }

    /** The statements that the work sends, their values written out. */
    private List<String> sent(Runnable work) {
        var context = (Logger) LoggerFactory.getLogger(SENT);
        var values = (Logger) LoggerFactory.getLogger(VALUES);
        var before = context.getLevel();
        var beforeValues = values.getLevel();
        context.setLevel(Level.DEBUG);
        values.setLevel(Level.TRACE);
        context.setAdditive(false);
        values.setAdditive(false);
        log.list.clear();
        log.start();
        context.addAppender(log);
        values.addAppender(log);
        try {
            work.run();
        } finally {
            context.detachAppender(log);
            values.detachAppender(log);
            context.setLevel(before);
            values.setLevel(beforeValues);
            context.setAdditive(true);
            values.setAdditive(true);
        }
        var statements = new ArrayList<String>();
        // The service's own rounds go on meanwhile, in threads of their own.
        var here = Thread.currentThread().getName();
        var sent = log.list.stream()
                .filter(event -> event.getThreadName().equals(here))
                .toList();
        for (var event : sent) {
            var statement = STATEMENT.matcher(event.getFormattedMessage());
            var value = VALUE.matcher(event.getFormattedMessage());
            if (statement.matches()) {
                statements.add(statement.group(1));
            } else if (value.matches()) {
                var last = statements.removeLast();
                statements.add(last.replaceFirst(
                        "\\?", Matcher.quoteReplacement("'" + value.group(1).replace("'", "''") + "'")));
            }
        }
        return statements;
    }

    /** So that a run can be read. */
    private void print() {
        report.forEach(line -> LoggerFactory.getLogger(ListPlansTests.class).info(line));
        report.clear();
    }
}

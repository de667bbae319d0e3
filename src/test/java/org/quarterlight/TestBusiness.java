package org.quarterlight;

import static org.quarterlight.TestCsrf.csrf;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.authentication;

import java.awt.image.BufferedImage;
import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.math.BigDecimal;
import java.nio.charset.StandardCharsets;
import java.time.Clock;
import java.time.DayOfWeek;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.UUID;
import java.util.function.Consumer;
import javax.imageio.ImageIO;
import org.awaitility.Awaitility;
import org.jspecify.annotations.Nullable;
import org.quarterlight.account.Partners;
import org.quarterlight.agreement.PartnerLimits;
import org.quarterlight.agreement.PriceAgreements;
import org.quarterlight.agreement.SaveLimits;
import org.quarterlight.agreement.SavePrices;
import org.quarterlight.bench.Light;
import org.quarterlight.bench.PhaseKind;
import org.quarterlight.damage.DamagePhotos;
import org.quarterlight.damage.DamageReporting;
import org.quarterlight.damage.DamageView;
import org.quarterlight.damage.ObserveDamage;
import org.quarterlight.damage.PreviewSheet;
import org.quarterlight.damage.ReportDamage;
import org.quarterlight.damage.SeenDamage;
import org.quarterlight.damage.SheetPreviews;
import org.quarterlight.dispatch.Dispatching;
import org.quarterlight.dispatch.PlanStop;
import org.quarterlight.dispatch.SaveShift;
import org.quarterlight.dispatch.SaveVan;
import org.quarterlight.dispatch.Shifts;
import org.quarterlight.eligibility.Condition;
import org.quarterlight.eligibility.Grade;
import org.quarterlight.eligibility.Layers;
import org.quarterlight.eligibility.Seen;
import org.quarterlight.fleet.CabCodes;
import org.quarterlight.fleet.Depots;
import org.quarterlight.fleet.Fleet;
import org.quarterlight.fleet.ImportDefaults;
import org.quarterlight.fleet.ImportMode;
import org.quarterlight.fleet.PatternPictures;
import org.quarterlight.fleet.SaveDepot;
import org.quarterlight.fleet.SaveVehicle;
import org.quarterlight.fleet.VehicleImports;
import org.quarterlight.glass.DamageKind;
import org.quarterlight.glass.SteeringSide;
import org.quarterlight.glass.VehicleCategory;
import org.quarterlight.history.HistoryChain;
import org.quarterlight.inspection.AskInspection;
import org.quarterlight.inspection.InspectionFilter;
import org.quarterlight.inspection.InspectionPlans;
import org.quarterlight.inspection.Inspections;
import org.quarterlight.inspection.RecordInspection;
import org.quarterlight.inspection.SavePlan;
import org.quarterlight.repair.Bench;
import org.quarterlight.repair.CalibrateCamera;
import org.quarterlight.repair.Calibration;
import org.quarterlight.repair.ChangeInvoice;
import org.quarterlight.repair.Charges;
import org.quarterlight.repair.CloseJob;
import org.quarterlight.repair.Gap;
import org.quarterlight.repair.InvoiceCharges;
import org.quarterlight.repair.JobView;
import org.quarterlight.repair.Lamps;
import org.quarterlight.repair.LotKind;
import org.quarterlight.repair.Materials;
import org.quarterlight.repair.Methods;
import org.quarterlight.repair.PhotoShows;
import org.quarterlight.repair.ReadConditions;
import org.quarterlight.repair.ReadLamp;
import org.quarterlight.repair.ReceiveStock;
import org.quarterlight.repair.RecordPhase;
import org.quarterlight.repair.RepairJobs;
import org.quarterlight.repair.RequestJob;
import org.quarterlight.repair.Result;
import org.quarterlight.repair.SaveLamp;
import org.quarterlight.repair.SaveLot;
import org.quarterlight.repair.SaveMethod;
import org.quarterlight.repair.SaveStockPlace;
import org.quarterlight.repair.Stock;
import org.quarterlight.repair.StockLevel;
import org.quarterlight.repair.StockPlaceKind;
import org.quarterlight.repair.TestJobs;
import org.quarterlight.repair.UseLot;
import org.quarterlight.repair.Work;
import org.quarterlight.rulebook.ChooseRules;
import org.quarterlight.rulebook.OwnSheets;
import org.quarterlight.rulebook.PublishSheet;
import org.quarterlight.rulebook.Rulebook;
import org.quarterlight.rulebook.SaveCostRates;
import org.quarterlight.tenancy.Role;
import org.quarterlight.tenancy.TenantId;
import org.quarterlight.tenancy.Tenants;
import org.quarterlight.web.ActingAuthentication;
import org.quarterlight.web.SliceRequest;
import org.springframework.http.MediaType;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.test.web.servlet.assertj.MockMvcTester;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.support.TransactionTemplate;

/**
 * A fleet and its repairer with some weeks behind them, made through the services: every table has rows of theirs. A new
 * table needs a deed here, or the test of isolation fails with its name.
 */
@Component
class TestBusiness {
    private final TestOrganisations organisations;
    private final Depots depots;
    private final Fleet fleet;
    private final CabCodes cabCodes;
    private final PatternPictures pictures;
    private final VehicleImports imports;
    private final Rulebook rulebook;
    private final OwnSheets ownSheets;
    private final SheetPreviews previews;
    private final DamageReporting damages;
    private final DamagePhotos photos;
    private final InspectionPlans plans;
    private final Inspections inspections;
    private final RepairJobs jobs;
    private final TestJobs tests;
    private final Bench bench;
    private final Methods methods;
    private final Lamps lamps;
    private final Materials materials;
    private final Stock stock;
    private final Dispatching dispatching;
    private final Shifts shifts;
    private final Partners partners;
    private final PartnerLimits limits;
    private final PriceAgreements prices;
    private final Charges charges;
    private final HistoryChain history;
    private final JdbcClient jdbc;
    private final TransactionTemplate transaction;
    private final Clock clock;
    private @Nullable Lived lived;

    TestBusiness(
            TestOrganisations organisations,
            Depots depots,
            Fleet fleet,
            CabCodes cabCodes,
            PatternPictures pictures,
            VehicleImports imports,
            Rulebook rulebook,
            OwnSheets ownSheets,
            SheetPreviews previews,
            DamageReporting damages,
            DamagePhotos photos,
            InspectionPlans plans,
            Inspections inspections,
            RepairJobs jobs,
            TestJobs tests,
            Bench bench,
            Methods methods,
            Lamps lamps,
            Materials materials,
            Stock stock,
            Dispatching dispatching,
            Shifts shifts,
            Partners partners,
            PartnerLimits limits,
            PriceAgreements prices,
            Charges charges,
            HistoryChain history,
            JdbcClient jdbc,
            PlatformTransactionManager transactions,
            Clock clock) {
        this.organisations = organisations;
        this.depots = depots;
        this.fleet = fleet;
        this.cabCodes = cabCodes;
        this.pictures = pictures;
        this.imports = imports;
        this.rulebook = rulebook;
        this.ownSheets = ownSheets;
        this.previews = previews;
        this.damages = damages;
        this.photos = photos;
        this.plans = plans;
        this.inspections = inspections;
        this.jobs = jobs;
        this.tests = tests;
        this.bench = bench;
        this.methods = methods;
        this.lamps = lamps;
        this.materials = materials;
        this.stock = stock;
        this.dispatching = dispatching;
        this.shifts = shifts;
        this.partners = partners;
        this.limits = limits;
        this.prices = prices;
        this.charges = charges;
        this.history = history;
        this.jdbc = jdbc;
        this.transaction = new TransactionTemplate(transactions);
        this.clock = clock;
    }

    /**
     * What was made, by the names that paths have for it.
     *
     * @param openDamage no job is about it
     * @param inspection waits
     * @param job under way, performed by the repairer
     */
    record Lived(
            TestOrganisation fleet,
            TestOrganisation repairer,
            UUID depot,
            UUID vehicle,
            UUID openDamage,
            UUID inspectionPlan,
            UUID inspection,
            UUID job,
            UUID phase,
            UUID jobPhoto,
            String briefPhoto,
            UUID pattern,
            UUID patternPicture,
            UUID photo,
            UUID vehicleImport,
            UUID lot,
            UUID method,
            UUID lamp,
            UUID van,
            UUID shift,
            LocalDate day,
            UUID partner,
            UUID token,
            UUID ownSheet,
            UUID preview,
            UUID stockPlace,
            UUID closedJob,
            UUID prices,
            UUID charge) {}

    /** The business that tests may read and try to break into; made once, changed by nobody. */
    synchronized Lived lived(MockMvcTester mvc) {
        if (lived == null) {
            lived = live(mvc);
        }
        return lived;
    }

    Lived live(MockMvcTester mvc) {
        var owner = organisations.fleet();
        var repairer = organisations.repairer();
        organisations.join(owner, repairer);
        var depot = as(owner, Role.MANAGER, () -> depots.create(depot("North yard")));
        var vehicle = as(owner, Role.MANAGER, () -> fleet.create(vehicle(depot.id(), "QV 4321")));
        var imported = imported(owner);
        as(owner, Role.MANAGER, () -> cabCodes.make(vehicle.id()));
        as(owner, Role.MANAGER, () -> {
            var chosen = rulebook.chosen();
            var sheets = List.of("common-practice-repair", "common-practice-roadworthiness");
            return rulebook.choose(
                    new ChooseRules(Map.of(VehicleCategory.M3, sheets), null, null, null, null, null, null),
                    chosen.version());
        });
        var open = report(owner, vehicle.id(), "-250");
        var damaged = report(owner, vehicle.id(), "300");
        as(owner, Role.MANAGER, () -> damages.observe(damaged.id(), new ObserveDamage(null, null, seen("301"))));
        var photo = as(owner, Role.MANAGER, () -> photos.add(damaged.id(), picture()));
        var plan = as(owner, Role.MANAGER, () -> plans.create(plan(depot.id())));
        var asked = as(owner, Role.MANAGER, () -> inspections.ask(new AskInspection(vehicle.id(), null)));
        as(
                owner,
                Role.TECHNICIAN,
                () -> inspections.record(
                        asked.id(), new RecordInspection(null, Grade.NONE, true, null, null, null, 120_000, null)));
        var inspection = as(
                        owner,
                        Role.MANAGER,
                        () -> inspections.list(
                                new InspectionFilter(null, null, vehicle.id(), null), new SliceRequest(1, null)))
                .items()
                .getFirst()
                .id();
        var requested = as(
                owner,
                Role.MANAGER,
                () -> jobs.request(new RequestJob(Work.REPAIR, List.of(damaged.id()), true, null, null)));
        as(owner, Role.MANAGER, () -> jobs.share(requested.id(), repairer.id()));
        var lot = as(repairer, Role.DISPATCHER, () -> materials.create(lot("L-1")));
        var method = as(repairer, Role.DISPATCHER, () -> methods.create(method("By dose")));
        var lamp = as(repairer, Role.DISPATCHER, () -> lamps.create(lamp("Lamp 1")));
        as(
                repairer,
                Role.TECHNICIAN,
                () -> lamps.read(lamp.id(), new ReadLamp(BigDecimal.TEN, BigDecimal.valueOf(50), null, null)));
        var technician = repairer.person(Role.TECHNICIAN).person();
        var van = as(repairer, Role.DISPATCHER, () -> dispatching.create(van("Van 1", technician)));
        var today = LocalDate.now(clock.withZone(van.zone()));
        as(
                repairer,
                Role.DISPATCHER,
                () -> dispatching.replace(
                        van.id(),
                        today,
                        List.of(new PlanStop(requested.id(), 60)),
                        dispatching.day(van.id(), today).version()));
        var shift = as(
                repairer,
                Role.DISPATCHER,
                () -> shifts.create(
                        new SaveShift(van.id(), today, technician, LocalTime.of(7, 0), LocalTime.of(15, 0))));
        uncalibrated(owner, repairer, vehicle.id()); // before the other, which is what its technician is at
        var job = worked(repairer, requested.id(), lot.id());
        var closedJob = closed(owner, repairer, vehicle.id(), lot.id(), "Filled, clear");
        var stockPlace = stocked(repairer, job.id(), lot.id());
        agreed(owner, repairer);
        failed(owner, repairer, vehicle.id());
        as(owner, Role.ADMINISTRATOR, history::sealNow);
        keyed(owner, mvc);
        keptByADevice(repairer, requested.id(), mvc);
        var ownSheet = ownSheet(owner);
        var preview = as(
                        owner,
                        Role.MANAGER,
                        () -> previews.start(ownSheet.toString(), new PreviewSheet("common-practice-repair")))
                .id();
        var patternPicture = as(owner, Role.MANAGER, () -> pictures.add(picture()));
        settle();
        return new Lived(
                owner,
                repairer,
                depot.id(),
                vehicle.id(),
                open.id(),
                plan.id(),
                inspection,
                job.id(),
                job.phases().getFirst().id(),
                job.photos().getFirst().id(),
                photo.sha256(),
                as(owner, Role.MANAGER, () -> fleet.glazing(vehicle.id())).patternId(),
                patternPicture.id(),
                photo.id(),
                imported,
                lot.id(),
                method.id(),
                lamp.id(),
                van.id(),
                shift.id(),
                today,
                first(owner, "partner"),
                first(owner, "token"),
                ownSheet,
                preview,
                stockPlace,
                closedJob.id(),
                first(owner, "price_agreement"),
                first(owner, "charge"));
    }

    /** One version published from a day to come, and the draft of the next; and what repairs cost. */
    private UUID ownSheet(TestOrganisation owner) {
        return as(owner, Role.MANAGER, () -> {
            var sheet = ownSheets.copy("common-practice-repair", "Our limits");
            var id = sheet.id().toString();
            ownSheets.publish(id, new PublishSheet(LocalDate.now(clock).plusDays(300)), null);
            ownSheets.startVersion(id);
            rulebook.reckonWith(new SaveCostRates(4900L, 38000L, "GBP"), 0);
            return sheet.id();
        });
    }

    /** A van with something in it, of which a job took some, and with too few blades. */
    private UUID stocked(TestOrganisation repairer, UUID job, UUID lot) {
        var place = as(repairer, Role.DISPATCHER, () -> stock.create(new SaveStockPlace("Van 1", StockPlaceKind.VAN)))
                .id();
        as(repairer, Role.DISPATCHER, () -> stock.keepAtLeast(place, new StockLevel(LotKind.BLADE, BigDecimal.TEN)));
        as(repairer, Role.TECHNICIAN, () -> stock.receive(place, new ReceiveStock(lot, BigDecimal.TEN)));
        as(repairer, Role.TECHNICIAN, () -> {
            bench.use(job, new UseLot(lot, "2 drops", null, place, BigDecimal.ONE));
            return lot;
        });
        return place;
    }

    /** Limits that let everything through, prices that the fleet accepted, and others that wait for the repairer. */
    private void agreed(TestOrganisation owner, TestOrganisation repairer) {
        var partner = first(owner, "partner");
        as(owner, Role.MANAGER, () -> limits.change(partner, new SaveLimits(null, null, null, false), 0));
        var proposed = as(repairer, Role.DISPATCHER, () -> prices.propose(partner, prices(-9)));
        as(owner, Role.MANAGER, () -> prices.accept(partner, proposed.id()));
        as(owner, Role.MANAGER, () -> prices.propose(partner, prices(30)));
    }

    private SavePrices prices(int inDays) {
        return new SavePrices(LocalDate.now(clock).plusDays(inDays), "GBP", 4900L, 1900L, 2500L, null, 24);
    }

    /** A repair that comes to nothing, and so costs nothing; it stands on an invoice whose number was corrected. */
    private void failed(TestOrganisation owner, TestOrganisation repairer, UUID vehicle) {
        var damage = report(owner, vehicle, "100");
        var job = as(
                        owner,
                        Role.MANAGER,
                        () -> jobs.request(new RequestJob(Work.REPAIR, List.of(damage.id()), true, null, null)))
                .id();
        as(owner, Role.MANAGER, () -> jobs.share(job, repairer.id()));
        as(repairer, Role.TECHNICIAN, () -> jobs.start(job, null));
        as(repairer, Role.TECHNICIAN, () -> jobs.abandon(job, "the crack ran", null));
        var charge = as(repairer, Role.DISPATCHER, () -> jobs.job(job)).charge();
        as(
                repairer,
                Role.DISPATCHER,
                () -> charges.invoice(new InvoiceCharges(
                        "2026-1", List.of(Objects.requireNonNull(charge).id()))));
        as(
                repairer,
                Role.DISPATCHER,
                () -> charges.changeInvoice(new ChangeInvoice("2026-1", "2026-2", "typed wrongly")));
    }

    /** New glass whose camera could not be calibrated yet. */
    private void uncalibrated(TestOrganisation owner, TestOrganisation repairer, UUID vehicle) {
        var damage = report(owner, vehicle, "140");
        var job = as(
                        owner,
                        Role.MANAGER,
                        () -> jobs.request(new RequestJob(Work.REPLACEMENT, List.of(damage.id()), true, null, null)))
                .id();
        as(owner, Role.MANAGER, () -> jobs.share(job, repairer.id()));
        as(repairer, Role.TECHNICIAN, () -> {
            jobs.start(job, null);
            bench.calibrate(
                    job, new CalibrateCamera(false, Calibration.Manner.STATIC, "target board", "2 mm off", null, null));
            return job;
        });
    }

    private JobView worked(TestOrganisation repairer, UUID job, UUID lot) {
        as(repairer, Role.TECHNICIAN, () -> jobs.start(job, null));
        as(repairer, Role.TECHNICIAN, () -> jobs.recordPhase(job, RecordPhase.of(PhaseKind.PREPARE, null, null)));
        as(repairer, Role.TECHNICIAN, () -> bench.read(job, conditions()));
        as(repairer, Role.DISPATCHER, () -> bench.override(job, Gap.TIMES, "a very small break"));
        as(repairer, Role.TECHNICIAN, () -> {
            bench.use(job, new UseLot(lot, "2 drops", null));
            return lot;
        });
        as(repairer, Role.TECHNICIAN, () -> jobs.addNote(job, "Wet glass dried first", null));
        return as(repairer, Role.TECHNICIAN, () -> jobs.addPhoto(job, PhotoShows.BEFORE, picture(), null));
    }

    /** A repair from report to certificate, by the method that ships. */
    JobView closed(TestOrganisation owner, TestOrganisation repairer, UUID vehicle, UUID lot, String notes) {
        return closed(owner, repairer, vehicle, lot, notes, job -> {});
    }

    /** The same, with something else done by its technician before the work. */
    JobView closed(
            TestOrganisation owner,
            TestOrganisation repairer,
            UUID vehicle,
            UUID lot,
            String notes,
            Consumer<JobView> besides) {
        var lamp = as(repairer, Role.DISPATCHER, () -> lamps.create(lamp("Lamp " + UUID.randomUUID())));
        as(
                repairer,
                Role.TECHNICIAN,
                () -> lamps.read(lamp.id(), new ReadLamp(BigDecimal.TEN, BigDecimal.valueOf(50), null, null)));
        var damage = report(owner, vehicle, "60");
        var began = clock.instant().minus(Duration.ofHours(1));
        var job = as(
                        owner,
                        Role.MANAGER,
                        () -> jobs.request(new RequestJob(Work.REPAIR, List.of(damage.id()), true, null, began)))
                .id();
        as(owner, Role.MANAGER, () -> jobs.share(job, repairer.id()));
        return as(repairer, Role.TECHNICIAN, () -> {
            tests.taken(job, began);
            jobs.start(job, null, began, clock.instant());
            besides.accept(jobs.job(job));
            bench.read(job, conditions(began));
            jobs.addPhoto(job, PhotoShows.BEFORE, picture(), null, began, clock.instant());
            bench.use(job, new UseLot(lot, null, null));
            bench.use(job, new UseLot(pitFiller(), null, null));
            var at = began;
            for (var kind : List.of(
                    PhaseKind.PREPARE,
                    PhaseKind.CLEAN,
                    PhaseKind.MOUNT,
                    PhaseKind.INJECT,
                    PhaseKind.PRESSURE,
                    PhaseKind.VACUUM,
                    PhaseKind.PIT_FILL,
                    PhaseKind.CURE,
                    PhaseKind.FINISH,
                    PhaseKind.LOOK_OVER)) {
                at = kind == PhaseKind.VACUUM ? at.plus(Duration.ofMinutes(1)) : at; // it rests before
                var ends = at.plus(Duration.ofMinutes(kind == PhaseKind.CURE ? 10 : 2));
                jobs.recordPhase(
                        job,
                        new RecordPhase(
                                kind,
                                at,
                                ends,
                                null,
                                clock.instant(),
                                null,
                                null,
                                kind == PhaseKind.CURE ? lamp.id() : null,
                                null,
                                null,
                                true));
                at = ends;
            }
            jobs.addPhoto(job, PhotoShows.AFTER, picture(), null);
            jobs.inspect(job, TestJobs.passing(jobs.job(job)));
            return jobs.close(job, new CloseJob(Result.GOOD, notes, lot, null, null));
        });
    }

    private UUID pitFiller() {
        return materials
                .create(new SaveLot(
                        "PF-" + UUID.randomUUID(),
                        "Pit filler",
                        LocalDate.now(clock).plusDays(300),
                        null,
                        LotKind.PIT_FILLER))
                .id();
    }

    private UUID imported(TestOrganisation owner) {
        var list = "registration,category\nQV 1001,M3\nQV 1002,no category\n";
        return as(owner, Role.MANAGER, () -> {
                    try {
                        return imports.take(
                                ImportMode.GOOD_ROWS,
                                ImportDefaults.none(),
                                "list.csv",
                                new ByteArrayInputStream(list.getBytes(StandardCharsets.UTF_8)));
                    } catch (IOException e) {
                        throw new UncheckedIOException(e);
                    }
                })
                .id();
    }

    /** A note that a device without network had to keep for a while. */
    private void keptByADevice(TestOrganisation repairer, UUID job, MockMvcTester mvc) {
        var answer = mvc.post()
                .uri("/jobs/" + job + "/notes")
                .with(authentication(new ActingAuthentication(repairer.person(Role.TECHNICIAN))))
                .with(csrf())
                .header("Done-At", clock.instant().minusSeconds(2).toString())
                .header("Device-Ahead-Ms", "1000")
                .formField("text", "No network in the yard")
                .exchange();
        if (answer.getResponse().getStatus() != 302) {
            throw new IllegalStateException("no note was kept: " + answer.getResponse());
        }
    }

    /** A request with a key, so that there is one. */
    private static void keyed(TestOrganisation owner, MockMvcTester mvc) {
        var answer = mvc.post()
                .uri("/api/v1/depots")
                .header("Authorization", owner.bearer(Role.MANAGER))
                .header("Idempotency-Key", UUID.randomUUID().toString())
                .contentType(MediaType.APPLICATION_JSON)
                .content("""
                    {"name": "South yard", "latitude": 51.4, "longitude": -0.1, "zone": "Europe/London",
                     "country": "GB"}\
                    """)
                .exchange();
        if (answer.getResponse().getStatus() != 201) {
            throw new IllegalStateException("no depot was made: " + answer.getResponse());
        }
    }

    DamageView report(TestOrganisation owner, UUID vehicle, String xMm) {
        return as(
                owner,
                Role.MANAGER,
                () -> damages.report(new ReportDamage(vehicle, DamageKind.STAR_BREAK, null, seen(xMm))));
    }

    static SeenDamage seen(String xMm) {
        return new SeenDamage(
                new BigDecimal(xMm),
                new BigDecimal("420"),
                null,
                null,
                new BigDecimal("18"),
                new BigDecimal("0.5"),
                new BigDecimal("3"),
                new BigDecimal("11"),
                Layers.OUTER,
                Condition.CLEAN_DRY,
                Seen.GAUGE,
                null,
                null);
    }

    static SaveDepot depot(String name) {
        return new SaveDepot(
                name,
                null,
                new BigDecimal("51.5"),
                new BigDecimal("-0.12"),
                "Europe/London",
                "GB",
                null,
                null,
                null,
                null);
    }

    static SaveVehicle vehicle(UUID depot, String registration) {
        return new SaveVehicle(
                depot, registration, null, VehicleCategory.M3, 18000, SteeringSide.RIGHT, null, null, null);
    }

    private SavePlan plan(UUID depot) {
        return new SavePlan(
                "Coaches " + depot,
                VehicleCategory.M3,
                depot,
                90,
                null,
                LocalDate.now(clock),
                Set.of(DayOfWeek.MONDAY));
    }

    /** In the shade, warm, dry: go. */
    static ReadConditions conditions() {
        return conditions(null);
    }

    private static ReadConditions conditions(@Nullable Instant at) {
        return new ReadConditions(
                BigDecimal.valueOf(15),
                BigDecimal.valueOf(22),
                BigDecimal.valueOf(60),
                Light.SHADE,
                false,
                true,
                null,
                at,
                at == null ? null : Instant.now());
    }

    static SaveMethod method(String name) {
        return new SaveMethod(
                name,
                "Thin resin",
                "Data sheet 1",
                null,
                null,
                null,
                BigDecimal.valueOf(6),
                1,
                0,
                false,
                List.of(
                        new SaveMethod.SaveStep(PhaseKind.INJECT, true, 60, null),
                        new SaveMethod.SaveStep(PhaseKind.CURE, true, 60, null)));
    }

    static SaveLamp lamp(String name) {
        return new SaveLamp(name, BigDecimal.valueOf(365), BigDecimal.ONE, 100);
    }

    private SaveLot lot(String number) {
        return new SaveLot(number, "Thin resin", LocalDate.now(clock).plusDays(300), null, null);
    }

    private static SaveVan van(String name, @Nullable UUID technician) {
        return new SaveVan(
                name,
                "Base",
                new BigDecimal("51.51"),
                new BigDecimal("-0.11"),
                "Europe/London",
                technician,
                null,
                null);
    }

    /** A small JPEG, each time with other content. */
    static InputStream picture() {
        return new ByteArrayInputStream(pictureBytes());
    }

    static byte[] pictureBytes() {
        var image = new BufferedImage(320, 240, BufferedImage.TYPE_INT_RGB);
        var mark = UUID.randomUUID();
        for (int bit = 0; bit < 64; bit++) {
            if ((mark.getLeastSignificantBits() >> bit & 1) == 1) {
                image.createGraphics().fillRect(bit * 5, 0, 5, 240);
            }
        }
        var out = new ByteArrayOutputStream();
        try {
            ImageIO.write(image, "jpg", out);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return out.toByteArray();
    }

    /** Waits until everybody has heard what was announced. */
    void settle() {
        Awaitility.await()
                .atMost(Duration.ofSeconds(60))
                .until(() -> jdbc.sql("select count(*) from event_publication")
                                .query(Long.class)
                                .single()
                        == 0);
    }

    private UUID first(TestOrganisation owner, String table) {
        return Tenants.callAs(
                new TenantId(owner.id()),
                () -> transaction.execute(
                        status -> jdbc.sql("select id from " + table + " where tenant_id = :owner order by id limit 1")
                                .param("owner", owner.id())
                                .query(UUID.class)
                                .single()));
    }

    private static <T> T as(TestOrganisation organisation, Role role, java.util.function.Supplier<T> work) {
        return TestOrganisations.as(organisation, role, work);
    }
}

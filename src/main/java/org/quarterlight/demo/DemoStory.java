package org.quarterlight.demo;

import de.siegmar.fastcsv.reader.NamedCsvRecord;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.math.BigDecimal;
import java.time.DayOfWeek;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.UUID;
import java.util.function.BiFunction;
import java.util.function.Supplier;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.quarterlight.account.Partners;
import org.quarterlight.agreement.PriceAgreements;
import org.quarterlight.agreement.SavePrices;
import org.quarterlight.bench.Light;
import org.quarterlight.bench.PhaseKind;
import org.quarterlight.damage.Corner;
import org.quarterlight.damage.DamageReporting;
import org.quarterlight.damage.Leg;
import org.quarterlight.damage.ObserveDamage;
import org.quarterlight.damage.ReportDamage;
import org.quarterlight.damage.SeenDamage;
import org.quarterlight.dispatch.Dispatching;
import org.quarterlight.dispatch.SaveShift;
import org.quarterlight.dispatch.SaveVan;
import org.quarterlight.dispatch.Shifts;
import org.quarterlight.dispatch.VanView;
import org.quarterlight.eligibility.Condition;
import org.quarterlight.eligibility.Grade;
import org.quarterlight.eligibility.Layers;
import org.quarterlight.eligibility.Seen;
import org.quarterlight.fleet.CabCodes;
import org.quarterlight.fleet.Depots;
import org.quarterlight.fleet.Fleet;
import org.quarterlight.fleet.ImportDefaults;
import org.quarterlight.fleet.ImportMode;
import org.quarterlight.fleet.OpeningHours;
import org.quarterlight.fleet.SaveDepot;
import org.quarterlight.fleet.VehicleImports;
import org.quarterlight.glass.DamageKind;
import org.quarterlight.glass.VehicleCategory;
import org.quarterlight.inspection.AskInspection;
import org.quarterlight.inspection.InspectionFilter;
import org.quarterlight.inspection.InspectionPlans;
import org.quarterlight.inspection.InspectionRow;
import org.quarterlight.inspection.Inspections;
import org.quarterlight.inspection.RecordInspection;
import org.quarterlight.inspection.SavePlan;
import org.quarterlight.kernel.Ids;
import org.quarterlight.kernel.Money;
import org.quarterlight.repair.Bench;
import org.quarterlight.repair.CalibrateCamera;
import org.quarterlight.repair.Calibration;
import org.quarterlight.repair.CloseJob;
import org.quarterlight.repair.CountStock;
import org.quarterlight.repair.EndPhase;
import org.quarterlight.repair.FinishedRepair;
import org.quarterlight.repair.InspectJob;
import org.quarterlight.repair.JobFilter;
import org.quarterlight.repair.JobState;
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
import org.quarterlight.repair.TransferStock;
import org.quarterlight.repair.UseLot;
import org.quarterlight.repair.Work;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.tenancy.OrganisationKind;
import org.quarterlight.tenancy.Role;
import org.quarterlight.web.SliceRequest;
import org.quarterlight.web.Words;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.context.annotation.Profile;
import org.springframework.core.io.ClassPathResource;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/** Tells twelve months of three organisations to the services, in the order in which they happened. */
@Component
@Profile("demo")
class DemoStory {
    private static final Logger LOG = LoggerFactory.getLogger(DemoStory.class);
    private static final List<String> DAYS = List.of("mo", "tu", "we", "th", "fr", "sa", "su");
    private static final Duration BEFORE_LOADING = Duration.ofHours(3);
    private static final Duration AFTER_LOADING = Duration.ofHours(5);
    private static final Duration REST = Duration.ofMinutes(1);
    private static final LocalTime LAST_MINUTE = LocalTime.of(23, 59);
    private static final Duration LONGEST_WAIT = Duration.ofSeconds(30);

    private final DemoCast cast;
    private final Depots depots;
    private final VehicleImports imports;
    private final Fleet fleet;
    private final CabCodes cabCodes;
    private final DamageReporting damages;
    private final InspectionPlans plans;
    private final Inspections inspections;
    private final RepairJobs jobs;
    private final Bench bench;
    private final Methods methods;
    private final Lamps lamps;
    private final Materials materials;
    private final Stock stock;
    private final Partners partners;
    private final PriceAgreements prices;
    private final Dispatching dispatching;
    private final Shifts shifts;
    private final JdbcClient jdbc;
    private final DemoClock clock;
    private final DemoPhotos photos = new DemoPhotos();
    private final Map<String, UUID> damageIds = new HashMap<>();
    private final Map<String, UUID> jobIds = new HashMap<>();
    private final Map<String, String> fleetOfDamage = new HashMap<>();
    private final Map<String, Instant> lastWork = new HashMap<>();
    private final Map<String, UUID> lots = new HashMap<>();
    private final Map<String, UUID> places = new HashMap<>();

    /** How damages ran, by damage and day. */
    private final Map<String, NamedCsvRecord> shapes = new HashMap<>();

    private final List<PitFiller> pitFillers = new ArrayList<>();
    private final Map<String, UUID> vans = new HashMap<>();
    private final Map<String, ZoneId> zones = new HashMap<>();

    DemoStory(
            DemoCast cast,
            Depots depots,
            VehicleImports imports,
            Fleet fleet,
            CabCodes cabCodes,
            DamageReporting damages,
            InspectionPlans plans,
            Inspections inspections,
            RepairJobs jobs,
            Bench bench,
            Methods methods,
            Lamps lamps,
            Materials materials,
            Stock stock,
            Partners partners,
            PriceAgreements prices,
            Dispatching dispatching,
            Shifts shifts,
            JdbcClient jdbc,
            DemoClock clock) {
        this.cast = cast;
        this.depots = depots;
        this.imports = imports;
        this.fleet = fleet;
        this.cabCodes = cabCodes;
        this.damages = damages;
        this.plans = plans;
        this.inspections = inspections;
        this.jobs = jobs;
        this.bench = bench;
        this.methods = methods;
        this.lamps = lamps;
        this.materials = materials;
        this.stock = stock;
        this.partners = partners;
        this.prices = prices;
        this.dispatching = dispatching;
        this.shifts = shifts;
        this.jdbc = jdbc;
        this.clock = clock;
    }

    /** What pits of an organisation were filled with between two days. */
    private record PitFiller(String organisation, UUID lot, LocalDate from, LocalDate until) {}

    /** One thing that happened. */
    private record Deed(Instant at, int order, Runnable done) {}

    void tell() {
        cast.assemble();
        depots();
        prices();
        vehicles("ashmere");
        vehicles("lindquell");
        lots();
        lamps();
        methods();
        vans();
        plans();
        Rows.of("shapes.csv").forEach(row -> shapes.put(row.getField("damage") + " " + row.getField("day"), row));
        var deeds = new ArrayList<Deed>();
        Rows.of("damages.csv").forEach(row -> damage(row, deeds));
        Rows.of("observations.csv").forEach(row -> observation(row, deeds));
        Rows.of("jobs.csv").forEach(row -> job(row, deeds));
        Rows.of("inspections.csv").forEach(row -> inspection(row, deeds));
        Rows.of("clearances.csv").forEach(row -> clearance(row, deeds));
        var failed = 0;
        deeds.sort(Comparator.comparing(Deed::at).thenComparingInt(Deed::order));
        for (var deed : deeds) {
            try {
                deed.done().run();
            } catch (RuntimeException e) {
                failed++;
                LOG.debug("A deed of the demo did not fit", e);
            }
        }
        settle();
        var moved = Rows.of("stock.csv");
        for (var row : moved) {
            try {
                stock(row);
            } catch (RuntimeException e) {
                failed++;
                LOG.debug("A deed of the demo's stock did not fit", e);
            }
        }
        if (failed > 0) {
            LOG.warn("{} of {} deeds of the demo did not fit and were left out", failed, deeds.size() + moved.size());
        }
    }

    /** What lies where today: after the story, for a movement is written down when it is told. */
    private void stock(NamedCsvRecord row) {
        var acting = cast.withRole(row.getField("organisation"), Role.DISPATCHER);
        var place = row.getField("place");
        cast.as(acting, () -> {
            switch (row.getField("deed")) {
                case "place" ->
                    places.put(
                            place,
                            stock.create(new SaveStockPlace(
                                            place, Words.read(StockPlaceKind.class, row.getField("kind"))))
                                    .id());
                case "level" ->
                    stock.keepAtLeast(
                            known(places, place),
                            new StockLevel(Words.read(LotKind.class, row.getField("kind")), quantity(row)));
                case "receive" -> stock.receive(known(places, place), new ReceiveStock(lot(row), quantity(row)));
                case "transfer" ->
                    stock.transfer(
                            known(places, place),
                            new TransferStock(lot(row), known(places, row.getField("to")), quantity(row)));
                case "count" ->
                    stock.count(
                            known(places, place),
                            new CountStock(lot(row), quantity(row), null, Rows.text(row, "reason")));
                case "recall" -> materials.recall(lot(row), row.getField("reason"));
                default -> throw new IllegalStateException("no such deed: " + row.getField("deed"));
            }
            return place;
        });
    }

    private UUID lot(NamedCsvRecord row) {
        return known(lots, row.getField("lot"));
    }

    private static BigDecimal quantity(NamedCsvRecord row) {
        return new BigDecimal(row.getField("quantity"));
    }

    private void depots() {
        for (var row : Rows.of("depots.csv")) {
            var organisation = row.getField("organisation");
            zones.putIfAbsent(organisation, ZoneId.of(row.getField("zone")));
            cast.as(
                    cast.withRole(organisation, Role.MANAGER),
                    () -> depots.create(new SaveDepot(
                            row.getField("name"),
                            row.getField("address"),
                            new BigDecimal(row.getField("latitude")),
                            new BigDecimal(row.getField("longitude")),
                            row.getField("zone"),
                            row.getField("country"),
                            Rows.text(row, "subdivision"),
                            hours(row.getField("opening_hours")),
                            Integer.valueOf(row.getField("covered_bays")),
                            null)));
        }
    }

    private void prices() {
        for (var row : Rows.of("prices.csv")) {
            var repairer = cast.organisation(row.getField("repairer"));
            var currency = Money.currency("currency", row.getField("currency"));
            var partner = cast.as(
                    cast.withRole(row.getField("organisation"), Role.MANAGER),
                    () -> partners.list(null, SliceRequest.most()).items().stream()
                            .filter(each -> each.repairer().equals(repairer))
                            .findFirst()
                            .orElseThrow()
                            .id());
            var replacement = Rows.text(row, "replacement");
            var warranty = Rows.text(row, "warranty_months");
            var proposed = cast.as(
                    cast.withRole(row.getField("repairer"), Role.DISPATCHER),
                    () -> prices.propose(
                            partner,
                            new SavePrices(
                                    today().plusDays(Integer.parseInt(row.getField("valid_day"))),
                                    currency.getCurrencyCode(),
                                    Money.typed("repair", row.getField("repair"), currency)
                                            .amountMinor(),
                                    Money.typed("further", row.getField("further"), currency)
                                            .amountMinor(),
                                    Money.typed("call_out", row.getField("call_out"), currency)
                                            .amountMinor(),
                                    replacement == null
                                            ? null
                                            : Money.typed("replacement", replacement, currency)
                                                    .amountMinor(),
                                    warranty == null ? null : Integer.valueOf(warranty))));
            if (row.getField("answer").equals("accepted")) {
                cast.as(
                        cast.withRole(row.getField("organisation"), Role.MANAGER),
                        () -> prices.accept(partner, proposed.id()));
            }
        }
    }

    private void vehicles(String organisation) {
        var file = "vehicles-" + organisation + ".csv";
        cast.as(cast.withRole(organisation, Role.MANAGER), () -> {
            try (var content = new ClassPathResource("demo-data/" + file).getInputStream()) {
                return imports.take(ImportMode.GOOD_ROWS, ImportDefaults.none(), file, content);
            } catch (IOException e) {
                throw new UncheckedIOException(e);
            }
        });
    }

    private void lots() {
        for (var row : Rows.of("lots.csv")) {
            var organisation = row.getField("organisation");
            var received = today().plusDays(Integer.parseInt(row.getField("received_day")));
            var until = Rows.text(row, "expires_day");
            var expires = until == null ? null : today().plusDays(Integer.parseInt(until));
            var lot = as(
                    cast.withRole(organisation, Role.DISPATCHER),
                    earlier(received.atStartOfDay(ZoneOffset.UTC).plusHours(5).toInstant(), clock.instant()),
                    () -> materials.create(new SaveLot(
                            row.getField("lot"),
                            row.getField("description"),
                            expires,
                            received,
                            lotKind(row.getField("kind")))));
            lots.put(row.getField("lot"), lot.id());
            if (lot.kind() == LotKind.PIT_FILLER && expires != null) {
                pitFillers.add(new PitFiller(organisation, lot.id(), received, expires));
            }
        }
    }

    /** Told at the time at which it was done, as it would have been. */
    private <T extends @Nullable Object> T as(Acting acting, Instant at, Supplier<T> work) {
        return clock.at(at, () -> cast.as(acting, work));
    }

    private static LotKind lotKind(String word) {
        return switch (word) {
            case "pit-resin" -> LotKind.PIT_FILLER;
            case "adhesive" -> LotKind.ADHESIVE;
            case "film" -> LotKind.FILM;
            case "blade" -> LotKind.BLADE;
            default -> LotKind.RESIN;
        };
    }

    private void lamps() {
        for (var row : Rows.of("lamps.csv")) {
            var dispatcher = cast.withRole(row.getField("organisation"), Role.DISPATCHER);
            var lamp = cast.as(
                    dispatcher,
                    () -> lamps.create(new SaveLamp(
                            row.getField("name"),
                            new BigDecimal(row.getField("wavelength_nm")),
                            BigDecimal.ZERO,
                            Integer.valueOf(row.getField("read_every_days")))));
            for (var reading : row.getField("readings").split(";")) {
                var words = reading.trim().split(" ");
                cast.as(
                        dispatcher,
                        () -> lamps.read(
                                lamp.id(),
                                new ReadLamp(
                                        new BigDecimal(words[1]),
                                        new BigDecimal(words[2]),
                                        today().plusDays(Integer.parseInt(words[0])),
                                        new BigDecimal(words[3]))));
            }
        }
    }

    private void methods() {
        for (var row : Rows.of("methods.csv")) {
            var steps = new ArrayList<SaveMethod.SaveStep>();
            var words = row.getField("steps").split(" ");
            for (int i = 0; i + 1 < words.length; i += 2) {
                var asNeeded = words[i].endsWith("?");
                steps.add(new SaveMethod.SaveStep(
                        Words.read(PhaseKind.class, words[i].replace("?", "")),
                        !asNeeded,
                        60 * Integer.parseInt(words[i + 1]),
                        null));
            }
            cast.as(
                    cast.withRole(row.getField("organisation"), Role.DISPATCHER),
                    () -> methods.create(new SaveMethod(
                            row.getField("name"),
                            row.getField("resin"),
                            row.getField("source"),
                            Rows.number(row, "least_glass_celsius"),
                            Rows.number(row, "most_glass_celsius"),
                            Rows.number(row, "most_humidity_percent"),
                            Rows.number(row, "cure_dose_j_per_cm2"),
                            Integer.valueOf(row.getField("least_cycles")),
                            Integer.valueOf(row.getField("rest_seconds")),
                            true,
                            steps)));
        }
    }

    private void vans() {
        for (var row : Rows.of("vans.csv")) {
            var organisation = row.getField("organisation");
            zones.putIfAbsent(organisation, ZoneId.of(row.getField("zone")));
            var van = cast.as(
                    cast.withRole(organisation, Role.DISPATCHER),
                    () -> dispatching.create(new SaveVan(
                            row.getField("name"),
                            row.getField("base"),
                            new BigDecimal(row.getField("latitude")),
                            new BigDecimal(row.getField("longitude")),
                            row.getField("zone"),
                            cast.person(row.getField("technician")),
                            LocalTime.parse(row.getField("shift_from")),
                            LocalTime.parse(row.getField("shift_to")))));
            vans.put(organisation + "|" + row.getField("name"), van.id());
            outToday(van, organisation);
        }
    }

    /** Today's work is told from the hour of loading on, which may be an evening: the vans are then out at that time. */
    private void outToday(VanView van, String organisation) {
        var now = clock.instant().atZone(van.zone()).truncatedTo(ChronoUnit.HOURS);
        var today = now.toLocalDate();
        var begun = now.minus(BEFORE_LOADING);
        var done = now.plus(AFTER_LOADING);
        var startsAt = begun.toLocalDate().equals(today) ? begun.toLocalTime() : LocalTime.MIN;
        var endsAt = done.toLocalDate().equals(today) ? done.toLocalTime() : LAST_MINUTE;
        if (startsAt.isAfter(van.startsAt().plusHours(1))
                || startsAt.isBefore(van.startsAt().minusHours(1))) {
            cast.as(
                    cast.withRole(organisation, Role.DISPATCHER),
                    () -> shifts.create(new SaveShift(van.id(), today, van.technician(), startsAt, endsAt)));
        }
    }

    private void damage(NamedCsvRecord row, List<Deed> deeds) {
        var key = row.getField("damage");
        var organisation = row.getField("organisation");
        fleetOfDamage.put(key, organisation);
        var at = time(row, "", organisation);
        deeds.add(new Deed(at, 0, () -> {
            var reporter = row.getField("reported_by");
            var registration = row.getField("registration");
            var manager = cast.withRole(organisation, Role.MANAGER);
            var vehicle =
                    cast.as(manager, () -> fleet.byRegistration(registration).id());
            var acting = reporter.equals("cab-code")
                    ? cabCode(manager, vehicle, registration)
                    : cast.acting(reporter, organisation);
            var view = cast.as(
                    acting,
                    () -> damages.report(new ReportDamage(
                            vehicle, Words.read(DamageKind.class, row.getField("kind")), at, seen(row))));
            damageIds.put(key, view.id());
        }));
        if (Rows.text(row, "withdrawn_day") != null) {
            deeds.add(new Deed(
                    time(row, "withdrawn_", organisation),
                    1,
                    () -> cast.as(
                            cast.withRole(organisation, Role.MANAGER),
                            () -> damages.withdraw(known(damageIds, key), row.getField("withdrawn_reason")))));
        }
    }

    private void observation(NamedCsvRecord row, List<Deed> deeds) {
        var key = row.getField("damage");
        var organisation = Objects.requireNonNull(fleetOfDamage.get(key), key);
        var at = time(row, "", organisation);
        deeds.add(new Deed(
                at,
                1,
                () -> cast.as(
                        cast.withRole(organisation, Role.MANAGER),
                        () -> damages.observe(known(damageIds, key), new ObserveDamage(null, at, seen(row))))));
    }

    private void plans() {
        for (var row : Rows.of("plans.csv")) {
            var category = Rows.text(row, "category");
            var place = Rows.text(row, "depot");
            var km = Rows.text(row, "period_km");
            var weekdays = Rows.text(row, "weekdays");
            cast.as(cast.withRole(row.getField("organisation"), Role.MANAGER), () -> {
                var depot = place == null
                        ? null
                        : depots.all().stream()
                                .filter(each -> each.name().equals(place))
                                .findFirst()
                                .orElseThrow()
                                .id();
                return plans.create(new SavePlan(
                        row.getField("name"),
                        category == null ? null : VehicleCategory.valueOf(category),
                        depot,
                        Integer.valueOf(row.getField("period_days")),
                        km == null ? null : Integer.valueOf(km),
                        today().plusDays(Integer.parseInt(row.getField("first_due_day"))),
                        weekdays == null
                                ? null
                                : Arrays.stream(weekdays.split(" "))
                                        .map(day -> DayOfWeek.of(1 + DAYS.indexOf(day)))
                                        .collect(Collectors.toSet())));
            });
        }
    }

    private void inspection(NamedCsvRecord row, List<Deed> deeds) {
        var organisation = row.getField("organisation");
        var at = time(row, "", organisation);
        var km = Rows.text(row, "odometer_km");
        deeds.add(new Deed(
                at,
                9,
                () -> cast.as(cast.acting(row.getField("inspector"), organisation), () -> {
                    var vehicle =
                            fleet.byRegistration(row.getField("registration")).id();
                    return inspections.record(
                            waitingOrAskedFor(vehicle),
                            new RecordInspection(
                                    at,
                                    Words.read(Grade.class, row.getField("grade")),
                                    true,
                                    null,
                                    null,
                                    null,
                                    km == null ? null : Integer.valueOf(km),
                                    Rows.text(row, "note")));
                })));
    }

    private UUID waitingOrAskedFor(UUID vehicle) {
        return inspections
                .list(new InspectionFilter(null, null, vehicle, null), new SliceRequest(1, null))
                .items()
                .stream()
                .map(InspectionRow::id)
                .findFirst()
                .orElseGet(
                        () -> inspections.ask(new AskInspection(vehicle, null)).id());
    }

    private void clearance(NamedCsvRecord row, List<Deed> deeds) {
        var organisation = row.getField("organisation");
        var registration = row.getField("registration");
        deeds.add(new Deed(
                time(row, "", organisation),
                8,
                () -> cast.as(cast.withRole(organisation, Role.MANAGER), () -> {
                    var vehicle = fleet.byRegistration(registration).id();
                    return fleet.clearStandDown(vehicle, row.getField("reason"));
                })));
    }

    private void job(NamedCsvRecord row, List<Deed> deeds) {
        var key = row.getField("job");
        var damageKeys = Arrays.asList(row.getField("damages").split(" "));
        var organisation = Objects.requireNonNull(fleetOfDamage.get(damageKeys.getFirst()), key);
        var performer = Objects.requireNonNullElse(Rows.text(row, "performer"), organisation);
        var requested = time(row, "requested_", organisation);
        var replacement = row.getField("kind").equals("replacement");
        // What an abandoned job asks for by itself is there only after it was abandoned, in the same minute.
        var order = row.getField("requested_by").equals("itself") ? 7 : 2;
        deeds.add(new Deed(requested, order, () -> {
            var follows = Rows.text(row, "follows");
            if (follows != null && row.getField("requested_by").equals("itself")) {
                settle();
                jobIds.put(key, following(organisation, follows));
                return;
            }
            var asking = cast.withRole(organisation, Role.MANAGER);
            var job = cast.as(
                    asking,
                    () -> jobs.request(new RequestJob(
                            replacement ? Work.REPLACEMENT : Work.REPAIR,
                            damageKeys.stream()
                                    .map(damage -> known(damageIds, damage))
                                    .toList(),
                            false,
                            row.getField("kind").equals("warranty") ? known(jobIds, row.getField("follows")) : null,
                            requested)));
            jobIds.put(key, job.id());
        }));
        decision(row, key, organisation, performer, deeds);
        work(row, key, organisation, performer, replacement, deeds);
    }

    private void decision(NamedCsvRecord row, String key, String organisation, String performer, List<Deed> deeds) {
        var decision = Rows.text(row, "decision");
        if (decision == null) {
            return;
        }
        var at = time(row, "decision_", organisation);
        var manager = cast.withRole(organisation, Role.MANAGER);
        deeds.add(new Deed(at, 3, () -> {
            var id = known(jobIds, key);
            if (decision.equals("declined")) {
                cast.as(manager, () -> jobs.decline(id, row.getField("decision_reason"), at));
                return;
            }
            cast.as(manager, () -> jobs.approve(id, at));
            if (!performer.equals(organisation)) {
                cast.as(manager, () -> jobs.share(id, cast.organisation(performer)));
            }
        }));
        var technician = Rows.text(row, "technician");
        var plannedDay = Rows.day(row, "planned_day");
        var van = Rows.text(row, "van");
        if (technician != null || plannedDay != null) {
            deeds.add(new Deed(at, 4, () -> {
                var id = known(jobIds, key);
                var dispatcher = cast.withRole(performer, Role.DISPATCHER);
                if (technician != null) {
                    cast.as(dispatcher, () -> jobs.assign(id, cast.person(technician)));
                }
                if (plannedDay != null && van != null) {
                    cast.as(
                            dispatcher,
                            () -> dispatching.place(
                                    id, known(vans, performer + "|" + van), today().plusDays(plannedDay)));
                }
            }));
        }
    }

    private void work(
            NamedCsvRecord row,
            String key,
            String organisation,
            String performer,
            boolean replacement,
            List<Deed> deeds) {
        var technician = Rows.text(row, "technician");
        if (Rows.text(row, "started_day") != null && technician != null) {
            var started = time(row, "started_", organisation);
            deeds.add(new Deed(started, 5, () -> {
                var id = known(jobIds, key);
                var acting = cast.acting(technician, performer);
                as(acting, started, () -> jobs.start(id, started));
                as(acting, started, () -> jobs.addPhoto(id, PhotoShows.BEFORE, photos.before(), started));
                if (!replacement) {
                    as(acting, started, () -> bench.read(id, conditions(id, started)));
                }
                var last = phases(row, id, acting, started);
                pitFilled(row, id, performer, acting, last);
                lastWork.put(key, last);
                inspections(row, id, acting, last);
            }));
        }
        var end = Rows.text(row, "end");
        if (end == null) {
            return;
        }
        var told = time(row, "end_", organisation);
        deeds.add(new Deed(told, 6, () -> {
            var work = lastWork.get(key);
            var at = work != null && work.isAfter(told) ? work : told;
            var id = known(jobIds, key);
            switch (end) {
                case "closed" ->
                    close(row, id, cast.acting(Objects.requireNonNull(technician), performer), replacement, at);
                case "abandoned" ->
                    as(
                            cast.acting(Objects.requireNonNull(technician), performer),
                            at,
                            () -> jobs.abandon(id, row.getField("end_reason"), at));
                default ->
                    cast.as(
                            cast.withRole(organisation, Role.MANAGER),
                            () -> jobs.withdraw(id, row.getField("end_reason"), at));
            }
            settle();
        }));
    }

    /** With the filler that came last and still held. */
    private void pitFilled(NamedCsvRecord row, UUID id, String performer, Acting acting, Instant at) {
        if (!row.getField("phases").contains("pit-fill")) {
            return;
        }
        var day = at.atZone(Objects.requireNonNull(zones.get(performer), performer))
                .toLocalDate();
        pitFillers.stream()
                .filter(each -> each.organisation().equals(performer))
                .filter(each -> !each.from().isAfter(day) && !each.until().isBefore(day))
                .max(Comparator.comparing(PitFiller::from))
                .ifPresent(filler -> as(acting, at, () -> {
                    bench.use(id, new UseLot(filler.lot(), null, at));
                    return id;
                }));
    }

    private Instant phases(NamedCsvRecord row, UUID id, Acting acting, Instant started) {
        var words = row.getField("phases").isBlank()
                ? new String[0]
                : row.getField("phases").split(" ");
        var from = started;
        var read = started;
        @Nullable PhaseKind last = null;
        for (int i = 0; i + 1 < words.length; i += 2) {
            var kind = Words.read(PhaseKind.class, words[i]);
            var begins = turns(last, kind) ? earlier(from.plus(REST), clock.instant()) : from;
            var ends = earlier(begins.plus(Duration.ofMinutes(Long.parseLong(words[i + 1]))), clock.instant());
            if (Bench.needsConditions(kind) && begins.isAfter(read.plus(Bench.readingHolds()))) {
                read = begins;
                as(acting, begins, () -> bench.read(id, conditions(id, begins)));
            }
            var reason = last == PhaseKind.LOOK_OVER ? "did not pass the look over" : "the next break";
            var phase = Ids.next(begins);
            as(
                    acting,
                    begins,
                    () -> jobs.recordPhase(
                            id,
                            new RecordPhase(
                                    kind,
                                    begins,
                                    null,
                                    null,
                                    null,
                                    reason,
                                    null,
                                    null,
                                    null,
                                    null,
                                    kind == PhaseKind.CURE,
                                    phase,
                                    null)));
            as(
                    acting,
                    ends,
                    () -> jobs.endPhase(
                            id, phase, new EndPhase(null, kind == PhaseKind.VACUUM ? true : null, ends, null)));
            last = kind;
            from = ends;
        }
        return from;
    }

    /** The list tells how long each was worked at; between these two it rests besides. */
    private static boolean turns(@Nullable PhaseKind last, PhaseKind next) {
        return last == PhaseKind.PRESSURE && next == PhaseKind.VACUUM
                || last == PhaseKind.VACUUM && next == PhaseKind.PRESSURE;
    }

    /** In the shade, the glass warmed to what the method asks for: days differ a little, and so do the figures. */
    private static ReadConditions conditions(UUID job, Instant at) {
        var odd = Math.floorMod(job.hashCode(), 40);
        return new ReadConditions(
                BigDecimal.valueOf(120 + 2 * odd, 1),
                BigDecimal.valueOf(215 + odd, 1),
                BigDecimal.valueOf(45 + odd / 2),
                odd % 3 == 0 ? Light.COVERED : Light.SHADE,
                false,
                true,
                null,
                at);
    }

    private void inspections(NamedCsvRecord row, UUID id, Acting acting, Instant at) {
        var text = Rows.text(row, "inspections");
        if (text == null) {
            return;
        }
        as(acting, at, () -> jobs.addPhoto(id, PhotoShows.AFTER, photos.after(), at));
        for (var each : text.split(";")) {
            var inspection = each.trim();
            var passed = inspection.equals("passed");
            var reason = passed
                    ? null
                    : inspection.substring(inspection.indexOf(':') + 1).trim();
            as(
                    acting,
                    at,
                    () -> jobs.inspect(
                            id, new InspectJob(passed, reason, passed ? found(jobs.job(id)) : List.of(), at)));
        }
    }

    /** Every demo repair that was passed came out well, and was measured with a gauge. */
    private static List<FinishedRepair> found(JobView job) {
        return job.brief().damages().stream()
                .map(damage -> new FinishedRepair(
                        damage.id(),
                        BigDecimal.valueOf(5, 1),
                        BigDecimal.ZERO,
                        BigDecimal.valueOf(2),
                        Seen.GAUGE,
                        null,
                        Grade.NONE,
                        true,
                        true,
                        true,
                        Layers.OUTER,
                        Condition.CLEAN_DRY,
                        damage.xMm(),
                        damage.yMm()))
                .toList();
    }

    private void close(NamedCsvRecord row, UUID id, Acting acting, boolean replacement, Instant at) {
        var lot = Rows.text(row, "lot");
        var notes = Objects.requireNonNullElse(
                Rows.text(row, "notes"), replacement ? "New glass fitted." : "Filled and cured.");
        if (replacement) {
            as(acting, at, () -> {
                bench.calibrate(
                        id,
                        new CalibrateCamera(true, Calibration.Manner.STATIC, "Target board and tester", "", at, null));
                return id;
            });
        }
        as(
                acting,
                at,
                () -> jobs.close(
                        id,
                        new CloseJob(
                                replacement ? Result.REPLACED : Result.GOOD,
                                notes,
                                lot == null ? null : known(lots, lot),
                                null,
                                at)));
    }

    private UUID following(String organisation, String abandoned) {
        var before = known(jobIds, abandoned);
        return cast.as(cast.withRole(organisation, Role.MANAGER), () -> {
            var vehicle = jobs.job(before).vehicle();
            return jobs
                    .list(
                            new JobFilter(null, true, null, null, null, null, null, vehicle, JobFilter.Sort.NEWEST),
                            DemoCast.all())
                    .items()
                    .stream()
                    .map(row -> jobs.job(row.id()))
                    .filter(job -> before.equals(job.follows()) && job.state() == JobState.REQUESTED)
                    .map(JobView::id)
                    .findFirst()
                    .orElseThrow(() -> new IllegalStateException("nothing follows " + abandoned));
        });
    }

    private Acting cabCode(Acting manager, UUID vehicle, String registration) {
        var code = cast.as(manager, () -> cabCodes.make(vehicle));
        return new Acting(
                manager.organisation(),
                OrganisationKind.FLEET,
                manager.organisationName(),
                manager.pattern(),
                null,
                "cab code of " + registration,
                Set.of(Role.CAB_CODE),
                code.id());
    }

    private SeenDamage seen(NamedCsvRecord row) {
        var layers = Rows.text(row, "layers");
        var condition = Rows.text(row, "condition");
        var shape = shapes.get(row.getField("damage") + " " + row.getField("day"));
        return new SeenDamage(
                new BigDecimal(row.getField("x_mm")),
                new BigDecimal(row.getField("y_mm")),
                null,
                null,
                new BigDecimal(row.getField("diameter_mm")),
                Rows.number(row, "u_mm"),
                Rows.number(row, "pit_mm"),
                Rows.number(row, "longest_leg_mm"),
                layers == null ? null : Words.read(Layers.class, layers),
                condition == null ? null : Words.read(Condition.class, condition),
                Words.read(Seen.class, row.getField("source")),
                null,
                null,
                shape == null ? List.of() : pairs(shape, "course", Corner::new),
                shape == null ? List.of() : pairs(shape, "legs", Leg::new),
                null,
                null);
    }

    /** Pairs of figures, {@code 402 240; 420 252}. */
    private static <T> List<T> pairs(NamedCsvRecord row, String column, BiFunction<BigDecimal, BigDecimal, T> made) {
        var text = Rows.text(row, column);
        var all = new ArrayList<T>();
        for (var pair : text == null ? new String[0] : text.split(";")) {
            var words = pair.trim().split(" ");
            all.add(made.apply(new BigDecimal(words[0]), new BigDecimal(words[1])));
        }
        return all;
    }

    /** Waits until everybody has heard what was announced: the next deed builds on it. */
    private void settle() {
        var until = System.nanoTime() + LONGEST_WAIT.toNanos();
        while (jdbc.sql("select count(*) from event_publication")
                        .query(Long.class)
                        .single()
                > 0) {
            if (System.nanoTime() > until) {
                LOG.warn("Announcements of the demo are still on their way");
                return;
            }
            try {
                Thread.sleep(5);
            } catch (InterruptedException e) {
                Thread.currentThread().interrupt();
                return;
            }
        }
    }

    private Instant time(NamedCsvRecord row, String prefix, String organisation) {
        var day = Integer.parseInt(row.getField(prefix + "day"));
        var time = row.getField(prefix + "time");
        if (time.startsWith("now")) {
            return clock.instant().plus(Duration.ofMinutes(Long.parseLong(time.substring(3))));
        }
        var zone = Objects.requireNonNull(zones.get(organisation), organisation);
        return earlier(
                today().plusDays(day).atTime(LocalTime.parse(time)).atZone(zone).toInstant(), clock.instant());
    }

    private LocalDate today() {
        return LocalDate.now(clock);
    }

    private static Instant earlier(Instant one, Instant other) {
        return one.isBefore(other) ? one : other;
    }

    private static UUID known(Map<String, UUID> ids, String key) {
        return Objects.requireNonNull(ids.get(key), () -> key + " is not there");
    }

    private static OpeningHours hours(String text) {
        var days = new EnumMap<DayOfWeek, OpeningHours.Hours>(DayOfWeek.class);
        for (var part : text.split(";")) {
            var words = part.trim().split(" ");
            var span = words[0].toLowerCase(Locale.ROOT).split("-");
            var times = words[1].split("-");
            var from = DAYS.indexOf(span[0]);
            var to = DAYS.indexOf(span[span.length - 1]);
            for (int day = from; day <= to; day++) {
                days.put(
                        DayOfWeek.of(day + 1),
                        new OpeningHours.Hours(LocalTime.parse(times[0]), LocalTime.parse(times[1])));
            }
        }
        return new OpeningHours(days);
    }
}

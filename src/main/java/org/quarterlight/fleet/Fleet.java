package org.quarterlight.fleet;

import jakarta.validation.Valid;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Clock;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.Optional;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.eligibility.Outcome;
import org.quarterlight.fleet.list.Registration;
import org.quarterlight.glass.SteeringSide;
import org.quarterlight.glass.VehicleCategory;
import org.quarterlight.history.History;
import org.quarterlight.kernel.Ids;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.kernel.Reason;
import org.quarterlight.kernel.Stale;
import org.quarterlight.tenancy.Locks;
import org.quarterlight.tenancy.Tenants;
import org.quarterlight.web.ListQuery;
import org.quarterlight.web.Slice;
import org.quarterlight.web.SliceRequest;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.dao.DuplicateKeyException;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;
import org.springframework.validation.annotation.Validated;

/** The vehicles of an organisation, the windscreens they carry, and how they stand. */
@Service
@Validated
public class Fleet {
    static final int NOTHING_OPEN = 9;
    static final LocalDate NEVER = LocalDate.of(9999, 12, 31);
    private static final String COLUMNS = """
        v.id, v.depot_id, d.name as depot_name, v.registration, v.vin, v.category, v.max_mass_kg, v.steering_side,
        v.make_model, v.fleet_number, v.notes, v.first_registered, v.retired_at, v.version + c.version as version,
        c.worst, c.open_count, c.act_by, c.stands_down_since, c.stands_down_because,
        c.until_measured\
        """;
    private static final String FROM = """
        vehicle v
        join depot d on d.tenant_id = v.tenant_id and d.id = v.depot_id
        join vehicle_condition c on c.tenant_id = v.tenant_id and c.vehicle_id = v.id\
        """;
    private static final ListQuery.Order BY_REGISTRATION = ListQuery.Order.ascending(
            "registration", new ListQuery.Key("v.registration_key", "text"), new ListQuery.Key("v.id", "uuid"));
    private static final ListQuery.Order WORST_FIRST = ListQuery.Order.ascending(
            "worst",
            new ListQuery.Key("c.rank", "smallint"),
            new ListQuery.Key("c.act_by", "date"),
            new ListQuery.Key("c.vehicle_id", "uuid"));
    private static final ListQuery.Order NEWEST_FIRST =
            ListQuery.Order.descending("newest", new ListQuery.Key("v.id", "uuid"));

    private final JdbcClient jdbc;
    private final Depots depots;
    private final GlassPatterns patterns;
    private final History history;
    private final ChangedFacts facts;
    private final ApplicationEventPublisher events;
    private final Clock clock;

    Fleet(
            JdbcClient jdbc,
            Depots depots,
            GlassPatterns patterns,
            History history,
            ChangedFacts facts,
            ApplicationEventPublisher events,
            Clock clock) {
        this.jdbc = jdbc;
        this.depots = depots;
        this.patterns = patterns;
        this.history = history;
        this.facts = facts;
        this.events = events;
        this.clock = clock;
    }

    /** How registrations are compared, for searches elsewhere. */
    public static String key(String registration) {
        return Registration.keyOf(registration);
    }

    @Transactional(readOnly = true)
    @PreAuthorize("hasAnyRole('MANAGER', 'DISPATCHER', 'TECHNICIAN', 'DRIVER')")
    public Slice<VehicleView> vehicles(VehicleFilter filter, SliceRequest wanted) {
        return filtered(filter, COLUMNS, FROM).slice(jdbc, order(filter), wanted, Fleet::view);
    }

    /** The same with the name of the glass that each carries. */
    @Transactional(readOnly = true)
    @PreAuthorize("hasAnyRole('MANAGER', 'DISPATCHER', 'TECHNICIAN', 'DRIVER')")
    public Slice<VehicleRow> rows(VehicleFilter filter, SliceRequest wanted) {
        return filtered(filter, COLUMNS + ", p.name as pattern_name", FROM + """
             join windscreen w on w.tenant_id = v.tenant_id and w.vehicle_id = v.id and w.removed_on is null
            join glass_pattern p on p.tenant_id = w.tenant_id and p.id = w.pattern_id\
            """)
                .slice(
                        jdbc,
                        order(filter),
                        wanted,
                        (row, number) -> new VehicleRow(view(row, number), row.getString("pattern_name")));
    }

    /** Up to {@link ListQuery#COUNTED_AT_MOST} + 1. */
    @Transactional(readOnly = true)
    @PreAuthorize("hasAnyRole('MANAGER', 'DISPATCHER', 'TECHNICIAN', 'DRIVER')")
    public long count(VehicleFilter filter) {
        return filtered(filter, COLUMNS, FROM).count(jdbc);
    }

    /** How many vehicles must not be driven, or have which verdict as their worst; what is left has nothing open. */
    @Transactional(readOnly = true)
    @PreAuthorize("hasAnyRole('MANAGER', 'DISPATCHER', 'TECHNICIAN')")
    public FleetCondition condition() {
        var worst = new EnumMap<Outcome, Long>(Outcome.class);
        var vehicles = new long[1];
        jdbc.sql("""
            select case when c.stands_down_since is not null then 'STAND_DOWN' else c.worst end as worst,
                count(*) as vehicles
            from vehicle_condition c join vehicle v on v.tenant_id = c.tenant_id and v.id = c.vehicle_id
            where c.tenant_id = :organisation and v.tenant_id = :organisation and v.retired_at is null
            group by 1\
            """).param("organisation", Tenants.require().value()).query(row -> {
            vehicles[0] += row.getLong("vehicles");
            if (row.getString("worst") != null) {
                worst.put(Outcome.valueOf(row.getString("worst")), row.getLong("vehicles"));
            }
        });
        return new FleetCondition(vehicles[0], worst);
    }

    /** A vehicle for whoever may see the fleet. */
    @Transactional(readOnly = true)
    @PreAuthorize("hasAnyRole('MANAGER', 'DISPATCHER', 'TECHNICIAN', 'DRIVER')")
    public VehicleView read(UUID id) {
        return vehicle(id);
    }

    /** The same for other services, which have asked who may see it. */
    @Transactional(readOnly = true)
    public VehicleView vehicle(UUID id) {
        return find(id).orElseThrow(() -> new VehicleNotFound(id));
    }

    /** The vehicle in the fleet with this registration, however it is spelled, as long as only one can be meant. */
    @Transactional(readOnly = true)
    public VehicleView byRegistration(String registration) {
        var key = Registration.keyOf(registration);
        var found = jdbc.sql("select " + COLUMNS + " from " + FROM + """
             where v.tenant_id = :organisation and v.registration_search = :search and v.retired_at is null
            order by v.registration_key = :key desc limit 3\
            """)
                .param("organisation", Tenants.require().value())
                .param("search", Spelling.search(key))
                .param("key", key)
                .query(Fleet::view)
                .list();
        return found.stream()
                .filter(each -> Registration.keyOf(each.registration()).equals(key))
                .findFirst()
                .or(() -> found.size() == 1
                                && Spelling.same(
                                        Registration.keyOf(found.getFirst().registration()), key)
                        ? Optional.of(found.getFirst())
                        : Optional.empty())
                .orElseThrow(() -> new VehicleNotFound(registration));
    }

    /** Takes a vehicle into the fleet, with the glass that its kind most likely has. */
    @Transactional
    @PreAuthorize("hasRole('MANAGER')")
    public VehicleView create(@Valid SaveVehicle command) {
        var now = clock.instant();
        var id = Ids.next(now);
        check(id, command);
        write("""
            insert into vehicle (tenant_id, id, depot_id, registration, registration_key, vin, category, max_mass_kg,
                steering_side, make_model, fleet_number, notes, first_registered, version)
            values (:organisation, :id, :depot, :registration, :key, :vin, :category, :mass, :side, :makeModel,
                :fleetNumber, :notes, :firstRegistered, 0)\
            """, id, command);
        jdbc.sql("""
            insert into vehicle_condition (tenant_id, vehicle_id, rank, open_count, act_by, version)
            values (:organisation, :id, :rank, 0, :never, 0)\
            """)
                .param("organisation", Tenants.require().value())
                .param("id", id)
                .param("rank", NOTHING_OPEN)
                .param("never", NEVER)
                .update();
        var pattern = patterns.genericFor(command.category(), command.steeringSide());
        insertWindscreen(Ids.next(now), id, pattern, 1, null, "", now);
        history.add("took in", "vehicle", id, command.registration().trim());
        events.publishEvent(new VehiclesChanged(Tenants.require(), List.of(id)));
        return vehicle(id);
    }

    @Transactional
    @PreAuthorize("hasRole('MANAGER')")
    public VehicleView change(UUID id, @Valid SaveVehicle command, int version) {
        var before = locked(id);
        Stale.check(before.registration(), version, before.version());
        if (before.retired()) {
            throw new VehicleRetired(before.registration());
        }
        check(id, command);
        write("""
            update vehicle set depot_id = :depot, registration = :registration, registration_key = :key, vin = :vin,
                category = :category, max_mass_kg = :mass, steering_side = :side, make_model = :makeModel,
                fleet_number = :fleetNumber, notes = :notes, first_registered = :firstRegistered,
                version = version + 1
            where tenant_id = :organisation and id = :id\
            """, id, command);
        if (before.category() != command.category() || before.steeringSide() != command.steeringSide()) {
            regeneric(id, command.category(), command.steeringSide());
        }
        if (before.category() != command.category()
                || before.steeringSide() != command.steeringSide()
                || !Objects.equals(before.maxMassKg(), command.maxMassKg())
                || !before.depot().equals(command.depot())) {
            facts.of(List.of(id));
        }
        history.add("changed", "vehicle", id, command.registration().trim());
        events.publishEvent(new VehiclesChanged(Tenants.require(), List.of(id)));
        return vehicle(id);
    }

    /** Takes a vehicle out of the fleet and keeps its history. Its cab codes end. */
    @Transactional
    @PreAuthorize("hasRole('MANAGER')")
    public void retire(UUID id, int version) {
        var before = locked(id);
        Stale.check(before.registration(), version, before.version());
        var now = clock.instant().atOffset(ZoneOffset.UTC);
        jdbc.sql("""
            update vehicle set retired_at = coalesce(retired_at, :now), version = version + 1
            where tenant_id = :organisation and id = :id\
            """)
                .param("now", now)
                .param("organisation", Tenants.require().value())
                .param("id", id)
                .update();
        jdbc.sql("""
            update cab_code set revoked_at = coalesce(revoked_at, :now)
            where tenant_id = :organisation and vehicle_id = :id\
            """)
                .param("now", now)
                .param("organisation", Tenants.require().value())
                .param("id", id)
                .update();
        history.add("retired", "vehicle", id, before.registration());
        events.publishEvent(new VehiclesChanged(Tenants.require(), List.of(id)));
    }

    /** The glass that a vehicle carries now. */
    @Transactional(readOnly = true)
    public Glazing glazing(UUID vehicle) {
        var windscreen = windscreens(vehicle).stream()
                .filter(each -> each.removedOn() == null)
                .findFirst()
                .orElseThrow(() -> new VehicleNotFound(vehicle));
        return glazing(windscreen);
    }

    /** A windscreen that a vehicle carries or carried, on that vehicle. */
    @Transactional(readOnly = true)
    public Glazing glazingOfWindscreen(UUID windscreen) {
        return glazing(jdbc.sql(WINDSCREEN + " and w.id = :id")
                .param("organisation", Tenants.require().value())
                .param("id", windscreen)
                .query(Fleet::windscreen)
                .optional()
                .orElseThrow(() -> new WindscreenNotFound(windscreen)));
    }

    /** All windscreens of a vehicle, the present one first. */
    @Transactional(readOnly = true)
    public List<WindscreenView> windscreens(UUID vehicle) {
        return jdbc.sql(WINDSCREEN
                        + " and w.vehicle_id = :vehicle order by w.removed_on desc nulls first, w.made_at desc")
                .param("organisation", Tenants.require().value())
                .param("vehicle", vehicle)
                .query(Fleet::windscreen)
                .list();
    }

    @Transactional
    @PreAuthorize("hasRole('MANAGER')")
    public WindscreenView fit(UUID vehicle, @Valid FitWindscreen command) {
        return fitted(vehicle, command, null);
    }

    /** The same by somebody who looked at this version of the vehicle, so that no glass is replaced unseen. */
    @Transactional
    @PreAuthorize("hasRole('MANAGER')")
    public WindscreenView fit(UUID vehicle, @Valid FitWindscreen command, int version) {
        var before = locked(vehicle);
        Stale.check(before.registration(), version, before.version());
        return fitted(vehicle, command, null);
    }

    /**
     * The same, told by a job that fitted the glass; whoever closed the job had the right.
     *
     * @param at null where only the day is known
     */
    @Transactional
    public WindscreenView fitted(UUID vehicle, FitWindscreen command, @Nullable Instant at) {
        var before = locked(vehicle);
        if (before.retired()) {
            throw new VehicleRetired(before.registration());
        }
        var all = windscreens(vehicle);
        var known = all.stream().filter(each -> each.id().equals(command.id())).findFirst();
        if (known.isPresent()) {
            return known.get();
        }
        var old = all.stream()
                .filter(each -> each.removedOn() == null)
                .findFirst()
                .orElseThrow(() -> new VehicleNotFound(vehicle));
        var now = clock.instant();
        var zone = depots.depot(before.depot()).zone();
        var today = now.atZone(zone).toLocalDate();
        var on = Objects.requireNonNullElse(command.fittedOn(), today);
        if (on.isAfter(today)) {
            throw new Invalid("fittedOn", "Glass is fitted today or before");
        }
        if (old.fittedOn() != null && on.isBefore(old.fittedOn())) {
            throw new Invalid("fittedOn", "The glass it carries now was fitted on " + old.fittedOn());
        }
        jdbc.sql("""
            update windscreen set removed_on = :on, removed_because = :reason
            where tenant_id = :organisation and id = :id\
            """)
                .param("on", on)
                .param("reason", Objects.requireNonNullElse(command.reason(), "replaced"))
                .param("organisation", Tenants.require().value())
                .param("id", old.id())
                .update();
        var pattern = command.pattern() == null ? old.pattern() : command.pattern();
        var number = patterns.fitting(pattern, old.pattern());
        var id = command.id() == null ? Ids.next(now) : command.id();
        insertWindscreen(id, vehicle, pattern, number, on, Objects.requireNonNullElse(command.marking(), ""), now);
        jdbc.sql("update vehicle set version = version + 1 where tenant_id = :organisation and id = :id")
                .param("organisation", Tenants.require().value())
                .param("id", vehicle)
                .update();
        history.add("fitted new glass to", "vehicle", vehicle, before.registration());
        var fittedAt = at != null
                ? at
                : on.equals(today)
                        ? now
                        : on.atTime(LocalTime.NOON).atZone(zone).toInstant();
        events.publishEvent(new WindscreenFitted(Tenants.require(), vehicle, old.id(), id, fittedAt));
        return windscreens(vehicle).getFirst();
    }

    /** Corrects which pattern the glass now fitted has; the glass stays the same, and so do its damages. */
    @Transactional
    @PreAuthorize("hasRole('MANAGER')")
    public WindscreenView assignPattern(UUID vehicle, UUID pattern) {
        locked(vehicle);
        var number = patterns.fitting(pattern, null);
        var present = windscreens(vehicle).stream()
                .filter(each -> each.removedOn() == null)
                .findFirst()
                .orElseThrow(() -> new VehicleNotFound(vehicle));
        setPattern(present.id(), pattern, number);
        history.add("corrected the glass of", "vehicle", vehicle, "");
        events.publishEvent(new GlassCorrected(Tenants.require(), vehicle, present.id()));
        return windscreens(vehicle).getFirst();
    }

    /** Notes how a vehicle's damages stand, in the transaction of what changed them. No person calls this. */
    @Transactional
    public void note(UUID vehicle, Condition condition) {
        jdbc.sql("""
            update vehicle_condition set worst = :worst, rank = :rank, open_count = :open, since = :since,
                act_by = :actBy, until_measured = :untilMeasured, version = version + 1
            where tenant_id = :organisation and vehicle_id = :vehicle\
            """)
                .param(
                        "worst",
                        condition.worst() == null ? null : condition.worst().name())
                .param(
                        "rank",
                        condition.worst() == null
                                ? NOTHING_OPEN
                                : condition.worst().ordinal())
                .param("open", condition.openDamages())
                .param(
                        "since",
                        condition.since() == null ? null : condition.since().atOffset(ZoneOffset.UTC))
                .param("actBy", Objects.requireNonNullElse(condition.actBy(), NEVER))
                .param("untilMeasured", condition.untilMeasured())
                .param("organisation", Tenants.require().value())
                .param("vehicle", vehicle)
                .update();
    }

    /** Takes a vehicle off the road because of a verdict. No person calls this; saying so twice changes nothing. */
    @Transactional
    public void standDown(UUID vehicle, String reason, Instant since) {
        var changed = jdbc.sql("""
            update vehicle_condition set stands_down_since = :since, stands_down_because = :reason,
                version = version + 1
            where tenant_id = :organisation and vehicle_id = :vehicle and stands_down_since is null\
            """)
                .param("since", since.atOffset(ZoneOffset.UTC))
                .param("reason", reason)
                .param("organisation", Tenants.require().value())
                .param("vehicle", vehicle)
                .update();
        if (changed > 0) {
            history.add("stood down", "vehicle", vehicle, reason);
        }
    }

    /** Puts a vehicle back on the road; whoever does it says why. */
    @Transactional
    @PreAuthorize("hasRole('MANAGER')")
    public VehicleView clearStandDown(UUID vehicle, String reason) {
        var why = Reason.given(reason);
        vehicle(vehicle);
        var changed = jdbc.sql("""
            update vehicle_condition set stands_down_since = null, stands_down_because = null,
                version = version + 1
            where tenant_id = :organisation and vehicle_id = :vehicle and stands_down_since is not null\
            """)
                .param("organisation", Tenants.require().value())
                .param("vehicle", vehicle)
                .update();
        if (changed > 0) {
            history.add("cleared the stand-down of", "vehicle", vehicle, why);
        }
        return vehicle(vehicle);
    }

    private static final String WINDSCREEN = """
        select w.id, w.vehicle_id, w.pattern_id, w.pattern_number, p.name as pattern_name, p.generic, w.fitted_on,
            w.removed_on, w.removed_because, w.marking
        from windscreen w join glass_pattern p on p.tenant_id = w.tenant_id and p.id = w.pattern_id
        where w.tenant_id = :organisation\
        """;

    private Glazing glazing(WindscreenView windscreen) {
        var vehicle = vehicle(windscreen.vehicle());
        return new Glazing(
                vehicle,
                depots.depot(vehicle.depot()),
                windscreen.id(),
                windscreen.fittedOn(),
                windscreen.removedOn() == null,
                windscreen.pattern(),
                windscreen.patternVersion(),
                windscreen.genericPattern(),
                patterns.drawn(windscreen.pattern(), windscreen.patternVersion()));
    }

    static ListQuery.Order order(VehicleFilter filter) {
        return switch (filter.sort()) {
            case WORST_FIRST -> WORST_FIRST;
            case NEWEST -> NEWEST_FIRST;
            case REGISTRATION -> BY_REGISTRATION;
            case null -> BY_REGISTRATION;
        };
    }

    static ListQuery filtered(VehicleFilter filter, String columns, String from) {
        var list = new ListQuery(columns, from)
                .where(
                        "v.tenant_id = :organisation",
                        "organisation",
                        Tenants.require().value())
                .where("c.tenant_id = :organisation")
                .where("v.retired_at is null")
                .whereGiven("v.depot_id = :depot", "depot", filter.depot())
                .whereGiven(
                        "v.category = :category",
                        "category",
                        filter.category() == null ? null : filter.category().name())
                .whereGiven(
                        "c.rank = :rank",
                        "rank",
                        filter.worst() == null ? null : filter.worst().ordinal());
        if (filter.damaged() != null) {
            list.where(filter.damaged() ? "c.rank < " + NOTHING_OPEN : "c.rank = " + NOTHING_OPEN);
        }
        if (filter.standsDown() != null) {
            list.where("c.stands_down_since is " + (filter.standsDown() ? "not null" : "null"));
        }
        if (filter.notToBeDriven() != null) {
            list.where(
                    filter.notToBeDriven()
                            ? "c.stands_down_since is not null or c.until_measured"
                            : "c.stands_down_since is null and not c.until_measured");
        }
        if (filter.search() != null && !filter.search().isBlank()) {
            // A range, not "like": under a row policy like cannot use the index.
            var first = Spelling.search(Registration.keyOf(filter.search()));
            list.parameter("first", first)
                    .parameter("beyond", first + Character.MAX_VALUE)
                    .where("""
                        v.registration_search >= :first and v.registration_search < :beyond
                            or v.vin >= :first and v.vin < :beyond\
                        """);
        }
        return list;
    }

    private Optional<VehicleView> find(UUID id) {
        return jdbc.sql("select " + COLUMNS + " from " + FROM + " where v.tenant_id = :organisation and v.id = :id")
                .param("organisation", Tenants.require().value())
                .param("id", id)
                .query(Fleet::view)
                .optional();
    }

    private VehicleView locked(UUID id) {
        Locks.row(jdbc, "vehicle", id);
        return vehicle(id);
    }

    private void check(UUID id, SaveVehicle command) {
        Registration.problemOf(command.registration()).ifPresent(problem -> {
            throw new Invalid("registration", "The registration " + problem);
        });
        var key = Registration.keyOf(command.registration());
        jdbc
                .sql("""
                    select registration from vehicle
                    where tenant_id = :organisation and registration_search = :search and retired_at is null and id <> :id\
                    """)
                .param("organisation", Tenants.require().value())
                .param("search", Spelling.search(key))
                .param("id", id)
                .query(String.class)
                .list()
                .stream()
                .filter(other -> Spelling.same(Registration.keyOf(other), key))
                .findFirst()
                .ifPresent(other -> {
                    throw new Invalid("registration", other + " is in the fleet already");
                });
        try {
            if (depots.depot(command.depot()).retired()) {
                throw new Invalid("depot", "This depot is closed for good");
            }
        } catch (DepotNotFound e) {
            throw new Invalid("depot", "There is no such depot");
        }
    }

    private void write(String sql, UUID id, SaveVehicle command) {
        try {
            jdbc.sql(sql)
                    .param("organisation", Tenants.require().value())
                    .param("id", id)
                    .param("depot", command.depot())
                    .param(
                            "registration",
                            Registration.of(command.registration()).shown().toUpperCase(Locale.ROOT))
                    .param("key", Registration.keyOf(command.registration()))
                    .param(
                            "vin",
                            command.vin() == null || command.vin().isBlank()
                                    ? null
                                    : command.vin().trim().toUpperCase(Locale.ROOT))
                    .param("category", command.category().name())
                    .param("mass", command.maxMassKg())
                    .param("side", command.steeringSide().name())
                    .param("makeModel", text(command.makeModel()))
                    .param("fleetNumber", text(command.fleetNumber()))
                    .param("notes", text(command.notes()))
                    .param("firstRegistered", command.firstRegistered())
                    .update();
        } catch (DuplicateKeyException e) {
            throw new Invalid("registration", "This registration is in the fleet already");
        }
    }

    /** A generic glass follows the vehicle's kind; a measured one stays. */
    void regeneric(UUID vehicle, VehicleCategory category, SteeringSide side) {
        windscreens(vehicle).stream()
                .filter(each -> each.removedOn() == null && each.genericPattern())
                .forEach(each -> setPattern(each.id(), patterns.genericFor(category, side), 1));
    }

    private void setPattern(UUID windscreen, UUID pattern, int number) {
        jdbc.sql("""
            update windscreen set pattern_id = :pattern, pattern_number = :number
            where tenant_id = :organisation and id = :id\
            """)
                .param("pattern", pattern)
                .param("number", number)
                .param("organisation", Tenants.require().value())
                .param("id", windscreen)
                .update();
    }

    private void insertWindscreen(
            UUID id, UUID vehicle, UUID pattern, int number, @Nullable LocalDate on, String marking, Instant now) {
        jdbc.sql("""
            insert into windscreen (tenant_id, id, vehicle_id, pattern_id, pattern_number, fitted_on, marking, made_at)
            values (:organisation, :id, :vehicle, :pattern, :number, :on, :marking, :now)\
            """)
                .param("organisation", Tenants.require().value())
                .param("id", id)
                .param("vehicle", vehicle)
                .param("pattern", pattern)
                .param("number", number)
                .param("on", on)
                .param("marking", marking)
                .param("now", now.atOffset(ZoneOffset.UTC))
                .update();
    }

    private static VehicleView view(ResultSet row, int number) throws SQLException {
        var worst = row.getString("worst");
        var since = row.getObject("stands_down_since", OffsetDateTime.class);
        var actBy = row.getObject("act_by", LocalDate.class);
        return new VehicleView(
                row.getObject("id", UUID.class),
                row.getObject("depot_id", UUID.class),
                row.getString("depot_name"),
                row.getString("registration"),
                row.getString("vin"),
                VehicleCategory.valueOf(row.getString("category")),
                row.getObject("max_mass_kg", Integer.class),
                SteeringSide.valueOf(row.getString("steering_side")),
                row.getString("make_model"),
                row.getString("fleet_number"),
                row.getString("notes"),
                row.getObject("first_registered", LocalDate.class),
                worst == null ? null : Outcome.valueOf(worst),
                row.getInt("open_count"),
                actBy.equals(NEVER) ? null : actBy,
                since == null ? null : since.toInstant(),
                row.getString("stands_down_because"),
                row.getBoolean("until_measured"),
                row.getObject("retired_at") != null,
                row.getInt("version"));
    }

    private static WindscreenView windscreen(ResultSet row, int number) throws SQLException {
        return new WindscreenView(
                row.getObject("id", UUID.class),
                row.getObject("vehicle_id", UUID.class),
                row.getObject("pattern_id", UUID.class),
                row.getInt("pattern_number"),
                row.getString("pattern_name"),
                row.getString("generic") != null,
                row.getObject("fitted_on", LocalDate.class),
                row.getObject("removed_on", LocalDate.class),
                row.getString("removed_because"),
                row.getString("marking"));
    }

    private static String text(@Nullable String typed) {
        return typed == null ? "" : typed.trim();
    }
}

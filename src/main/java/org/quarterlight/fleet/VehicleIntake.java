package org.quarterlight.fleet;

import java.time.Clock;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Collection;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.quarterlight.fleet.list.Field;
import org.quarterlight.fleet.list.Problem;
import org.quarterlight.fleet.list.Row;
import org.quarterlight.fleet.list.Shape;
import org.quarterlight.fleet.list.VehicleLine;
import org.quarterlight.glass.SteeringSide;
import org.quarterlight.glass.VehicleCategory;
import org.quarterlight.kernel.Ids;
import org.quarterlight.tenancy.FreshPlans;
import org.quarterlight.tenancy.Locks;
import org.quarterlight.tenancy.Tenants;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import tools.jackson.databind.json.JsonMapper;

/**
 * Takes the rows of a list into the fleet, many at once: finds out which vehicles are there, what is new or different and
 * what only the fleet can object to, and writes. A row says nothing of what it leaves blank, so that stays.
 */
@Component
class VehicleIntake {
    /** Where traffic keeps left, and vehicles are mostly steered from the right. Common practice, no source. */
    private static final Set<String> STEERED_RIGHT = Set.of(
            "AG", "AU", "BB", "BD", "BN", "BS", "BT", "BW", "CY", "DM", "FJ", "FK", "GB", "GD", "GG", "GY", "HK", "ID",
            "IE", "IM", "IN", "JE", "JM", "JP", "KE", "KI", "KN", "KY", "LC", "LK", "LS", "MO", "MT", "MU", "MV", "MW",
            "MY", "MZ", "NA", "NP", "NR", "NZ", "PG", "PK", "SB", "SC", "SG", "SR", "SZ", "TH", "TL", "TO", "TT", "TV",
            "TZ", "UG", "VC", "WS", "ZA", "ZM", "ZW");

    private static final int NAMED_AT_MOST = 12;

    private final JdbcClient jdbc;
    private final JsonMapper json;
    private final Fleet fleet;
    private final ChangedFacts facts;
    private final Depots depots;
    private final GlassPatterns patterns;
    private final ApplicationEventPublisher events;
    private final Clock clock;

    VehicleIntake(
            JdbcClient jdbc,
            JsonMapper json,
            Fleet fleet,
            ChangedFacts facts,
            Depots depots,
            GlassPatterns patterns,
            ApplicationEventPublisher events,
            Clock clock) {
        this.jdbc = jdbc;
        this.json = json;
        this.fleet = fleet;
        this.facts = facts;
        this.depots = depots;
        this.patterns = patterns;
        this.events = events;
        this.clock = clock;
    }

    /** What becomes of a row. */
    sealed interface Taken {
        Row row();

        record Added(Row.Good row) implements Taken {}

        record Changed(Row.Good row, List<Problem> changes) implements Taken {}

        record Same(Row.Good row) implements Taken {}

        record Bad(Row.Bad row) implements Taken {}
    }

    /** One list on its way in; remembers what its earlier rows said. */
    final class Run {
        private final ImportDefaults defaults;
        private final Map<Field, String> headings;
        private final Map<String, String> spelled = new HashMap<>();
        private final Map<Kind, UUID> generic = new HashMap<>();

        private Run(ImportDefaults defaults, Shape shape) {
            this.defaults = defaults;
            this.headings =
                    shape.columns().stream().collect(Collectors.toMap(Shape.Column::field, Shape.Column::heading));
        }

        private record Kind(VehicleCategory category, SteeringSide side) {}

        /**
         * Goes through some rows, in a transaction of the caller's, and writes where that is wanted. Lists of one
         * organisation write one after the other.
         */
        List<Taken> take(List<Row> rows, boolean write) {
            if (write) {
                Locks.work(jdbc, "import");
            }
            var places = new Places(depots.all());
            var known = known(rows);
            var taken = new ArrayList<Taken>(rows.size());
            var added = new ArrayList<NewVehicle>();
            var changed = new ArrayList<Present>();
            var regenerated = new ArrayList<Present>();
            for (var row : rows) {
                taken.add(
                        switch (row) {
                            case Row.Bad bad -> new Taken.Bad(bad);
                            case Row.Good good -> take(good, places, known, added, changed, regenerated);
                        });
            }
            if (write) {
                var missed = insert(added);
                update(changed);
                regenerated.forEach(each -> fleet.regeneric(each.id(), each.category(), each.steeringSide()));
                facts.of(changed.stream().map(Present::id).toList());
                if (!added.isEmpty() || !changed.isEmpty()) {
                    events.publishEvent(new VehiclesChanged(
                            Tenants.require(),
                            Stream.concat(
                                            added.stream().map(NewVehicle::id),
                                            changed.stream().map(Present::id))
                                    .toList()));
                }
                taken.replaceAll(each -> each instanceof Taken.Added(var row)
                                && missed.contains(row.line().registration().key())
                        ? new Taken.Bad(row.rejected(List.of(problem(
                                Field.REGISTRATION,
                                "was taken into the fleet by somebody else at this moment; send the row again"))))
                        : each);
            }
            return taken;
        }

        private Taken take(
                Row.Good row,
                Places places,
                Map<String, List<Present>> known,
                List<NewVehicle> added,
                List<Present> changed,
                List<Present> regenerated) {
            var line = row.line();
            var problems = new ArrayList<Problem>();
            var present = present(line, known, problems);
            var depot = depot(line, present, places, problems);
            tooLong(Field.MODEL, makeModel(line), SaveVehicle.LONGEST_MAKE_MODEL, problems);
            tooLong(Field.FLEET_NUMBER, line.fleetNumber(), SaveVehicle.LONGEST_FLEET_NUMBER, problems);
            tooLong(Field.NOTES, line.notes(), SaveVehicle.LONGEST_NOTES, problems);
            var category = or(line.category(), present == null ? defaults.category() : present.category());
            if (category == null) {
                problems.add(problem(
                        Field.CATEGORY,
                        "is missing, and the vehicle is new; name a category that holds where the list says none"));
            }
            if (!problems.isEmpty() || depot == null || category == null) {
                return new Taken.Bad(row.rejected(problems));
            }
            if (present == null) {
                var side = or(line.steeringSide(), defaults.steeringSide());
                added.add(newVehicle(line, depot, category, side == null ? places.side(depot) : side));
                return new Taken.Added(row);
            }
            var after = present.with(line, depot, category);
            var changes = present.changes(after, places, this::heading);
            if (changes.isEmpty()) {
                return new Taken.Same(row);
            }
            changed.add(after);
            if (present.category() != after.category() || present.steeringSide() != after.steeringSide()) {
                regenerated.add(after);
            }
            return new Taken.Changed(row, changes);
        }

        /** The vehicle of the fleet that a row means. Rows that spell one registration in two ways are told apart first. */
        private @Nullable Present present(VehicleLine line, Map<String, List<Present>> known, List<Problem> problems) {
            var key = line.registration().key();
            var search = Spelling.search(key);
            var earlier = spelled.putIfAbsent(search, key);
            if (earlier != null && !earlier.equals(key) && Spelling.same(earlier, key)) {
                problems.add(problem(Field.REGISTRATION, "is in the list already, as " + earlier));
            }
            var all = known.getOrDefault(search, List.of());
            for (var each : all) {
                if (each.key().equals(key)) {
                    return each;
                }
            }
            var same =
                    all.stream().filter(each -> Spelling.same(each.key(), key)).toList();
            if (same.size() > 1) {
                problems.add(problem(
                        Field.REGISTRATION,
                        "may be "
                                + same.stream().map(Present::key).sorted().collect(Collectors.joining(" or "))
                                + "; write the hyphen"));
            }
            return same.size() == 1 ? same.getFirst() : null;
        }

        private @Nullable UUID depot(
                VehicleLine line, @Nullable Present present, Places places, List<Problem> problems) {
            if (line.depot() != null) {
                var found = places.called(line.depot());
                if (found == null) {
                    problems.add(problem(Field.DEPOT, "says “" + line.depot() + "”; " + places.names()));
                }
                return found;
            }
            if (present != null) {
                return present.depot();
            }
            var standard = defaults.depot() == null ? places.only() : defaults.depot();
            if (standard == null || !places.has(standard)) {
                problems.add(problem(Field.DEPOT, "is missing; " + places.names()));
                return null;
            }
            return standard;
        }

        private void tooLong(Field field, @Nullable String text, int most, List<Problem> problems) {
            if (text != null && text.length() > most) {
                problems.add(problem(field, "has " + text.length() + " characters, at most " + most + " are kept"));
            }
        }

        private Problem problem(Field field, String reason) {
            return new Problem(heading(field), reason);
        }

        private String heading(Field field) {
            return headings.getOrDefault(field, "The " + field.words());
        }

        private NewVehicle newVehicle(VehicleLine line, UUID depot, VehicleCategory category, SteeringSide side) {
            var glass = generic.computeIfAbsent(
                    new Kind(category, side), kind -> patterns.genericFor(kind.category(), kind.side()));
            return new NewVehicle(
                    Ids.next(clock.instant()),
                    Ids.next(clock.instant()),
                    glass,
                    depot,
                    line.registration().shown().toUpperCase(Locale.ROOT),
                    line.registration().key(),
                    line.vin() == null ? null : line.vin().value(),
                    category.name(),
                    line.maximumMassKg(),
                    side.name(),
                    or(makeModel(line), ""),
                    or(line.fleetNumber(), ""),
                    or(line.notes(), ""),
                    line.firstRegistered(),
                    line.glassFitted());
        }
    }

    /** Begins with a list. */
    Run run(ImportDefaults defaults, Shape shape) {
        return new Run(defaults, shape);
    }

    /** The depots in use, by name. */
    private static final class Places {
        private final Map<String, UUID> byName = new HashMap<>();
        private final Map<UUID, DepotView> byId = new HashMap<>();
        private final List<DepotView> all;

        Places(List<DepotView> all) {
            this.all = all;
            for (var depot : all) {
                byName.put(key(depot.name()), depot.id());
                byId.put(depot.id(), depot);
            }
        }

        @Nullable
        UUID called(String name) {
            return byName.get(key(name));
        }

        @Nullable
        UUID only() {
            return all.size() == 1 ? all.getFirst().id() : null;
        }

        boolean has(UUID id) {
            return byId.containsKey(id);
        }

        String name(UUID id) {
            var depot = byId.get(id);
            return depot == null ? "a closed depot" : depot.name();
        }

        SteeringSide side(UUID id) {
            var depot = byId.get(id);
            return depot != null && STEERED_RIGHT.contains(depot.country()) ? SteeringSide.RIGHT : SteeringSide.LEFT;
        }

        String names() {
            if (all.isEmpty()) {
                return "there is no depot yet, make one first";
            }
            var names = all.stream().limit(NAMED_AT_MOST).map(DepotView::name).collect(Collectors.joining(", "));
            return "the depots are " + names + (all.size() > NAMED_AT_MOST ? " and others" : "");
        }

        private static String key(String name) {
            return name.strip().replaceAll("\\s+", " ").toLowerCase(Locale.ROOT);
        }
    }

    /** A vehicle as the database takes it, in a JSON document of many. */
    private record NewVehicle(
            UUID id,
            UUID windscreen,
            UUID pattern,
            UUID depot,
            String registration,
            String key,
            @Nullable String vin,
            String category,
            @Nullable Integer mass,
            String side,
            String makeModel,
            String fleetNumber,
            String notes,
            @Nullable LocalDate firstRegistered,
            @Nullable LocalDate glassFitted) {}

    /** A vehicle that is in the fleet. */
    private record Present(
            UUID id,
            UUID windscreen,
            String key,
            UUID depot,
            @Nullable String vin,
            VehicleCategory category,
            @Nullable Integer massKg,
            SteeringSide steeringSide,
            String makeModel,
            String fleetNumber,
            String notes,
            @Nullable LocalDate firstRegistered,
            @Nullable LocalDate glassFitted) {
        /** With what the row says. When glass was fitted is only learnt, for other glass is told by fitting it. */
        Present with(VehicleLine line, UUID newDepot, VehicleCategory newCategory) {
            return new Present(
                    id,
                    windscreen,
                    key,
                    newDepot,
                    line.vin() == null ? vin : line.vin().value(),
                    newCategory,
                    or(line.maximumMassKg(), massKg),
                    or(line.steeringSide(), steeringSide),
                    or(VehicleIntake.makeModel(line), makeModel),
                    or(line.fleetNumber(), fleetNumber),
                    or(line.notes(), notes),
                    or(line.firstRegistered(), firstRegistered),
                    or(glassFitted, line.glassFitted()));
        }

        List<Problem> changes(Present after, Places places, Function<Field, String> heading) {
            return Stream.of(
                            change(Field.DEPOT, heading, places.name(depot), places.name(after.depot)),
                            change(Field.VIN, heading, vin, after.vin),
                            change(Field.CATEGORY, heading, category, after.category),
                            change(Field.MAXIMUM_MASS, heading, massKg, after.massKg),
                            change(Field.STEERING_SIDE, heading, steeringSide, after.steeringSide),
                            change(Field.MODEL, heading, makeModel, after.makeModel),
                            change(Field.FLEET_NUMBER, heading, fleetNumber, after.fleetNumber),
                            change(Field.NOTES, heading, notes, after.notes),
                            change(Field.FIRST_REGISTERED, heading, firstRegistered, after.firstRegistered),
                            change(Field.GLASS_FITTED, heading, glassFitted, after.glassFitted))
                    .flatMap(List::stream)
                    .toList();
        }

        private static List<Problem> change(
                Field field, Function<Field, String> heading, @Nullable Object before, @Nullable Object after) {
            return Objects.equals(before, after)
                    ? List.of()
                    : List.of(new Problem(heading.apply(field), "from " + shown(before) + " to " + shown(after)));
        }

        private static String shown(@Nullable Object value) {
            var text = value == null ? "" : value.toString();
            return text.isEmpty() ? "nothing" : text.length() > 60 ? "“" + text.substring(0, 59) + "…”" : text;
        }
    }

    private Map<String, List<Present>> known(Collection<Row> rows) {
        var searched = rows.stream()
                .flatMap(row -> row instanceof Row.Good good ? Stream.of(good) : Stream.empty())
                .map(good -> Spelling.search(good.line().registration().key()))
                .distinct()
                .toArray(String[]::new);
        return FreshPlans.with(jdbc, () -> present(searched)).stream()
                .collect(Collectors.groupingBy(each -> Spelling.search(each.key())));
    }

    private List<Present> present(String[] searched) {
        return jdbc.sql("""
            select v.id, w.id as windscreen, v.registration_key, v.depot_id, v.vin, v.category, v.max_mass_kg,
                v.steering_side, v.make_model, v.fleet_number, v.notes, v.first_registered, w.fitted_on
            from vehicle v
            join windscreen w on w.tenant_id = v.tenant_id and w.vehicle_id = v.id and w.removed_on is null
            where v.tenant_id = :organisation and v.retired_at is null
                and v.registration_search = any(cast(:searched as text[]))\
            """)
                .param("organisation", Tenants.require().value())
                .param("searched", searched)
                .query((row, number) -> new Present(
                        row.getObject("id", UUID.class),
                        row.getObject("windscreen", UUID.class),
                        row.getString("registration_key"),
                        row.getObject("depot_id", UUID.class),
                        row.getString("vin"),
                        VehicleCategory.valueOf(row.getString("category")),
                        row.getObject("max_mass_kg", Integer.class),
                        SteeringSide.valueOf(row.getString("steering_side")),
                        row.getString("make_model"),
                        row.getString("fleet_number"),
                        row.getString("notes"),
                        row.getObject("first_registered", LocalDate.class),
                        row.getObject("fitted_on", LocalDate.class)))
                .list();
    }

    /** Three statements however many vehicles there are; tells the keys of those that somebody else took in meanwhile. */
    private Set<String> insert(List<NewVehicle> added) {
        if (added.isEmpty()) {
            return Set.of();
        }
        var document = json.writeValueAsString(added);
        var inserted = new HashSet<>(jdbc.sql("""
            insert into vehicle (tenant_id, id, depot_id, registration, registration_key, vin, category, max_mass_kg,
                steering_side, make_model, fleet_number, notes, first_registered, version)
            select :organisation, id, depot, registration, key, vin, category, mass, side, "makeModel",
                "fleetNumber", notes, "firstRegistered", 0
            from jsonb_to_recordset(cast(:document as jsonb)) as r (id uuid, depot uuid, registration text, key text,
                vin text, category text, mass int, side text, "makeModel" text, "fleetNumber" text, notes text,
                "firstRegistered" date)
            on conflict (tenant_id, registration_key) where retired_at is null do nothing
            returning registration_key\
            """)
                .param("organisation", Tenants.require().value())
                .param("document", document)
                .query(String.class)
                .list());
        var complete = inserted.size() == added.size()
                ? document
                : json.writeValueAsString(added.stream()
                        .filter(each -> inserted.contains(each.key()))
                        .toList());
        jdbc.sql("""
            insert into vehicle_condition (tenant_id, vehicle_id, rank, open_count, act_by, version)
            select :organisation, id, :rank, 0, :never, 0
            from jsonb_to_recordset(cast(:document as jsonb)) as r (id uuid)\
            """)
                .param("organisation", Tenants.require().value())
                .param("rank", Fleet.NOTHING_OPEN)
                .param("never", Fleet.NEVER)
                .param("document", complete)
                .update();
        jdbc.sql("""
            insert into windscreen (tenant_id, id, vehicle_id, pattern_id, pattern_number, fitted_on, marking, made_at)
            select :organisation, windscreen, id, pattern, 1, "glassFitted", '', :now
            from jsonb_to_recordset(cast(:document as jsonb)) as r (id uuid, windscreen uuid, pattern uuid,
                "glassFitted" date)\
            """)
                .param("organisation", Tenants.require().value())
                .param("now", clock.instant().atOffset(ZoneOffset.UTC))
                .param("document", complete)
                .update();
        return added.stream()
                .map(NewVehicle::key)
                .filter(key -> !inserted.contains(key))
                .collect(Collectors.toSet());
    }

    private void update(List<Present> changed) {
        if (changed.isEmpty()) {
            return;
        }
        record Document(
                UUID id,
                UUID windscreen,
                UUID depot,
                @Nullable String vin,
                String category,
                @Nullable Integer mass,
                String side,
                String makeModel,
                String fleetNumber,
                String notes,
                @Nullable LocalDate firstRegistered,
                @Nullable LocalDate glassFitted) {}
        var document = json.writeValueAsString(changed.stream()
                .map(each -> new Document(
                        each.id(),
                        each.windscreen(),
                        each.depot(),
                        each.vin(),
                        each.category().name(),
                        each.massKg(),
                        each.steeringSide().name(),
                        each.makeModel(),
                        each.fleetNumber(),
                        each.notes(),
                        each.firstRegistered(),
                        each.glassFitted()))
                .toList());
        jdbc.sql("""
            update vehicle v set depot_id = r.depot, vin = r.vin, category = r.category, max_mass_kg = r.mass,
                steering_side = r.side, make_model = r."makeModel", fleet_number = r."fleetNumber", notes = r.notes,
                first_registered = r."firstRegistered", version = v.version + 1
            from jsonb_to_recordset(cast(:document as jsonb)) as r (id uuid, depot uuid, vin text, category text,
                mass int, side text, "makeModel" text, "fleetNumber" text, notes text, "firstRegistered" date)
            where v.tenant_id = :organisation and v.id = r.id\
            """)
                .param("organisation", Tenants.require().value())
                .param("document", document)
                .update();
        jdbc.sql("""
            update windscreen w set fitted_on = r."glassFitted"
            from jsonb_to_recordset(cast(:document as jsonb)) as r (windscreen uuid, "glassFitted" date)
            where w.tenant_id = :organisation and w.id = r.windscreen and w.fitted_on is null
                and r."glassFitted" is not null\
            """)
                .param("organisation", Tenants.require().value())
                .param("document", document)
                .update();
    }

    private static @Nullable String makeModel(VehicleLine line) {
        var words =
                Stream.of(line.make(), line.model()).filter(Objects::nonNull).collect(Collectors.joining(" "));
        return words.isEmpty() ? null : words;
    }

    private static <T extends @Nullable Object> T or(@Nullable T first, T second) {
        return first == null ? second : first;
    }
}

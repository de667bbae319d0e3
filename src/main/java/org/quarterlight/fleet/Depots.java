package org.quarterlight.fleet;

import jakarta.validation.Valid;
import java.sql.Date;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Clock;
import java.time.DateTimeException;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.quarterlight.history.History;
import org.quarterlight.kernel.Ids;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.kernel.Stale;
import org.quarterlight.tenancy.Locks;
import org.quarterlight.tenancy.Tenants;
import org.quarterlight.web.HomeZone;
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
import tools.jackson.databind.json.JsonMapper;

/** The places where an organisation's vehicles stand. */
@Service
@Validated
public class Depots implements HomeZone {
    private static final String COLUMNS = """
        d.id, d.name, d.address, d.latitude, d.longitude, d.zone, d.country, d.subdivision, d.opening_hours,
        d.covered_bays, d.contact, d.closed_on, d.retired_at, d.version\
        """;
    private static final ListQuery.Order BY_NAME = ListQuery.Order.ascending(
            "name", new ListQuery.Key("d.name_key", "text"), new ListQuery.Key("d.id", "uuid"));
    private static final OpeningHours USUAL = OpeningHours.weekdays(LocalTime.of(8, 0), LocalTime.of(17, 0));

    private final JdbcClient jdbc;
    private final JsonMapper json;
    private final GlassPatterns patterns;
    private final History history;
    private final ChangedFacts facts;
    private final ApplicationEventPublisher events;
    private final Clock clock;

    Depots(
            JdbcClient jdbc,
            JsonMapper json,
            GlassPatterns patterns,
            History history,
            ChangedFacts facts,
            ApplicationEventPublisher events,
            Clock clock) {
        this.events = events;
        this.jdbc = jdbc;
        this.json = json;
        this.patterns = patterns;
        this.history = history;
        this.facts = facts;
        this.clock = clock;
    }

    @Transactional(readOnly = true)
    @PreAuthorize("hasAnyRole('MANAGER', 'DISPATCHER', 'TECHNICIAN', 'DRIVER', 'ADMINISTRATOR')")
    public Slice<DepotView> list(SliceRequest wanted) {
        return inUse().slice(jdbc, BY_NAME, wanted, this::view);
    }

    /** All depots in use, for a choice in a form. */
    @Transactional(readOnly = true)
    public List<DepotView> all() {
        return jdbc.sql("select " + COLUMNS
                        + " from depot d where d.tenant_id = :organisation and d.retired_at is null order by"
                        + " d.name_key")
                .param("organisation", Tenants.require().value())
                .query(this::view)
                .list();
    }

    /** A depot for whoever may see the fleet's vehicles. */
    @Transactional(readOnly = true)
    @PreAuthorize("hasAnyRole('MANAGER', 'DISPATCHER', 'TECHNICIAN', 'DRIVER', 'ADMINISTRATOR')")
    public DepotView read(UUID id) {
        return depot(id);
    }

    /** Also one that is retired: what happened there keeps its name. */
    @Transactional(readOnly = true)
    public DepotView depot(UUID id) {
        return find(id).orElseThrow(() -> new DepotNotFound(id));
    }

    @Transactional
    @PreAuthorize("hasRole('MANAGER')")
    public DepotView create(@Valid SaveDepot command) {
        check(command);
        var id = Ids.next(clock.instant());
        write("""
            insert into depot (tenant_id, id, name, name_key, address, latitude, longitude, zone, country, subdivision,
                opening_hours, covered_bays, contact, closed_on, version)
            values (:organisation, :id, :name, :nameKey, :address, :latitude, :longitude, :zone, :country,
                :subdivision, cast(:hours as jsonb), :bays, :contact, cast(:closedOn as date[]), 0) on conflict do nothing\
            """, id, command);
        patterns.makeGeneric();
        history.add("made", "depot", id, command.name().trim());
        return depot(id);
    }

    @Transactional
    @PreAuthorize("hasRole('MANAGER')")
    public DepotView change(UUID id, @Valid SaveDepot command, int version) {
        check(command);
        var before = locked(id);
        Stale.check("The depot", version, before.version());
        write("""
            update depot set name = :name, name_key = :nameKey, address = :address, latitude = :latitude,
                longitude = :longitude, zone = :zone, country = :country, subdivision = :subdivision,
                opening_hours = cast(:hours as jsonb), covered_bays = :bays, contact = :contact,
                closed_on = cast(:closedOn as date[]), version = version + 1
            where tenant_id = :organisation and id = :id and (retired_at is not null or not exists (
                select from depot o where o.tenant_id = :organisation and o.name_key = :nameKey
                    and o.retired_at is null and o.id <> :id))\
            """, id, command);
        history.add("changed", "depot", id, command.name().trim());
        var after = depot(id);
        if (!before.country().equals(after.country()) || !Objects.equals(before.subdivision(), after.subdivision())) {
            facts.ofDepot(id);
        }
        if (!before.closedOn().equals(after.closedOn())
                || !before.openingHours()
                        .days()
                        .keySet()
                        .equals(after.openingHours().days().keySet())) {
            events.publishEvent(new DepotCalendarChanged(Tenants.require(), id));
        }
        return after;
    }

    @Transactional
    @PreAuthorize("hasRole('MANAGER')")
    public void retire(UUID id, int version) {
        var depot = locked(id);
        Stale.check("The depot", version, depot.version());
        var vehicles = jdbc.sql("""
            select count(*) from vehicle
            where tenant_id = :organisation and depot_id = :id and retired_at is null\
            """)
                .param("organisation", Tenants.require().value())
                .param("id", id)
                .query(Long.class)
                .single();
        if (vehicles > 0) {
            throw new DepotInUse(depot.name(), vehicles);
        }
        jdbc.sql("""
            update depot set retired_at = coalesce(retired_at, :now), version = version + 1
            where tenant_id = :organisation and id = :id\
            """)
                .param("now", clock.instant().atOffset(ZoneOffset.UTC))
                .param("organisation", Tenants.require().value())
                .param("id", id)
                .update();
        history.add("retired", "depot", id, depot.name());
    }

    /** Asks in the statement itself, for one that failed would end the transaction and with it the page that says so. */
    private void write(String sql, UUID id, SaveDepot command) {
        int written;
        try {
            written = jdbc.sql(sql)
                    .param("organisation", Tenants.require().value())
                    .param("id", id)
                    .param("name", command.name().trim())
                    .param("nameKey", command.name().trim().toLowerCase(Locale.ROOT))
                    .param("address", text(command.address()))
                    .param("latitude", command.latitude())
                    .param("longitude", command.longitude())
                    .param("zone", command.zone().trim())
                    .param("country", command.country())
                    .param(
                            "subdivision",
                            command.subdivision() == null
                                            || command.subdivision().isBlank()
                                    ? null
                                    : command.subdivision().trim())
                    .param("hours", json.writeValueAsString(Objects.requireNonNullElse(command.openingHours(), USUAL)))
                    .param("bays", Objects.requireNonNullElse(command.coveredBays(), 0))
                    .param("contact", text(command.contact()))
                    .param(
                            "closedOn",
                            Objects.requireNonNullElse(command.closedOn(), Set.<LocalDate>of()).stream()
                                    .sorted()
                                    .map(LocalDate::toString)
                                    .collect(Collectors.joining(",", "{", "}")))
                    .update();
        } catch (DuplicateKeyException e) {
            written = 0; // another was a moment faster
        }
        if (written == 0) {
            throw new Invalid("name", "There is a depot with this name already");
        }
    }

    private static void check(SaveDepot command) {
        try {
            ZoneId.of(command.zone().trim());
        } catch (DateTimeException e) {
            throw new Invalid("zone", "is not a time zone such as Europe/London");
        }
        var hours = command.openingHours();
        if (hours != null && !hours.backwards().isEmpty()) {
            throw new Invalid(
                    "openingHours",
                    "On " + hours.backwards().getFirst().name().toLowerCase(Locale.ROOT)
                            + " it closes before it opens");
        }
    }

    private ListQuery inUse() {
        return new ListQuery(COLUMNS, "depot d")
                .where(
                        "d.tenant_id = :organisation",
                        "organisation",
                        Tenants.require().value())
                .where("d.retired_at is null");
    }

    @Override
    @Transactional(readOnly = true)
    public Optional<ZoneId> homeZone() {
        return jdbc.sql("""
            select zone from depot where tenant_id = :organisation and retired_at is null
            group by zone order by count(*) desc, zone limit 1\
            """)
                .param("organisation", Tenants.require().value())
                .query((row, number) -> ZoneId.of(row.getString("zone")))
                .optional();
    }

    private DepotView locked(UUID id) {
        Locks.row(jdbc, "depot", id);
        return depot(id);
    }

    private Optional<DepotView> find(UUID id) {
        return jdbc.sql("select " + COLUMNS + " from depot d where d.tenant_id = :organisation and d.id = :id")
                .param("organisation", Tenants.require().value())
                .param("id", id)
                .query(this::view)
                .optional();
    }

    private DepotView view(ResultSet row, int number) throws SQLException {
        return new DepotView(
                row.getObject("id", UUID.class),
                row.getString("name"),
                row.getString("address"),
                row.getBigDecimal("latitude"),
                row.getBigDecimal("longitude"),
                ZoneId.of(row.getString("zone")),
                row.getString("country"),
                row.getString("subdivision"),
                json.readValue(row.getString("opening_hours"), OpeningHours.class),
                row.getInt("covered_bays"),
                row.getString("contact"),
                Arrays.stream((Date[]) row.getArray("closed_on").getArray())
                        .map(Date::toLocalDate)
                        .collect(Collectors.toSet()),
                row.getObject("retired_at") != null,
                row.getInt("version"));
    }

    private static String text(@Nullable String typed) {
        return typed == null ? "" : typed.trim();
    }
}

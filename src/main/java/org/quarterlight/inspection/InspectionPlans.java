package org.quarterlight.inspection;

import jakarta.validation.Valid;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Clock;
import java.time.DayOfWeek;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Collectors;
import org.quarterlight.fleet.DepotNotFound;
import org.quarterlight.fleet.DepotView;
import org.quarterlight.fleet.Depots;
import org.quarterlight.glass.VehicleCategory;
import org.quarterlight.history.History;
import org.quarterlight.kernel.Ids;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.kernel.Stale;
import org.quarterlight.tenancy.Tenants;
import org.quarterlight.web.ListQuery;
import org.quarterlight.web.Slice;
import org.quarterlight.web.SliceRequest;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;
import org.springframework.validation.annotation.Validated;

/** How often the glass of which vehicles is looked at. A change counts at once for all of them. */
@Service
@Validated
public class InspectionPlans {
    private static final String COLUMNS = """
        p.id, p.name, p.category, p.depot_id, d.name as depot_name, p.period_days, p.period_km, p.first_due, p.weekdays,
        p.retired_at, p.version\
        """;
    private static final String TABLES =
            "inspection_plan p left join depot d on d.tenant_id = p.tenant_id and d.id = p.depot_id";
    private static final ListQuery.Order BY_NAME =
            ListQuery.Order.ascending("plan", new ListQuery.Key("p.name", "text"), new ListQuery.Key("p.id", "uuid"));

    private final JdbcClient jdbc;
    private final Depots depots;
    private final DueDates dueDates;
    private final History history;
    private final Clock clock;

    InspectionPlans(JdbcClient jdbc, Depots depots, DueDates dueDates, History history, Clock clock) {
        this.jdbc = jdbc;
        this.depots = depots;
        this.dueDates = dueDates;
        this.history = history;
        this.clock = clock;
    }

    @Transactional(readOnly = true)
    @PreAuthorize("hasAnyRole('MANAGER', 'DISPATCHER', 'TECHNICIAN')")
    public Slice<PlanView> list(SliceRequest wanted) {
        return new ListQuery(COLUMNS, TABLES)
                .where("p.tenant_id = :organisation", "organisation", organisation())
                .where("p.retired_at is null")
                .slice(jdbc, BY_NAME, wanted, InspectionPlans::plan);
    }

    @Transactional(readOnly = true)
    @PreAuthorize("hasAnyRole('MANAGER', 'DISPATCHER', 'TECHNICIAN')")
    public PlanView plan(UUID id) {
        return found(id);
    }

    @Transactional
    @PreAuthorize("hasRole('MANAGER')")
    public PlanView create(@Valid SavePlan command) {
        dueDates.holdVehicles();
        var id = Ids.next(clock.instant());
        write("""
            insert into inspection_plan (tenant_id, id, name, category, depot_id, period_days, period_km, first_due,
                weekdays, version)
            values (:organisation, :id, :name, :category, :depot, :days, :km, :firstDue, cast(:weekdays as text[]), 0)\
            """, id, command);
        return told("made", found(id));
    }

    @Transactional
    @PreAuthorize("hasRole('MANAGER')")
    public PlanView change(UUID id, @Valid SavePlan command, int version) {
        dueDates.holdVehicles();
        var before = found(id);
        Stale.check("The plan", version, before.version());
        if (before.retired()) {
            throw new PlanRetired(before.name());
        }
        write("""
            update inspection_plan set name = :name, category = :category, depot_id = :depot, period_days = :days,
                period_km = :km, first_due = :firstDue, weekdays = cast(:weekdays as text[]), version = version + 1
            where tenant_id = :organisation and id = :id\
            """, id, command);
        var after = found(id);
        if (after.asksAs(before)) {
            history.add("changed", "inspection plan", id, after.name());
            return after;
        }
        return told("changed", after);
    }

    /** It asks for nothing any more; what was done by it stays. Retired twice is retired. */
    @Transactional
    @PreAuthorize("hasRole('MANAGER')")
    public void retire(UUID id, int version) {
        dueDates.holdVehicles();
        var plan = found(id);
        Stale.check("The plan", version, plan.version());
        jdbc.sql("""
            update inspection_plan set retired_at = coalesce(retired_at, :now), version = version + 1
            where tenant_id = :organisation and id = :id\
            """)
                .param("now", clock.instant().atOffset(ZoneOffset.UTC))
                .param("organisation", organisation())
                .param("id", id)
                .update();
        told("retired", plan);
    }

    /** On which days of the week a depot can do what each plan asks for, by plan. */
    Map<UUID, Set<DayOfWeek>> daysAt(DepotView depot) {
        return jdbc
                .sql("select " + COLUMNS + " from " + TABLES + """
             where p.tenant_id = :organisation and (p.depot_id is null or p.depot_id = :depot)\
            """)
                .param("organisation", organisation())
                .param("depot", depot.id())
                .query(InspectionPlans::plan)
                .list()
                .stream()
                .collect(Collectors.toMap(PlanView::id, plan -> plan.possibleAt(depot.openingHours())));
    }

    private PlanView told(String action, PlanView plan) {
        dueDates.ofAll();
        history.add(action, "inspection plan", plan.id(), plan.name());
        return plan;
    }

    private void write(String sql, UUID id, SavePlan command) {
        if (command.periodDays() == null && command.periodKm() == null) {
            throw new Invalid("periodDays", "Give the days or the kilometres from one inspection to the next");
        }
        if (command.depot() != null) {
            try {
                if (depots.depot(command.depot()).retired()) {
                    throw new Invalid("depot", "This depot is closed for good");
                }
            } catch (DepotNotFound e) {
                throw new Invalid("depot", "There is no such depot");
            }
        }
        jdbc.sql(sql)
                .param("organisation", organisation())
                .param("id", id)
                .param("name", command.name().trim())
                .param(
                        "category",
                        command.category() == null ? null : command.category().name())
                .param("depot", command.depot())
                .param("days", command.periodDays())
                .param("km", command.periodKm())
                .param("firstDue", command.firstDue())
                .param(
                        "weekdays",
                        Objects.requireNonNullElse(command.weekdays(), Set.<DayOfWeek>of()).stream()
                                .sorted()
                                .map(Enum::name)
                                .collect(Collectors.joining(",", "{", "}")))
                .update();
    }

    private PlanView found(UUID id) {
        return jdbc.sql("select " + COLUMNS + " from " + TABLES + " where p.tenant_id = :organisation and p.id = :id")
                .param("organisation", organisation())
                .param("id", id)
                .query(InspectionPlans::plan)
                .optional()
                .orElseThrow(() -> new PlanNotFound(id));
    }

    private static UUID organisation() {
        return Tenants.require().value();
    }

    private static PlanView plan(ResultSet row, int number) throws SQLException {
        var category = row.getString("category");
        List<String> weekdays =
                Arrays.asList((String[]) row.getArray("weekdays").getArray());
        return new PlanView(
                row.getObject("id", UUID.class),
                row.getString("name"),
                category == null ? null : VehicleCategory.valueOf(category),
                row.getObject("depot_id", UUID.class),
                row.getString("depot_name"),
                row.getObject("period_days", Integer.class),
                row.getObject("period_km", Integer.class),
                row.getObject("first_due", LocalDate.class),
                weekdays.stream().map(DayOfWeek::valueOf).collect(Collectors.toSet()),
                row.getObject("retired_at") != null,
                row.getInt("version"));
    }
}

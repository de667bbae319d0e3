package org.quarterlight.inspection;

import jakarta.validation.Valid;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Clock;
import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.quarterlight.damage.GrowthWatch;
import org.quarterlight.eligibility.Grade;
import org.quarterlight.fleet.Fleet;
import org.quarterlight.fleet.Glazing;
import org.quarterlight.fleet.VehicleNotFound;
import org.quarterlight.glass.VehicleCategory;
import org.quarterlight.history.History;
import org.quarterlight.kernel.Ids;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.kernel.OccurredAt;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.tenancy.Locks;
import org.quarterlight.tenancy.Tenants;
import org.quarterlight.web.ListQuery;
import org.quarterlight.web.Slice;
import org.quarterlight.web.SliceRequest;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;
import org.springframework.validation.annotation.Validated;

/** Which glass is to be looked at when, and what was found. */
@Service
@Validated
public class Inspections {
    private static final String READERS = "hasAnyRole('MANAGER', 'DISPATCHER', 'TECHNICIAN')";
    private static final String COLUMNS = """
        i.id, i.vehicle_id, v.registration, v.make_model, v.category, v.depot_id, d.name as depot_name, d.zone,
        i.plan_id, p.name as plan_name, i.due_on, i.reading_needed and i.done_at is null as reading_needed, i.planned_on, i.done_at, i.inspector, i.grade,
        case when i.done_at is not null then 'DONE' when i.due_on < (:now at time zone d.zone)::date then 'OVERDUE'
            else 'DUE' end as state\
        """;
    private static final String TABLES = """
        inspection i
        join vehicle v on v.tenant_id = i.tenant_id and v.id = i.vehicle_id
        join depot d on d.tenant_id = v.tenant_id and d.id = v.depot_id
        left join inspection_plan p on p.tenant_id = i.tenant_id and p.id = i.plan_id\
        """;
    private static final ListQuery.Order FIRST_DUE =
            ListQuery.Order.ascending("due", new ListQuery.Key("i.due_on", "date"), new ListQuery.Key("i.id", "uuid"));
    private static final ListQuery.Order NEWEST = ListQuery.Order.descending(
            "done", new ListQuery.Key("i.done_at", "timestamptz"), new ListQuery.Key("i.id", "uuid"));

    private final JdbcClient jdbc;
    private final Fleet fleet;
    private final Examination examination;
    private final GrowthWatch watch;
    private final History history;
    private final Clock clock;

    Inspections(
            JdbcClient jdbc, Fleet fleet, Examination examination, GrowthWatch watch, History history, Clock clock) {
        this.watch = watch;
        this.jdbc = jdbc;
        this.fleet = fleet;
        this.examination = examination;
        this.history = history;
        this.clock = clock;
    }

    /** What waits in the order in which it falls due, what is done with the newest first. */
    @Transactional(readOnly = true)
    @PreAuthorize(READERS)
    public Slice<InspectionRow> list(InspectionFilter filter, SliceRequest wanted) {
        return filtered(filter)
                .slice(
                        jdbc,
                        filter.state() == InspectionState.DONE ? NEWEST : FIRST_DUE,
                        wanted,
                        Inspections::inspectionRow);
    }

    /**
     * The next few of a round through a depot: those that fall due behind one that was done or left for later, then from
     * the first again, as long as somebody waits.
     */
    @Transactional(readOnly = true)
    @PreAuthorize(READERS)
    public List<InspectionRow> round(UUID depot, LocalDate dueBy, @Nullable UUID past, int many) {
        var filter = InspectionFilter.waitingAt(depot, dueBy);
        var behind = new ArrayList<InspectionRow>();
        if (past != null) {
            jdbc.sql("select due_on from inspection where tenant_id = :organisation and id = :past")
                    .param("organisation", organisation())
                    .param("past", past)
                    .query(LocalDate.class)
                    .optional()
                    .ifPresent(due -> behind.addAll(filtered(filter)
                            .parameter("pastDue", due)
                            .where("(i.due_on, i.id) > (:pastDue, :past)", "past", past)
                            .slice(jdbc, FIRST_DUE, new SliceRequest(many, null), Inspections::inspectionRow)
                            .items()));
        }
        if (behind.size() < many) {
            var known = behind.stream().map(InspectionRow::id).collect(Collectors.toSet());
            filtered(filter)
                    .slice(jdbc, FIRST_DUE, new SliceRequest(many, null), Inspections::inspectionRow)
                    .items()
                    .stream()
                    .filter(row -> !known.contains(row.id()))
                    .limit(many - behind.size())
                    .forEach(behind::add);
        }
        return List.copyOf(behind);
    }

    /** Up to {@link ListQuery#COUNTED_AT_MOST} + 1. */
    @Transactional(readOnly = true)
    @PreAuthorize(READERS)
    public long count(InspectionFilter filter) {
        return filtered(filter).count(jdbc);
    }

    @Transactional(readOnly = true)
    @PreAuthorize(READERS)
    public InspectionView inspection(UUID id) {
        return found(id);
    }

    /** Asks for an inspection that no plan asks for. */
    @Transactional
    @PreAuthorize("hasAnyRole('MANAGER', 'TECHNICIAN')")
    public InspectionView ask(@Valid AskInspection command) {
        Glazing glazing;
        try {
            glazing = fleet.glazing(command.vehicleId());
        } catch (VehicleNotFound e) {
            throw new Invalid("vehicleId", "There is no such vehicle");
        }
        var vehicle = glazing.vehicle();
        if (vehicle.retired()) {
            throw new Invalid("vehicleId", vehicle.registration() + " has left the fleet");
        }
        var now = clock.instant();
        var id = Ids.next(now);
        var asked = jdbc.sql("""
            insert into inspection (tenant_id, id, vehicle_id, due_on, opened_by, version)
            values (:organisation, :id, :vehicle, :due, :by, 0)
            on conflict (tenant_id, vehicle_id) where done_at is null and plan_id is null do nothing\
            """)
                .param("organisation", organisation())
                .param("id", id)
                .param("vehicle", vehicle.id())
                .param(
                        "due",
                        command.dueOn() != null
                                ? command.dueOn()
                                : now.atZone(glazing.depot().zone()).toLocalDate())
                .param("by", Acting.require().name())
                .update();
        if (asked == 0) {
            throw new InspectionAsked(vehicle.registration());
        }
        watch.looksMoved(List.of(vehicle.id()));
        history.add("asked for an inspection of", "vehicle", vehicle.id(), vehicle.registration());
        return found(id);
    }

    /**
     * Writes down what an inspection found, and tells it to the damages. The same inspector saying so twice of the same
     * moment is told what stands there.
     */
    @Transactional
    @PreAuthorize("hasAnyRole('MANAGER', 'TECHNICIAN')")
    public InspectionView record(UUID id, @Valid RecordInspection command) {
        Locks.row(jdbc, "inspection", id);
        var before = found(id);
        var at = OccurredAt.of(command.occurredAt(), clock.instant());
        if (before.state() == InspectionState.DONE) {
            if (command.occurredAt() != null
                    && at.equals(before.doneAt())
                    && Acting.require().name().equals(before.inspector())) {
                return before;
            }
            throw new InspectionDone(before.registration());
        }
        examination.record(id, fleet.glazing(before.vehicle()), command, at);
        return found(id);
    }

    /** The depots at which something is to be done by this day, the overdue included; the most first. */
    @Transactional(readOnly = true)
    @PreAuthorize(READERS)
    public List<DueAtDepot> dueAtDepots(LocalDate by) {
        return jdbc.sql("""
            select d.id, d.name, count(*) as due,
                count(*) filter (where i.due_on < (:now at time zone d.zone)::date) as overdue
            from inspection i
            join vehicle v on v.tenant_id = i.tenant_id and v.id = i.vehicle_id
            join depot d on d.tenant_id = v.tenant_id and d.id = v.depot_id
            where i.tenant_id = :organisation and i.done_at is null and i.due_on <= :by and v.retired_at is null
            group by d.id, d.name order by due desc, d.name\
            """)
                .param("now", clock.instant().atOffset(ZoneOffset.UTC))
                .param("organisation", organisation())
                .param("by", by)
                .query((row, number) -> new DueAtDepot(
                        row.getObject("id", UUID.class),
                        row.getString("name"),
                        row.getLong("due"),
                        row.getLong("overdue")))
                .list();
    }

    private ListQuery filtered(InspectionFilter filter) {
        var now = clock.instant();
        var list = new ListQuery(COLUMNS, TABLES)
                .where("i.tenant_id = :organisation", "organisation", organisation())
                .parameter("now", now.atOffset(ZoneOffset.UTC))
                .whereGiven("v.depot_id = :depot", "depot", filter.depot())
                .whereGiven("i.vehicle_id = :vehicle", "vehicle", filter.vehicle())
                .whereGiven("i.due_on <= :dueBy", "dueBy", filter.dueBy());
        if (filter.state() == InspectionState.DONE) {
            return list.where("i.done_at is not null");
        }
        list.where("i.done_at is null and v.retired_at is null");
        // The day is another one in each zone. The first of the two finds the range of the index.
        return switch (filter.state()) {
            case OVERDUE ->
                list.where(
                                "i.due_on < :latest",
                                "latest",
                                now.atOffset(ZoneOffset.ofHours(14)).toLocalDate())
                        .where("i.due_on < (:now at time zone d.zone)::date");
            case DUE ->
                list.where(
                                "i.due_on >= :earliest",
                                "earliest",
                                now.atOffset(ZoneOffset.ofHours(-12)).toLocalDate())
                        .where("i.due_on >= (:now at time zone d.zone)::date");
            case DONE -> list;
            case null -> list;
        };
    }

    private InspectionView found(UUID id) {
        var findings = jdbc.sql("""
            select f.damage_id, f.number, f.answer, f.gone_as, f.reason, f.found from inspection_finding f
            where f.tenant_id = :organisation and f.inspection_id = :id order by f.number, f.damage_id\
            """)
                .param("organisation", organisation())
                .param("id", id)
                .query((row, number) -> {
                    var goneAs = row.getString("gone_as");
                    return new InspectionFinding(
                            row.getObject("damage_id", UUID.class),
                            row.getInt("number"),
                            InspectionAnswer.valueOf(row.getString("answer")),
                            goneAs == null ? null : GoneAs.valueOf(goneAs),
                            row.getString("reason"),
                            grade(row.getString("found")));
                })
                .list();
        return jdbc.sql("select " + COLUMNS + ", i.windscreen_id, i.arrived_at, i.odometer_km, i.note, i.version from "
                        + TABLES + " where i.tenant_id = :organisation and i.id = :id")
                .param("now", clock.instant().atOffset(ZoneOffset.UTC))
                .param("organisation", organisation())
                .param("id", id)
                .query((row, number) -> {
                    var arrived = row.getObject("arrived_at", OffsetDateTime.class);
                    var shown = inspectionRow(row, number);
                    return new InspectionView(
                            shown.id(),
                            shown.vehicle(),
                            shown.registration(),
                            shown.category(),
                            shown.depot(),
                            shown.depotName(),
                            shown.zone(),
                            shown.plan(),
                            shown.planName(),
                            shown.state(),
                            shown.dueOn(),
                            shown.readingNeeded(),
                            shown.plannedOn(),
                            shown.doneAt(),
                            arrived == null ? null : arrived.toInstant(),
                            shown.inspector(),
                            row.getObject("windscreen_id", UUID.class),
                            shown.grade(),
                            row.getObject("odometer_km", Integer.class),
                            row.getString("note"),
                            findings,
                            row.getInt("version"));
                })
                .optional()
                .orElseThrow(() -> new InspectionNotFound(id));
    }

    private static UUID organisation() {
        return Tenants.require().value();
    }

    static InspectionRow inspectionRow(ResultSet row, int number) throws SQLException {
        var done = row.getObject("done_at", OffsetDateTime.class);
        return new InspectionRow(
                row.getObject("id", UUID.class),
                row.getObject("vehicle_id", UUID.class),
                row.getString("registration"),
                row.getString("make_model"),
                VehicleCategory.valueOf(row.getString("category")),
                row.getObject("depot_id", UUID.class),
                row.getString("depot_name"),
                ZoneId.of(row.getString("zone")),
                row.getObject("plan_id", UUID.class),
                row.getString("plan_name"),
                InspectionState.valueOf(row.getString("state")),
                row.getObject("due_on", LocalDate.class),
                row.getBoolean("reading_needed"),
                row.getObject("planned_on", LocalDate.class),
                done == null ? null : done.toInstant(),
                row.getString("inspector"),
                grade(row.getString("grade")));
    }

    private static @Nullable Grade grade(@Nullable String name) {
        return name == null ? null : Grade.valueOf(name);
    }
}

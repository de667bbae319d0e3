package org.quarterlight.inspection;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Clock;
import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.List;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.eligibility.Grade;
import org.quarterlight.glass.VehicleCategory;
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
        i.plan_id, p.name as plan_name, i.due_on, i.planned_on, i.done_at, i.inspector, i.grade,
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
    private final Clock clock;

    Inspections(JdbcClient jdbc, Clock clock) {
        this.jdbc = jdbc;
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

    /** Up to {@link ListQuery#COUNTED_AT_MOST} + 1. */
    @Transactional(readOnly = true)
    @PreAuthorize(READERS)
    public long count(InspectionFilter filter) {
        return filtered(filter).count(jdbc);
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
                row.getObject("planned_on", LocalDate.class),
                done == null ? null : done.toInstant(),
                row.getString("inspector"),
                grade(row.getString("grade")));
    }

    private static @Nullable Grade grade(@Nullable String name) {
        return name == null ? null : Grade.valueOf(name);
    }
}

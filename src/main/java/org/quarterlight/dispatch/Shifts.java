package org.quarterlight.dispatch;

import jakarta.validation.Valid;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Clock;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneOffset;
import java.util.Map;
import java.util.Objects;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.quarterlight.account.Member;
import org.quarterlight.account.People;
import org.quarterlight.history.History;
import org.quarterlight.kernel.Ids;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.kernel.Stale;
import org.quarterlight.repair.JobState;
import org.quarterlight.repair.RepairJobs;
import org.quarterlight.tenancy.Tenants;
import org.quarterlight.web.ListQuery;
import org.quarterlight.web.Slice;
import org.quarterlight.web.SliceRequest;
import org.springframework.dao.DuplicateKeyException;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;
import org.springframework.validation.annotation.Validated;

/** Days on which a van goes out at other hours, or with somebody else, than usual. */
@Service
@Validated
public class Shifts {
    private static final ListQuery.Order BY_DAY =
            ListQuery.Order.ascending("day", new ListQuery.Key("s.day", "date"), new ListQuery.Key("s.id", "uuid"));
    private static final String COLUMNS = """
        s.id, s.van_id, v.name as van_name, s.day, s.technician_id, s.technician_name, s.starts_at, s.ends_at,
        s.version\
        """;
    private static final String TABLES = "shift s join van v on v.tenant_id = s.tenant_id and v.id = s.van_id";

    private final JdbcClient jdbc;
    private final RepairJobs jobs;
    private final People people;
    private final History history;
    private final Clock clock;

    Shifts(JdbcClient jdbc, RepairJobs jobs, People people, History history, Clock clock) {
        this.jdbc = jdbc;
        this.jobs = jobs;
        this.people = people;
        this.history = history;
        this.clock = clock;
    }

    /** In the order of their days; what is null does not narrow the list, from and to are the first day and the last. */
    @Transactional(readOnly = true)
    @PreAuthorize("hasAnyRole('DISPATCHER', 'TECHNICIAN')")
    public Slice<ShiftView> list(
            @Nullable LocalDate from, @Nullable LocalDate to, @Nullable UUID van, SliceRequest wanted) {
        return new ListQuery(COLUMNS, TABLES)
                .where("s.tenant_id = :organisation", "organisation", organisation())
                .where("s.retired_at is null and v.retired_at is null")
                .whereGiven("s.day >= :from", "from", from)
                .whereGiven("s.day <= :to", "to", to)
                .whereGiven("s.van_id = :van", "van", van)
                .slice(jdbc, BY_DAY, wanted, Shifts::shift);
    }

    @Transactional(readOnly = true)
    @PreAuthorize("hasAnyRole('DISPATCHER', 'TECHNICIAN')")
    public ShiftView shift(UUID id) {
        return found(id);
    }

    @Transactional
    @PreAuthorize("hasRole('DISPATCHER')")
    public ShiftView create(@Valid SaveShift command) {
        var id = Ids.next(clock.instant());
        write("""
            insert into shift (tenant_id, id, van_id, day, technician_id, technician_name, starts_at, ends_at, version)
            values (:organisation, :id, :van, :day, :technician, :technicianName, :starts, :ends, 0)\
            """, id, command);
        return told("made", found(id));
    }

    @Transactional
    @PreAuthorize("hasRole('DISPATCHER')")
    public ShiftView change(UUID id, @Valid SaveShift command, int version) {
        Stale.check("The shift", version, found(id).version());
        write("""
            update shift set van_id = :van, day = :day, technician_id = :technician, technician_name = :technicianName,
                starts_at = :starts, ends_at = :ends, version = version + 1
            where tenant_id = :organisation and id = :id\
            """, id, command);
        return told("changed", found(id));
    }

    /** The van is out as usual on that day again. Retired twice is retired. */
    @Transactional
    @PreAuthorize("hasRole('DISPATCHER')")
    public void retire(UUID id, int version) {
        var shift = found(id);
        Stale.check("The shift", version, shift.version());
        jdbc.sql("""
            update shift set retired_at = coalesce(retired_at, :now), version = version + 1
            where tenant_id = :organisation and id = :id\
            """)
                .param("now", clock.instant().atOffset(ZoneOffset.UTC))
                .param("organisation", organisation())
                .param("id", id)
                .update();
        told("retired", shift);
    }

    /** The shifts of one day, by van. */
    Map<UUID, ShiftView> on(LocalDate day) {
        return jdbc
                .sql("select " + COLUMNS + " from " + TABLES
                        + " where s.tenant_id = :organisation and s.day = :day and s.retired_at is null")
                .param("organisation", organisation())
                .param("day", day)
                .query(Shifts::shift)
                .list()
                .stream()
                .collect(Collectors.toMap(ShiftView::van, Function.identity()));
    }

    private ShiftView found(UUID id) {
        return jdbc.sql("select " + COLUMNS + " from " + TABLES + " where s.tenant_id = :organisation and s.id = :id")
                .param("organisation", organisation())
                .param("id", id)
                .query(Shifts::shift)
                .optional()
                .orElseThrow(() -> new ShiftNotFound(id));
    }

    private ShiftView told(String action, ShiftView shift) {
        handOver(shift);
        history.add(action, "shift", shift.id(), shift.vanName() + ", " + shift.day());
        return shift;
    }

    /** Who is out that day has the jobs that have not begun. */
    private void handOver(ShiftView shift) {
        var technician = jdbc.sql("""
            select coalesce(s.technician_id, case when s.id is null then v.technician_id end) from van v
            left join shift s on s.tenant_id = v.tenant_id and s.van_id = v.id and s.day = :day and s.retired_at is null
            where v.tenant_id = :organisation and v.id = :van\
            """)
                .param("day", shift.day())
                .param("organisation", organisation())
                .param("van", shift.van())
                .query((row, number) -> row.getObject(1, UUID.class))
                .optional()
                .orElse(null);
        if (technician == null) {
            return;
        }
        var stops = jdbc.sql("select job_id from stop where tenant_id = :organisation and van_id = :van and day = :day")
                .param("organisation", organisation())
                .param("van", shift.van())
                .param("day", shift.day())
                .query((row, number) -> row.getObject("job_id", UUID.class))
                .list();
        jobs.performed(stops).stream()
                .filter(job -> job.state() == JobState.PLANNED && !technician.equals(job.technician()))
                .forEach(job -> jobs.plan(job.id(), shift.day(), technician));
    }

    private void write(String sql, UUID id, SaveShift command) {
        if (!command.endsAt().isAfter(command.startsAt())) {
            throw new Invalid("endsAt", "The shift ends after it starts");
        }
        var van = jdbc.sql("select true from van where tenant_id = :organisation and id = :van and retired_at is null")
                .param("organisation", organisation())
                .param("van", command.van())
                .query(Boolean.class)
                .optional();
        if (van.isEmpty()) {
            throw new Invalid("van", "This is none of your vans");
        }
        try {
            jdbc.sql(sql)
                    .param("organisation", organisation())
                    .param("id", id)
                    .param("van", command.van())
                    .param("day", command.day())
                    .param("technician", command.technician())
                    .param("technicianName", command.technician() == null ? null : name(command.technician()))
                    .param("starts", command.startsAt())
                    .param("ends", command.endsAt())
                    .update();
        } catch (DuplicateKeyException e) {
            throw String.valueOf(e.getMessage()).contains("shift_technician")
                    ? new Invalid("technician", "This technician is out with another van on that day")
                    : new Invalid("day", "The van has a shift on that day already");
        }
    }

    private String name(UUID technician) {
        return people.technician(technician)
                .map(Member::name)
                .orElseThrow(() -> new Invalid("technician", "This is none of your technicians"));
    }

    private static UUID organisation() {
        return Tenants.require().value();
    }

    private static ShiftView shift(ResultSet row, int number) throws SQLException {
        return new ShiftView(
                row.getObject("id", UUID.class),
                row.getObject("van_id", UUID.class),
                Objects.requireNonNull(row.getString("van_name")),
                row.getObject("day", LocalDate.class),
                row.getObject("technician_id", UUID.class),
                row.getString("technician_name"),
                row.getObject("starts_at", LocalTime.class),
                row.getObject("ends_at", LocalTime.class),
                row.getInt("version"));
    }
}

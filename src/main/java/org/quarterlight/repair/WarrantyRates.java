package org.quarterlight.repair;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.Objects;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.tenancy.Tenants;
import org.quarterlight.web.ListQuery;
import org.quarterlight.web.Slice;
import org.quarterlight.web.SliceRequest;
import org.quarterlight.web.Today;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Which repairs come back: by who did them, with what, and how. Of what the present organisation performed itself. */
@Service
public class WarrantyRates {
    /** What repairs are told apart by. */
    public enum By {
        TECHNICIAN,
        LOT,
        METHOD
    }

    private static final String REPAIRED = """
         where j.performer_id = :organisation and j.work = 'REPAIR' and j.state = 'CLOSED'
            and j.ended_at >= :from and j.ended_at < :until\
        """;
    private static final String COUNTS =
            "count(*) as repairs, count(j.came_back_at) as came_back," + " count(j.contested_at) as contested";
    private static final ListQuery.Order MOST_FIRST = ListQuery.Order.descending(
            "most",
            new ListQuery.Key("g.came_back", "bigint"),
            new ListQuery.Key("g.repairs", "bigint"),
            new ListQuery.Key("g.id", "uuid"));

    private final JdbcClient jdbc;
    private final Today today;

    WarrantyRates(JdbcClient jdbc, Today today) {
        this.jdbc = jdbc;
        this.today = today;
    }

    /** Of the repairs closed from one day to another, both in it; of the last year where none is named. */
    @Transactional(readOnly = true)
    @PreAuthorize("hasAnyRole('DISPATCHER', 'MANAGER')")
    public Slice<WarrantyRateView> rates(By by, @Nullable LocalDate from, @Nullable LocalDate to, SliceRequest wanted) {
        var last = Objects.requireNonNullElseGet(to, today::here);
        var first = Objects.requireNonNullElseGet(from, () -> last.minusYears(1));
        if (last.isBefore(first)) {
            throw new Invalid("to", "This is before the first day");
        }
        var grouped = switch (by) {
            case TECHNICIAN ->
                "select j.technician_id as id, max(j.technician_name) as name, " + COUNTS + " from job j" + REPAIRED
                        + " and j.technician_id is not null group by j.technician_id";
            case LOT ->
                "select l.id, l.number as name, " + COUNTS + " from job j"
                        + " join lot_use u on u.tenant_id = j.performer_id and u.job_id = j.id"
                        + " join resin_lot l on l.tenant_id = u.tenant_id and l.id = u.lot_id" + REPAIRED
                        + " group by l.id, l.number";
            case METHOD ->
                "select coalesce(cast(j.method ->> 'id' as uuid), :generic) as id,"
                        + " max(coalesce(j.method #>> '{method,name}', :genericName)) as name, " + COUNTS
                        + " from job j" + REPAIRED + " group by 1";
        };
        var list = new ListQuery("g.*", "(" + grouped + ") g")
                .parameter("organisation", Tenants.require().value())
                .parameter("from", begins(first))
                .parameter("until", begins(last.plusDays(1)));
        if (by == By.METHOD) {
            list.parameter("generic", Methods.GENERIC)
                    .parameter("genericName", org.quarterlight.bench.Method.GENERIC.name());
        }
        return list.slice(jdbc, MOST_FIRST, wanted, WarrantyRates::view);
    }

    private Object begins(LocalDate day) {
        return Objects.requireNonNull(today.begins(day)).atOffset(ZoneOffset.UTC);
    }

    private static WarrantyRateView view(ResultSet row, int number) throws SQLException {
        var repairs = row.getLong("repairs");
        var cameBack = row.getLong("came_back");
        var interval = WilsonInterval.of(cameBack, repairs);
        return new WarrantyRateView(
                row.getObject("id", UUID.class),
                Objects.requireNonNullElse(row.getString("name"), ""),
                repairs,
                cameBack,
                row.getLong("contested"),
                (double) cameBack / repairs,
                interval.low(),
                interval.high());
    }
}

package org.quarterlight.repair;

import jakarta.validation.Valid;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Clock;
import java.time.Instant;
import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Objects;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.history.History;
import org.quarterlight.kernel.Ids;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.kernel.Reason;
import org.quarterlight.kernel.Stale;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.tenancy.Locks;
import org.quarterlight.tenancy.Tenants;
import org.quarterlight.web.ListQuery;
import org.quarterlight.web.Slice;
import org.quarterlight.web.SliceRequest;
import org.quarterlight.web.Today;
import org.quarterlight.web.Words;
import org.springframework.dao.DuplicateKeyException;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;
import org.springframework.validation.annotation.Validated;

/** What an organisation repairs with, by lot, and where it went. */
@Service
@Validated
public class Materials {
    private static final ListQuery.Order FIRST_TO_EXPIRE = ListQuery.Order.ascending(
            "expiry",
            new ListQuery.Key("coalesce(l.expires_on, 'infinity'::date)", "date"),
            new ListQuery.Key("l.id", "uuid"));

    private static final ListQuery.Order NEWEST_USE = ListQuery.Order.descending(
            "newest", new ListQuery.Key("u.used_at", "timestamptz"), new ListQuery.Key("u.id", "uuid"));
    private static final String COLUMNS = "l.id, l.number, l.resin, l.kind, l.expires_on, l.opened_on, l.recalled_at,"
            + " l.recall_reason, l.retired_at, l.version, l.usable_days, l.taken_in_at";
    private static final String USE = """
        u.id, u.lot_id, l.number as lot_number, l.kind, u.job_id, j.number as job_number, j.state, j.registration,
        j.depot_name, j.zone, u.amount, u.used_at, u.used_by, u.recorded_at,
        u.device_offset_seconds, coalesce(u.queued, u.device_offset_seconds is not null) as queued\
        """;

    /** The job by its performer: the side that the lot belongs to. */
    private static final String USES = """
        lot_use u join resin_lot l on l.tenant_id = u.tenant_id and l.id = u.lot_id
        join job j on j.performer_id = u.tenant_id and j.id = u.job_id\
        """;

    private final JdbcClient jdbc;
    private final History history;
    private final Today today;
    private final Clock clock;

    Materials(JdbcClient jdbc, History history, Today today, Clock clock) {
        this.today = today;
        this.jdbc = jdbc;
        this.history = history;
        this.clock = clock;
    }

    @Transactional(readOnly = true)
    @PreAuthorize("hasAnyRole('DISPATCHER', 'TECHNICIAN', 'MANAGER')")
    public Slice<LotView> lots(SliceRequest wanted) {
        return new ListQuery(COLUMNS, "resin_lot l")
                .where(
                        "l.tenant_id = :organisation",
                        "organisation",
                        Tenants.require().value())
                .where("l.retired_at is null")
                .slice(jdbc, FIRST_TO_EXPIRE, wanted, Materials::view);
    }

    @Transactional(readOnly = true)
    @PreAuthorize("hasAnyRole('DISPATCHER', 'TECHNICIAN', 'MANAGER')")
    public LotView lot(UUID id) {
        return jdbc.sql("select " + COLUMNS + " from resin_lot l where l.tenant_id = :organisation and l.id = :id")
                .param("organisation", Tenants.require().value())
                .param("id", id)
                .query(Materials::view)
                .optional()
                .orElseThrow(() -> new LotNotFound(id));
    }

    @Transactional
    @PreAuthorize("hasAnyRole('DISPATCHER', 'TECHNICIAN')")
    public LotView create(@Valid SaveLot command) {
        var id = Ids.next(clock.instant());
        write("""
            insert into resin_lot (tenant_id, id, number, resin, kind, expires_on, opened_on, version,
                usable_days, taken_in_at)
            values (:organisation, :id, :number, :resin, :kind, :expires, :opened, 0, :usableDays, :now) on conflict do nothing\
            """, id, command);
        history.add("took in", "resin lot", id, command.number().trim());
        return lot(id);
    }

    @Transactional
    @PreAuthorize("hasRole('DISPATCHER')")
    public LotView change(UUID id, @Valid SaveLot command, int version) {
        var before = locked(id);
        Stale.check("The lot", version, before.version());
        if (before.retired()) {
            throw new Invalid("number", "This lot is out of use");
        }
        var kind = Objects.requireNonNullElse(command.kind(), LotKind.RESIN);
        if (kind.unit() != before.kind().unit() && isCounted(id)) {
            throw new Invalid(
                    "kind",
                    "Some of it stands in stock in "
                            + Words.spoken(before.kind().unit()));
        }
        write("""
            update resin_lot set number = :number, resin = :resin, kind = :kind, expires_on = :expires, opened_on = :opened,
                usable_days = :usableDays, version = version + 1
            where tenant_id = :organisation and id = :id and not exists (
                select from resin_lot o where o.tenant_id = :organisation and o.number = :number and o.id <> :id
                    and o.retired_at is null)\
            """, id, command);
        history.add("changed", "resin lot", id, command.number().trim());
        return lot(id);
    }

    @Transactional
    @PreAuthorize("hasRole('DISPATCHER')")
    public void retire(UUID id, int version) {
        var lot = locked(id);
        Stale.check("The lot", version, lot.version());
        jdbc.sql("""
            update resin_lot set retired_at = coalesce(retired_at, :now), version = version + 1
            where tenant_id = :organisation and id = :id\
            """)
                .param("now", clock.instant().atOffset(ZoneOffset.UTC))
                .param("organisation", Tenants.require().value())
                .param("id", id)
                .update();
        history.add("retired", "resin lot", id, lot.number());
    }

    /**
     * The maker calls it back: it is blocked, and every job it went into is named by {@link #uses}. It is recalled once; the
     * same reason again changes nothing, and another one is refused, for the first is in the history.
     */
    @Transactional
    @PreAuthorize("hasRole('DISPATCHER')")
    public LotView recall(UUID id, String reason) {
        var why = Reason.given(reason);
        var lot = locked(id);
        if (lot.recalledAt() == null) {
            jdbc.sql("""
                update resin_lot set recalled_at = :now, recall_reason = :reason, version = version + 1
                where tenant_id = :organisation and id = :id\
                """)
                    .param("now", clock.instant().atOffset(ZoneOffset.UTC))
                    .param("reason", why)
                    .param("organisation", Tenants.require().value())
                    .param("id", id)
                    .update();
            history.add("recalled", "resin lot", id, lot.number() + ": " + why);
        } else if (!why.equals(lot.recallReason())) {
            throw new JobRefused("lot-recalled", "Lot " + lot.number() + " is recalled already: " + lot.recallReason());
        }
        return lot(id);
    }

    /** Every job and vehicle that this lot went into, newest first. */
    @Transactional(readOnly = true)
    @PreAuthorize("hasAnyRole('DISPATCHER', 'TECHNICIAN', 'MANAGER')")
    public Slice<LotUse> uses(UUID lot, SliceRequest wanted) {
        lot(lot);
        return new ListQuery(USE, USES)
                .where(
                        "u.tenant_id = :organisation",
                        "organisation",
                        Tenants.require().value())
                .whereGiven("u.lot_id = :lot", "lot", lot)
                .slice(jdbc, NEWEST_USE, wanted, Materials::use);
    }

    /** What went into a job; to its performer only, for others have no lots there. */
    @Transactional(readOnly = true)
    @PreAuthorize("hasAnyRole('DISPATCHER', 'TECHNICIAN', 'MANAGER')")
    public List<LotUse> usedIn(UUID job) {
        return jdbc.sql("select " + USE + " from " + USES
                        + " where u.tenant_id = :organisation and u.job_id = :job order by u.used_at, u.id")
                .param("organisation", Tenants.require().value())
                .param("job", job)
                .query(Materials::use)
                .list();
    }

    /** A lot goes into a job of the present organisation; saying so twice changes nothing. */
    void use(UUID lot, UUID job, String amount, Told told) {
        jdbc.sql("""
            insert into lot_use (tenant_id, id, lot_id, job_id, amount, used_at, used_by, recorded_at,
                device_offset_seconds, person_id, queued)
            values (:organisation, :id, :lot, :job, :amount, :at, :by, :arrived, :offset, :person, :queued)
            on conflict (tenant_id, lot_id, job_id) do update
                set amount = case when excluded.amount = '' then lot_use.amount else excluded.amount end\
            """)
                .param("organisation", Tenants.require().value())
                .param("id", Ids.next(clock.instant()))
                .param("lot", lot)
                .param("job", job)
                .param("amount", amount)
                .param("at", told.at().atOffset(ZoneOffset.UTC))
                .param("arrived", told.arrivedAt().atOffset(ZoneOffset.UTC))
                .param("offset", told.offsetSeconds())
                .param("queued", told.queued())
                .param("person", Acting.require().person())
                .param("by", Acting.require().name())
                .update();
    }

    /** Somebody opens it, today where no day is named: from then on its days count. */
    @Transactional
    @PreAuthorize("hasAnyRole('DISPATCHER', 'TECHNICIAN')")
    public LotView open(UUID id, @Nullable LocalDate openedOn) {
        var lot = locked(id);
        var day = Objects.requireNonNullElseGet(openedOn, today::here);
        if (day.equals(lot.openedOn())) {
            return lot; // saying so twice changes nothing
        }
        if (lot.openedOn() != null) {
            throw new JobRefused(
                    "lot-opened", "Lot " + lot.number() + " was opened on " + lot.openedOn() + " already.");
        }
        if (lot.retired()) {
            throw new Invalid("openedOn", "This lot is out of use");
        }
        checkOpened(day, lot.expiresOn());
        jdbc.sql("""
            update resin_lot set opened_on = :opened, version = version + 1
            where tenant_id = :organisation and id = :id\
            """)
                .param("opened", day)
                .param("organisation", Tenants.require().value())
                .param("id", id)
                .update();
        history.add("opened", "resin lot", id, lot.number());
        return lot(id);
    }

    private void checkOpened(LocalDate opened, @Nullable LocalDate expires) {
        if (expires != null && opened.isAfter(expires)) {
            throw new Invalid("openedOn", "This is after the day on which it expires");
        }
        if (opened.isAfter(today.here())) {
            throw new Invalid("openedOn", "This day has not come yet");
        }
    }

    /** For a command that names it. */
    LotView named(String field, UUID id) {
        try {
            return lot(id);
        } catch (LotNotFound e) {
            throw new Invalid(field, "There is no such lot in your stock");
        }
    }

    private static LotUse use(ResultSet row, int number) throws SQLException {
        return new LotUse(
                row.getObject("id", UUID.class),
                row.getObject("lot_id", UUID.class),
                row.getString("lot_number"),
                LotKind.valueOf(row.getString("kind")),
                row.getObject("job_id", UUID.class),
                row.getInt("job_number"),
                JobState.valueOf(row.getString("state")),
                row.getString("registration"),
                row.getString("depot_name"),
                ZoneId.of(row.getString("zone")),
                row.getString("amount"),
                row.getObject("used_at", OffsetDateTime.class).toInstant(),
                row.getString("used_by"),
                instant(row, "recorded_at"),
                row.getObject("device_offset_seconds", Integer.class),
                row.getBoolean("queued"));
    }

    /** Some of it lies or lay somewhere: what was counted in one unit means nothing in another. */
    private boolean isCounted(UUID lot) {
        return jdbc.sql("select exists (select from stock_balance where tenant_id = :organisation and lot_id = :lot)")
                .param("organisation", Tenants.require().value())
                .param("lot", lot)
                .query(Boolean.class)
                .single();
    }

    private LotView locked(UUID id) {
        Locks.row(jdbc, "resin_lot", id);
        return lot(id);
    }

    /** Asks in the statement itself, for one that failed would end the transaction and with it the page that says so. */
    private void write(String sql, UUID id, SaveLot command) {
        var kind = Objects.requireNonNullElse(command.kind(), LotKind.RESIN);
        if (command.expiresOn() == null && kind.expires()) {
            throw new Invalid("expiresOn", "Give the date on the bottle");
        }
        if (command.openedOn() != null) {
            checkOpened(command.openedOn(), command.expiresOn());
        }
        int written;
        try {
            written = jdbc.sql(sql)
                    .param("organisation", Tenants.require().value())
                    .param("id", id)
                    .param("number", command.number().trim())
                    .param("resin", command.resin().trim())
                    .param("kind", kind.name())
                    .param("expires", command.expiresOn())
                    .param("opened", command.openedOn())
                    .param("usableDays", command.usableDays())
                    .param("now", clock.instant().atOffset(ZoneOffset.UTC))
                    .update();
        } catch (DuplicateKeyException e) {
            written = 0; // another was a moment faster
        }
        if (written == 0) {
            throw new Invalid("number", "This lot is in stock already");
        }
    }

    private static LotView view(ResultSet row, int number) throws SQLException {
        return new LotView(
                row.getObject("id", UUID.class),
                row.getString("number"),
                row.getString("resin"),
                LotKind.valueOf(row.getString("kind")),
                row.getObject("expires_on", LocalDate.class),
                row.getObject("opened_on", LocalDate.class),
                instant(row, "recalled_at"),
                row.getString("recall_reason"),
                row.getObject("retired_at") != null,
                row.getInt("version"),
                row.getObject("usable_days", Integer.class),
                instant(row, "taken_in_at"));
    }

    private static @Nullable Instant instant(ResultSet row, String column) throws SQLException {
        var time = row.getObject(column, OffsetDateTime.class);
        return time == null ? null : time.toInstant();
    }
}

package org.quarterlight.repair;

import jakarta.validation.Valid;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Clock;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.UUID;
import org.quarterlight.history.History;
import org.quarterlight.kernel.Ids;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.kernel.Stale;
import org.quarterlight.tenancy.Locks;
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

/** The resin that an organisation repairs with, by lot. */
@Service
@Validated
public class Materials {
    private static final ListQuery.Order FIRST_TO_EXPIRE = ListQuery.Order.ascending(
            "expiry", new ListQuery.Key("l.expires_on", "date"), new ListQuery.Key("l.id", "uuid"));

    private final JdbcClient jdbc;
    private final History history;
    private final Clock clock;

    Materials(JdbcClient jdbc, History history, Clock clock) {
        this.jdbc = jdbc;
        this.history = history;
        this.clock = clock;
    }

    @Transactional(readOnly = true)
    @PreAuthorize("hasAnyRole('DISPATCHER', 'TECHNICIAN', 'MANAGER')")
    public Slice<LotView> lots(SliceRequest wanted) {
        return new ListQuery(
                        "l.id, l.number, l.resin, l.expires_on, l.opened_on, l.retired_at, l.version", "resin_lot l")
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
        return jdbc.sql("""
            select l.id, l.number, l.resin, l.expires_on, l.opened_on, l.retired_at, l.version from resin_lot l
            where l.tenant_id = :organisation and l.id = :id\
            """)
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
            insert into resin_lot (tenant_id, id, number, resin, expires_on, opened_on, version)
            values (:organisation, :id, :number, :resin, :expires, :opened, 0) on conflict do nothing\
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
        write("""
            update resin_lot set number = :number, resin = :resin, expires_on = :expires, opened_on = :opened,
                version = version + 1
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

    private LotView locked(UUID id) {
        Locks.row(jdbc, "resin_lot", id);
        return lot(id);
    }

    /** Asks in the statement itself, for one that failed would end the transaction and with it the page that says so. */
    private void write(String sql, UUID id, SaveLot command) {
        int written;
        try {
            written = jdbc.sql(sql)
                    .param("organisation", Tenants.require().value())
                    .param("id", id)
                    .param("number", command.number().trim())
                    .param("resin", command.resin().trim())
                    .param("expires", command.expiresOn())
                    .param("opened", command.openedOn())
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
                row.getObject("expires_on", LocalDate.class),
                row.getObject("opened_on", LocalDate.class),
                row.getObject("retired_at") != null,
                row.getInt("version"));
    }
}

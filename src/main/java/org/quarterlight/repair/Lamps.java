package org.quarterlight.repair;

import jakarta.validation.Valid;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Clock;
import java.time.Duration;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Objects;
import java.util.UUID;
import org.quarterlight.history.History;
import org.quarterlight.kernel.Ids;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.kernel.Stale;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.tenancy.Locks;
import org.quarterlight.tenancy.Tenants;
import org.quarterlight.web.ListQuery;
import org.quarterlight.web.Slice;
import org.quarterlight.web.SliceRequest;
import org.quarterlight.web.Today;
import org.springframework.dao.DuplicateKeyException;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;
import org.springframework.validation.annotation.Validated;

/** The lamps that an organisation cures with, and what meters said of them. */
@Service
@Validated
public class Lamps {
    /** Common practice, no source: a reading holds for half a year. */
    private static final int READ_EVERY_DAYS = 182;

    /** Ours: lamps age. */
    private static final int OLDEST_READING_YEARS = 2;

    private static final ListQuery.Order BY_NAME =
            ListQuery.Order.ascending("name", new ListQuery.Key("l.name", "text"), new ListQuery.Key("l.id", "uuid"));
    private static final BigDecimal SECONDS_PER_HOUR = BigDecimal.valueOf(3600);
    private static final String COLUMNS =
            "l.id, l.name, l.wavelength_nm, l.hours, l.read_every_days, l.retired_at, l.version";

    private final JdbcClient jdbc;
    private final History history;
    private final Today today;
    private final Clock clock;

    Lamps(JdbcClient jdbc, History history, Today today, Clock clock) {
        this.jdbc = jdbc;
        this.history = history;
        this.today = today;
        this.clock = clock;
    }

    @Transactional(readOnly = true)
    @PreAuthorize("hasAnyRole('DISPATCHER', 'TECHNICIAN', 'MANAGER')")
    public Slice<LampView> list(SliceRequest wanted) {
        return new ListQuery(COLUMNS, "lamp l")
                .where(
                        "l.tenant_id = :organisation",
                        "organisation",
                        Tenants.require().value())
                .where("l.retired_at is null")
                .slice(jdbc, BY_NAME, wanted, this::view);
    }

    @Transactional(readOnly = true)
    @PreAuthorize("hasAnyRole('DISPATCHER', 'TECHNICIAN', 'MANAGER')")
    public LampView lamp(UUID id) {
        return found(id);
    }

    @Transactional
    @PreAuthorize("hasRole('DISPATCHER')")
    public LampView create(@Valid SaveLamp command) {
        var id = Ids.next(clock.instant());
        write("""
            insert into lamp (tenant_id, id, name, wavelength_nm, hours, read_every_days, version)
            values (:organisation, :id, :name, :wavelength, :hours, :days, 0) on conflict do nothing\
            """, id, command);
        history.add("took in", "lamp", id, command.name().trim());
        return found(id);
    }

    @Transactional
    @PreAuthorize("hasRole('DISPATCHER')")
    public LampView change(UUID id, @Valid SaveLamp command, int version) {
        var before = locked(id);
        Stale.check("The lamp", version, before.version());
        if (before.retired()) {
            throw new Invalid("name", "This lamp is out of use");
        }
        write("""
            update lamp set name = :name, wavelength_nm = :wavelength, read_every_days = :days,
                hours = case when :hours between hours - burnt_unseen and hours then hours else :hours end,
                burnt_unseen = 0, version = version + 1
            where tenant_id = :organisation and id = :id and not exists (
                select from lamp o where o.tenant_id = :organisation and o.name = :name and o.id <> :id
                    and o.retired_at is null)\
            """, id, command);
        history.add("changed", "lamp", id, command.name().trim());
        return found(id);
    }

    @Transactional
    @PreAuthorize("hasRole('DISPATCHER')")
    public void retire(UUID id, int version) {
        var lamp = locked(id);
        Stale.check("The lamp", version, lamp.version());
        jdbc.sql("""
            update lamp set retired_at = coalesce(retired_at, :now), version = version + 1
            where tenant_id = :organisation and id = :id\
            """)
                .param("now", clock.instant().atOffset(ZoneOffset.UTC))
                .param("organisation", Tenants.require().value())
                .param("id", id)
                .update();
        history.add("retired", "lamp", id, lamp.name());
    }

    /** Somebody held a meter under it. */
    @Transactional
    @PreAuthorize("hasAnyRole('DISPATCHER', 'TECHNICIAN')")
    public LampView read(UUID id, @Valid ReadLamp command) {
        var lamp = locked(id);
        if (lamp.retired()) {
            throw new Invalid("irradianceMwPerCm2", "This lamp is out of use");
        }
        var on = Objects.requireNonNullElse(command.readOn(), today.here());
        if (on.isAfter(today.here())) {
            throw new Invalid("readOn", "This day has not come yet");
        }
        if (on.isBefore(today.here().minusYears(OLDEST_READING_YEARS))) {
            throw new Invalid("readOn", "A reading so old says nothing of the lamp");
        }
        var hours = Objects.requireNonNullElse(command.hours(), lamp.hours());
        jdbc.sql("""
            insert into lamp_reading (tenant_id, id, lamp_id, read_on, irradiance_mw_per_cm2, distance_mm, hours, read_by)
            values (:organisation, :id, :lamp, :on, :irradiance, :distance, :hours, :by)\
            """)
                .param("organisation", Tenants.require().value())
                .param("id", Ids.next(clock.instant()))
                .param("lamp", id)
                .param("on", on)
                .param("irradiance", command.irradianceMwPerCm2())
                .param("distance", command.distanceMm())
                .param("hours", hours)
                .param("by", Acting.require().name())
                .update();
        jdbc.sql("""
            update lamp set hours = greatest(hours, :hours), burnt_unseen = 0, version = version + 1
            where tenant_id = :organisation and id = :id\
            """)
                .param("hours", hours)
                .param("organisation", Tenants.require().value())
                .param("id", id)
                .update();
        history.add("read", "lamp", id, lamp.name() + ": " + command.irradianceMwPerCm2() + " mW/cm²");
        return found(id);
    }

    /**
     * It burnt in a job. The version stays, or a form that somebody has open would be refused after each cure. What has burnt
     * since is kept beside the hours: a form that gives the hours it showed does not take it away.
     */
    void burnt(UUID id, Duration length) {
        jdbc.sql("""
            update lamp set hours = hours + :hours, burnt_unseen = burnt_unseen + :hours
            where tenant_id = :organisation and id = :id\
            """)
                .param(
                        "hours",
                        BigDecimal.valueOf(length.toSeconds()).divide(SECONDS_PER_HOUR, 3, RoundingMode.HALF_UP))
                .param("organisation", Tenants.require().value())
                .param("id", id)
                .update();
    }

    /** For a job whose phase names it. */
    LampView named(UUID id) {
        try {
            return found(id);
        } catch (LampNotFound e) {
            throw new Invalid("lamp", "There is no such lamp in your register");
        }
    }

    private LampView locked(UUID id) {
        Locks.row(jdbc, "lamp", id);
        return found(id);
    }

    private LampView found(UUID id) {
        return jdbc.sql("select " + COLUMNS + " from lamp l where l.tenant_id = :organisation and l.id = :id")
                .param("organisation", Tenants.require().value())
                .param("id", id)
                .query(this::view)
                .optional()
                .orElseThrow(() -> new LampNotFound(id));
    }

    private List<LampView.Read> readings(UUID lamp) {
        return jdbc.sql("""
            select r.read_on, r.irradiance_mw_per_cm2, r.distance_mm, r.hours, r.read_by from lamp_reading r
            where r.tenant_id = :organisation and r.lamp_id = :lamp order by r.read_on desc, r.id desc\
            """)
                .param("organisation", Tenants.require().value())
                .param("lamp", lamp)
                .query((row, number) -> new LampView.Read(
                        row.getObject("read_on", LocalDate.class),
                        row.getBigDecimal("irradiance_mw_per_cm2"),
                        row.getBigDecimal("distance_mm"),
                        row.getBigDecimal("hours"),
                        row.getString("read_by")))
                .list();
    }

    private void write(String sql, UUID id, SaveLamp command) {
        int written;
        try {
            written = jdbc.sql(sql)
                    .param("organisation", Tenants.require().value())
                    .param("id", id)
                    .param("name", command.name().trim())
                    .param("wavelength", command.wavelengthNm())
                    .param("hours", Objects.requireNonNullElse(command.hours(), BigDecimal.ZERO))
                    .param("days", Objects.requireNonNullElse(command.readEveryDays(), READ_EVERY_DAYS))
                    .update();
        } catch (DuplicateKeyException e) {
            written = 0; // another was a moment faster
        }
        if (written == 0) {
            throw new Invalid("name", "There is a lamp of this name already");
        }
    }

    private LampView view(ResultSet row, int number) throws SQLException {
        var id = row.getObject("id", UUID.class);
        return LampView.of(
                id,
                row.getString("name"),
                row.getBigDecimal("wavelength_nm"),
                row.getBigDecimal("hours"),
                row.getInt("read_every_days"),
                readings(id),
                row.getObject("retired_at") != null,
                row.getInt("version"),
                today.here());
    }
}

package org.quarterlight.inspection;

import jakarta.validation.Valid;
import java.time.Clock;
import java.time.LocalDate;
import java.util.List;
import java.util.Objects;
import java.util.UUID;
import org.quarterlight.fleet.Fleet;
import org.quarterlight.history.History;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.tenancy.Locks;
import org.quarterlight.tenancy.Tenants;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;
import org.springframework.validation.annotation.Validated;

/** How far vehicles have run, as somebody read it on a day. */
@Service
@Validated
public class Odometers {
    private static final int SHOWN_AT_MOST = 200;

    private final JdbcClient jdbc;
    private final Fleet fleet;
    private final DueDates dueDates;
    private final History history;
    private final Clock clock;

    Odometers(JdbcClient jdbc, Fleet fleet, DueDates dueDates, History history, Clock clock) {
        this.jdbc = jdbc;
        this.fleet = fleet;
        this.dueDates = dueDates;
        this.history = history;
        this.clock = clock;
    }

    /** The newest 200, newest first. */
    @Transactional(readOnly = true)
    @PreAuthorize("hasAnyRole('MANAGER', 'DISPATCHER', 'TECHNICIAN')")
    public List<OdometerReading> readings(UUID vehicle) {
        fleet.vehicle(vehicle);
        return jdbc.sql("""
            select read_on, km, read_by from odometer_reading where tenant_id = :organisation and vehicle_id = :vehicle
            order by read_on desc limit :most\
            """)
                .param("most", SHOWN_AT_MOST)
                .param("organisation", Tenants.require().value())
                .param("vehicle", vehicle)
                .query((row, number) -> new OdometerReading(
                        row.getObject("read_on", LocalDate.class), row.getInt("km"), row.getString("read_by")))
                .list();
    }

    /** Another reading of the same day takes the place of the first. */
    @Transactional
    @PreAuthorize("hasAnyRole('MANAGER', 'TECHNICIAN')")
    public OdometerReading read(UUID vehicle, @Valid ReadOdometer command) {
        var today = LocalDate.now(clock.withZone(fleet.glazing(vehicle).depot().zone()));
        var on = Objects.requireNonNullElse(command.readOn(), today);
        if (on.isAfter(today)) {
            throw new Invalid("readOn", "This day has not come yet");
        }
        keep(vehicle, on, command.km());
        dueDates.of(vehicle);
        history.add("read the odometer of", "vehicle", vehicle, command.km() + " km on " + on);
        return new OdometerReading(on, command.km(), Acting.require().name());
    }

    /** Keeps a reading; due dates are the caller's. */
    void keep(UUID vehicle, LocalDate on, int km) {
        Locks.row(jdbc, "vehicle", vehicle);
        jdbc.sql("""
            select read_on, km from odometer_reading
            where tenant_id = :organisation and vehicle_id = :vehicle
                and (read_on < :on and km > :km or read_on > :on and km < :km)
            order by abs(read_on - :on) limit 1\
            """)
                .param("organisation", Tenants.require().value())
                .param("vehicle", vehicle)
                .param("on", on)
                .param("km", km)
                .query((row, number) -> row.getInt("km") + " km were read on " + row.getString("read_on"))
                .optional()
                .ifPresent(other -> {
                    throw new Invalid("km", "This does not fit: " + other);
                });
        jdbc.sql("""
            insert into odometer_reading (tenant_id, vehicle_id, read_on, km, read_by)
            values (:organisation, :vehicle, :on, :km, :by)
            on conflict (tenant_id, vehicle_id, read_on) do update set km = excluded.km, read_by = excluded.read_by\
            """)
                .param("organisation", Tenants.require().value())
                .param("vehicle", vehicle)
                .param("on", on)
                .param("km", km)
                .param("by", Acting.require().name())
                .update();
    }
}

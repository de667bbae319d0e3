package org.quarterlight.inspection;

import java.util.Collection;
import java.util.List;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.damage.GrowthWatch;
import org.quarterlight.fleet.DepotCalendarChanged;
import org.quarterlight.fleet.VehiclesChanged;
import org.quarterlight.kernel.Ids;
import org.quarterlight.tenancy.Tenants;
import org.springframework.context.event.EventListener;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Propagation;
import org.springframework.transaction.annotation.Transactional;

/**
 * Keeps the one inspection that waits for each vehicle in step with its plans, in the transaction of whatever changes
 * one of them: a vehicle, a plan, an inspection done, an odometer read. So a list of what is due is a range of an index,
 * and no job at night has to be right.
 */
@Component
class DueDates {
    /**
     * What falls due first of the plans that hold for a vehicle. One that was never looked at is due on the day it came,
     * for nothing is known of its glass. With kilometres: what is left of the period since the last inspection, at the
     * rate of the last year's readings. Where kilometres alone count and no rate is known yet, a year (ours) stands in, and
     * the row says that a reading is needed. On a day on which the depot is closed, by its calendar or each week, it is
     * due on the open day before; of a vehicle that came on such a day, on that day.
     */
    private static final String WANTED = """
        select distinct on (v.id) v.id as vehicle_id, p.id as plan_id, open.due_on, due.reading_needed
        from %s v
        join (select each.tenant_id, each.id, each.zone, each.closed_on,
                array(select day::date - date '2001-01-01'
                    from generate_series(date '2001-01-01', date '2001-01-07', interval '1 day') day
                    where exists (select from jsonb_object_keys(each.opening_hours -> 'days') name
                        where upper(name) = upper(to_char(day, 'FMDay')))) as weekdays
            from depot each where each.tenant_id = :organisation offset 0) d
            on d.tenant_id = v.tenant_id and d.id = v.depot_id
        join inspection_plan p on p.tenant_id = v.tenant_id and p.retired_at is null
            and (p.category is null or p.category = v.category) and (p.depot_id is null or p.depot_id = v.depot_id)
        left join lateral (
            select i.done_on from inspection i
            where i.tenant_id = :organisation and i.vehicle_id = v.id and i.done_at is not null
            order by i.done_on desc limit 1) last on true
        left join lateral (
            select case when newest.km > oldest.km then newest.read_on + least(36500,
                ceil((base.km + p.period_km - newest.km)
                    * (newest.read_on - oldest.read_on)::numeric / (newest.km - oldest.km)))::int end as due_on
            from (select r.km from odometer_reading r
                  where r.tenant_id = :organisation and r.vehicle_id = v.id and r.read_on <= last.done_on
                  order by r.read_on desc limit 1) base,
                 (select r.km, r.read_on from odometer_reading r
                  where r.tenant_id = :organisation and r.vehicle_id = v.id
                  order by r.read_on desc limit 1) newest
                 cross join lateral (select r.km, r.read_on from odometer_reading r
                  where r.tenant_id = :organisation and r.vehicle_id = v.id and r.read_on >= newest.read_on - 365
                  order by r.read_on limit 1) oldest
            where p.period_km is not null) run on true
        cross join lateral (select (uuid_extract_timestamp(v.id) at time zone d.zone)::date as on_day) came
        cross join lateral (select greatest(p.first_due, case
            when last.done_on is null then came.on_day
            else coalesce(least(last.done_on + p.period_days, run.due_on), last.done_on + 365) end) as due_on,
            last.done_on is not null and p.period_days is null and run.due_on is null as reading_needed) due
        cross join lateral (select case
            when mod(due.due_on - date '2001-01-01', 7) = any(d.weekdays) and not due.due_on = any(d.closed_on) then due.due_on
            else coalesce((select due.due_on - back from generate_series(1, 60) back
                where mod(due.due_on - back - date '2001-01-01', 7) = any(d.weekdays)
                    and not (due.due_on - back) = any(d.closed_on) and due.due_on - back >= came.on_day
                order by back limit 1), due.due_on) end as due_on) open
        where v.tenant_id = :organisation and p.tenant_id = :organisation and v.retired_at is null
        order by v.id, open.due_on, p.id\
        """;

    /**
     * Each looked up by its key, whatever the table's statistics say: in the middle of an import they know nothing of the
     * new vehicles. An array compared in a filter would be read from its text again for each row.
     */
    private static final String GIVEN = """
        unnest(cast(:vehicles as uuid[])) as given (id)
        cross join lateral (
            select * from vehicle x where x.tenant_id = :organisation and x.id = given.id offset 0)\
        """;

    /** Of some vehicles, beside whom others may do the same. */
    private static final String TOGETHER = """
        insert into inspection (tenant_id, id, vehicle_id, plan_id, due_on, reading_needed, version)
        select :organisation, uuidv7(), vehicle_id, plan_id, due_on, reading_needed, 0 from wanted
        on conflict (tenant_id, vehicle_id) where done_at is null and plan_id is not null
        do update set plan_id = excluded.plan_id, due_on = excluded.due_on,
            reading_needed = excluded.reading_needed, version = inspection.version + 1
        where (inspection.plan_id, inspection.due_on, inspection.reading_needed)
            is distinct from (excluded.plan_id, excluded.due_on, excluded.reading_needed)\
        """;

    /** Of all vehicles at once while nobody else does it: looking for a conflict row by row would take longer than writing. */
    private static final String APART = """
        , moved as (
            update inspection i set plan_id = w.plan_id, due_on = w.due_on, reading_needed = w.reading_needed,
                version = i.version + 1
            from wanted w
            where i.tenant_id = :organisation and i.vehicle_id = w.vehicle_id and i.done_at is null
                and i.plan_id is not null
                and (i.plan_id, i.due_on, i.reading_needed) is distinct from (w.plan_id, w.due_on, w.reading_needed))
        insert into inspection (tenant_id, id, vehicle_id, plan_id, due_on, reading_needed, version)
        select :organisation, uuidv7(), w.vehicle_id, w.plan_id, w.due_on, w.reading_needed, 0 from wanted w
        where not exists (select from inspection i
            where i.tenant_id = :organisation and i.vehicle_id = w.vehicle_id and i.done_at is null
                and i.plan_id is not null)\
        """;

    private final JdbcClient jdbc;
    private final GrowthWatch watch;

    DueDates(JdbcClient jdbc, GrowthWatch watch) {
        this.jdbc = jdbc;
        this.watch = watch;
    }

    @EventListener
    @Transactional(propagation = Propagation.MANDATORY)
    public void on(VehiclesChanged event) {
        of(event.vehicles());
    }

    @EventListener
    @Transactional(propagation = Propagation.MANDATORY)
    public void on(DepotCalendarChanged event) {
        of(jdbc.sql(
                        "select id from vehicle where tenant_id = :organisation and depot_id = :depot and retired_at is null")
                .param("organisation", event.tenant().value())
                .param("depot", event.depot())
                .query((row, number) -> row.getObject("id", UUID.class))
                .list());
    }

    /** After something about these vehicles has changed. */
    @Transactional(propagation = Propagation.MANDATORY)
    void of(Collection<UUID> vehicles) {
        lock("pg_advisory_xact_lock_shared");
        renew(vehicles);
    }

    /** Before a plan changes: vehicles that come meanwhile wait, for neither side would see the other. */
    @Transactional(propagation = Propagation.MANDATORY)
    void holdVehicles() {
        lock("pg_advisory_xact_lock");
    }

    /** After a plan has changed. */
    @Transactional(propagation = Propagation.MANDATORY)
    void ofAll() {
        renew(null);
    }

    private void renew(@Nullable Collection<UUID> vehicles) {
        var ids = vehicles == null ? null : Ids.array(vehicles);
        run("""
            delete from inspection i
            where i.tenant_id = :organisation and i.done_at is null and i.plan_id is not null%s
                and not exists (select from vehicle v join inspection_plan p on p.tenant_id = v.tenant_id
                    where v.tenant_id = :organisation and v.id = i.vehicle_id and v.retired_at is null
                        and p.retired_at is null and (p.category is null or p.category = v.category)
                        and (p.depot_id is null or p.depot_id = v.depot_id))\
            """.formatted(ids == null ? "" : " and i.vehicle_id in (select unnest(cast(:vehicles as uuid[])))"), ids);
        run(
                "with wanted as materialized (" + WANTED.formatted(ids == null ? "vehicle" : GIVEN) + ") "
                        + (ids == null ? APART : TOGETHER),
                ids);
        watch.looksMoved(vehicles);
    }

    private void run(String sql, @Nullable String vehicles) {
        var statement = jdbc.sql(sql).param("organisation", Tenants.require().value());
        (vehicles == null ? statement : statement.param("vehicles", vehicles)).update();
    }

    private void lock(String how) {
        jdbc.sql("select " + how + "(hashtextextended(:key, 4))")
                .param("key", "inspection-plans|" + Tenants.require())
                .query((row, number) -> true)
                .single();
    }

    /** For one vehicle. */
    void of(UUID vehicle) {
        of(List.of(vehicle));
    }
}

package org.quarterlight.damage;

import java.time.Clock;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.Collection;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.quarterlight.eligibility.DamageFacts;
import org.quarterlight.eligibility.GlassJudge;
import org.quarterlight.kernel.Ids;
import org.quarterlight.tenancy.Tenants;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Propagation;
import org.springframework.transaction.annotation.Transactional;

/**
 * Notes of each open damage on which day it is expected to be judged worse, and the earliest day on which somebody sees
 * to it: so a list finds those that pass a limit first. Noted where readings, rules, jobs or inspections change.
 */
@Service
public class GrowthWatch {
    private final ObservationRepository observations;
    private final PlannedDays jobs;
    private final NextLooks inspections;
    private final JdbcClient jdbc;
    private final Clock clock;

    GrowthWatch(
            ObservationRepository observations, PlannedDays jobs, NextLooks inspections, JdbcClient jdbc, Clock clock) {
        this.observations = observations;
        this.jobs = jobs;
        this.inspections = inspections;
        this.jdbc = jdbc;
        this.clock = clock;
    }

    /** A day on which somebody sees to a damage, and why. */
    record Planned(LocalDate on, PlannedBy by) {}

    /** A damage that grows, as it stands in the table. */
    private record Row(UUID damage, UUID vehicle, @Nullable UUID job, LocalDate actBy, ZoneId zone) {}

    /** The vehicles' next inspections are on other days than before; null means any vehicle of the organisation. */
    @Transactional(propagation = Propagation.MANDATORY)
    public void looksMoved(@Nullable Collection<UUID> vehicles) {
        if (vehicles == null) {
            note("", List.of());
        } else if (!vehicles.isEmpty()) {
            note(" and g.vehicle_id in (select unnest(cast(:some as uuid[])))", vehicles);
        }
    }

    /** A job stands on another day than before, or on none. */
    @Transactional(propagation = Propagation.MANDATORY)
    void jobMoved(UUID job) {
        note(" and g.job_id in (select unnest(cast(:some as uuid[])))", List.of(job));
    }

    /** Follows the open damages of one glass, in the transaction that has judged them. */
    void follow(List<Damage> open, List<DamageFacts> onGlass, GlassJudge judge, ZoneId zone) {
        var followed = open.stream().map(Damage::id).toList();
        var seen = observations.findByTenantIdAndDamageIdInOrderBySeenAtAscIdAsc(organisation(), followed).stream()
                .collect(Collectors.groupingBy(Observation::damage));
        for (var damage : open) {
            var passes = Trend.of(seen.getOrDefault(damage.id(), List.of()))
                    .filter(trend -> trend.growth().mmPerDay() > 0)
                    .flatMap(trend ->
                            Optional.ofNullable(new GrowthAhead(judge, damage.id(), onGlass, zone, clock.instant())
                                    .turn(trend::expectedMm)));
            var planned = passes.flatMap(passing -> planned(
                    damage.vehicle(), damage.job(), damage.actBy(), LocalDate.ofInstant(clock.instant(), zone)));
            damage.grows(passes.map(GrowthAhead.Passing::on).orElse(null), planned.orElse(null));
        }
    }

    /** The earliest day from today on, of the job's, of the next inspection's, and of the one that the verdict gives. */
    Optional<Planned> planned(UUID vehicle, @Nullable UUID job, LocalDate actBy, LocalDate today) {
        return earliest(
                job == null ? null : jobs.of(List.of(job)).get(job),
                inspections.of(List.of(vehicle)).get(vehicle),
                actBy,
                today);
    }

    private static Optional<Planned> earliest(
            @Nullable LocalDate job, @Nullable LocalDate inspection, LocalDate actBy, LocalDate today) {
        return Stream.of(
                        job == null ? null : new Planned(job, PlannedBy.JOB),
                        inspection == null ? null : new Planned(inspection, PlannedBy.INSPECTION),
                        new Planned(actBy, PlannedBy.VERDICT))
                .filter(Objects::nonNull)
                // A day that was missed keeps nobody from driving on.
                .filter(each -> !each.on().isBefore(today))
                .min(Comparator.comparing(Planned::on));
    }

    private void note(String which, Collection<UUID> some) {
        var query = jdbc.sql("""
                select g.id, g.vehicle_id, g.job_id, g.act_by, d.zone from damage g
                join vehicle v on v.tenant_id = g.tenant_id and v.id = g.vehicle_id
                join depot d on d.tenant_id = v.tenant_id and d.id = v.depot_id
                where g.tenant_id = :organisation and g.passes_on is not null and g.state <> 'CLOSED'\
                """ + which + " order by g.windscreen_id, g.number for update of g")
                .param("organisation", organisation());
        var growing = (some.isEmpty() ? query : query.param("some", Ids.array(some)))
                .query((row, number) -> new Row(
                        row.getObject("id", UUID.class),
                        row.getObject("vehicle_id", UUID.class),
                        row.getObject("job_id", UUID.class),
                        row.getObject("act_by", LocalDate.class),
                        ZoneId.of(row.getString("zone"))))
                .list();
        if (growing.isEmpty()) {
            return;
        }
        var byJob = jobs.of(growing.stream()
                .map(Row::job)
                .filter(Objects::nonNull)
                .distinct()
                .toList());
        var byVehicle =
                inspections.of(growing.stream().map(Row::vehicle).distinct().toList());
        var days = new HashMap<Optional<Planned>, List<UUID>>(growing.stream()
                .collect(Collectors.groupingBy(
                        row -> earliest(
                                row.job() == null ? null : byJob.get(row.job()),
                                byVehicle.get(row.vehicle()),
                                row.actBy(),
                                LocalDate.ofInstant(clock.instant(), row.zone())),
                        Collectors.mapping(Row::damage, Collectors.toList()))));
        days.forEach((planned, damages) -> jdbc.sql("""
                update damage set planned_on = :on, planned_by = :by
                where tenant_id = :organisation and id in (select unnest(cast(:damages as uuid[])))
                    and (planned_on, planned_by) is distinct from (:on, :by)\
                """)
                .param("on", planned.map(Planned::on).orElse(null), java.sql.Types.DATE)
                .param("by", planned.map(each -> each.by().name()).orElse(null), java.sql.Types.VARCHAR)
                .param("organisation", organisation())
                .param("damages", Ids.array(damages))
                .update());
    }

    /** Of these vehicles, the first day on which one of its damages passes a limit before anybody sees to it. */
    Map<UUID, LocalDate> firstOf(Collection<UUID> vehicles) {
        var days = new HashMap<UUID, LocalDate>();
        if (!vehicles.isEmpty()) {
            jdbc.sql("""
                select g.vehicle_id, min(g.passes_on) as passes_on from damage g
                where g.tenant_id = :organisation and g.vehicle_id in (
                    select unnest(cast(:vehicles as uuid[]))) and\
                """ + GROWING + " group by g.vehicle_id")
                    .param("organisation", organisation())
                    .param("vehicles", Ids.array(vehicles))
                    .query(row -> {
                        days.put(row.getObject("vehicle_id", UUID.class), row.getObject("passes_on", LocalDate.class));
                    });
        }
        return days;
    }

    /** Of a damage {@code g}: by its rate it is judged worse before somebody sees to it. A day that was missed is none. */
    static final String GROWING = " g.passes_on is not null and g.state <> 'CLOSED'"
            + " and (g.planned_on is null or g.planned_on < current_date or g.passes_on <= g.planned_on)";

    private static UUID organisation() {
        return Tenants.require().value();
    }
}

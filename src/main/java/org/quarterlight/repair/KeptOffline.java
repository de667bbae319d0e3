package org.quarterlight.repair;

import java.time.Duration;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.Collection;
import java.util.Comparator;
import java.util.List;
import java.util.UUID;
import java.util.stream.Stream;
import org.quarterlight.kernel.Ids;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.tenancy.Tenants;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/**
 * Whether what a device tells late was kept for want of a network. A clock proves nothing, so it is asked what the service saw
 * itself: whoever tells it had taken the job with them before, and since then nothing was heard but what came just now.
 */
@Component
class KeptOffline {
    /** What is sent together comes without a longer pause. Ours. */
    static final Duration PAUSE = Duration.ofMinutes(10);

    /** What was on its way when the network went was heard a little later. A device gives up after it. */
    static final Duration ON_ITS_WAY = Duration.ofMinutes(1);

    /** A day's kit is of that day. Ours. */
    static final Duration KIT_HOLDS = Duration.ofHours(24);

    private final JdbcClient jdbc;

    KeptOffline(JdbcClient jdbc) {
        this.jdbc = jdbc;
    }

    /** Kits from before yesterday bear out nothing any more. */
    void taken(UUID person, Collection<UUID> jobs, Instant now) {
        var organisation = Tenants.require().value();
        jdbc.sql(
                        "delete from day_kit_taken where tenant_id = :organisation and person_id = :person and taken_at < :old")
                .param("organisation", organisation)
                .param("person", person)
                .param("old", now.minus(KIT_HOLDS.multipliedBy(2)).atOffset(ZoneOffset.UTC))
                .update();
        jdbc.sql("""
            insert into day_kit_taken (tenant_id, id, person_id, jobs, taken_at)
            values (:organisation, :id, :person, :jobs, :now)\
            """)
                .param("organisation", organisation)
                .param("id", Ids.next(now))
                .param("person", person)
                .param("jobs", jobs.toArray(UUID[]::new))
                .param("now", now.atOffset(ZoneOffset.UTC))
                .update();
    }

    /** Of what is told now of a time. */
    boolean bearsOut(Job job, Instant at, Instant now) {
        var person = Acting.current().map(Acting::person).orElse(null);
        return person != null && bearsOut(at, now, kits(job, person, at.minus(KIT_HOLDS)), heard(job, person, at));
    }

    /**
     * @param kits when the job was taken along
     * @param heard when something of the job reached the service
     */
    static boolean bearsOut(Instant at, Instant now, List<Instant> kits, List<Instant> heard) {
        // Clocks are compared in whole seconds.
        if (kits.stream().noneMatch(kit -> !kit.isAfter(at.plusSeconds(1)) && !kit.isBefore(at.minus(KIT_HOLDS)))) {
            return false;
        }
        var later = Stream.concat(kits.stream(), heard.stream())
                .filter(each -> each.isAfter(at.plus(ON_ITS_WAY)) && !each.isAfter(now))
                .sorted(Comparator.reverseOrder())
                .toList();
        var next = now;
        for (var each : later) {
            if (Duration.between(each, next).compareTo(PAUSE) > 0) {
                return false; // there was a network, and this was not sent
            }
            next = each;
        }
        return true;
    }

    private List<Instant> kits(Job job, UUID person, Instant from) {
        return jdbc.sql("""
            select taken_at from day_kit_taken
            where tenant_id = :organisation and person_id = :person and :job = any(jobs) and taken_at >= :from\
            """)
                .param("organisation", Tenants.require().value())
                .param("person", person)
                .param("job", job.id())
                .param("from", from.atOffset(ZoneOffset.UTC))
                .query((row, number) ->
                        row.getObject("taken_at", OffsetDateTime.class).toInstant())
                .list();
    }

    /** Of this job and of those that were taken along with it: whoever could send word of one had a network for all. */
    private List<Instant> heard(Job job, UUID person, Instant since) {
        return jdbc.sql("""
            with j as (
                select tenant_id, id, start_recorded_at, inspection_recorded_at from job
                where tenant_id = :fleet and id = :job
                union
                select tenant_id, id, start_recorded_at, inspection_recorded_at from job
                where performer_id = :performer and id in (
                    select unnest(k.jobs) from day_kit_taken k
                    where k.tenant_id = :performer and k.person_id = :person and k.taken_at >= :kitsSince))
            select h.at from j cross join lateral (
                select recorded_at as at from phase where tenant_id = j.tenant_id and job_id = j.id
                union all select end_recorded_at from phase where tenant_id = j.tenant_id and job_id = j.id
                union all select recorded_at from job_reading where tenant_id = j.tenant_id and job_id = j.id
                union all select recorded_at from job_photo where tenant_id = j.tenant_id and job_id = j.id
                union all select recorded_at from job_note where tenant_id = j.tenant_id and job_id = j.id
                union all select recorded_at from job_calibration where tenant_id = j.tenant_id and job_id = j.id
                union all select recorded_at from lot_use where tenant_id = :performer and job_id = j.id
                union all select j.start_recorded_at
                union all select j.inspection_recorded_at) h
            where h.at > :since\
            """)
                .param("person", person)
                .param("kitsSince", since.minus(KIT_HOLDS).atOffset(ZoneOffset.UTC))
                .param("fleet", job.fleet())
                .param("performer", job.performer())
                .param("job", job.id())
                .param("since", since.atOffset(ZoneOffset.UTC))
                .query((row, number) ->
                        row.getObject("at", OffsetDateTime.class).toInstant())
                .list();
    }
}

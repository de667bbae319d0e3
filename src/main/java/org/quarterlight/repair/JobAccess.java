package org.quarterlight.repair;

import jakarta.persistence.EntityManager;
import java.time.Clock;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.Objects;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.bench.Method;
import org.quarterlight.history.History;
import org.quarterlight.kernel.Ids;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.tenancy.OrganisationKind;
import org.quarterlight.tenancy.Tenants;
import org.quarterlight.web.DoneAt;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.access.AccessDeniedException;
import org.springframework.stereotype.Component;
import tools.jackson.databind.json.JsonMapper;

/** Finds jobs by the side that looks, and keeps their version and their history in step with what is added to them. */
@Component
class JobAccess {
    private static final String NOT_BEGUN = "The work had not begun then";

    private final JobRepository jobs;
    private final History history;
    private final JdbcClient jdbc;
    private final JsonMapper json;
    private final EntityManager entityManager;
    private final KeptOffline offline;
    private final Clock clock;

    JobAccess(
            JobRepository jobs,
            History history,
            JdbcClient jdbc,
            JsonMapper json,
            EntityManager entityManager,
            KeptOffline offline,
            Clock clock) {
        this.jobs = jobs;
        this.history = history;
        this.jdbc = jdbc;
        this.json = json;
        this.entityManager = entityManager;
        this.offline = offline;
        this.clock = clock;
    }

    /** By the side that looks: each finds it by its own key. */
    Job find(UUID id) {
        var organisation = Tenants.require().value();
        var found = asRepairer()
                ? jobs.findByPerformerIdAndId(organisation, id)
                : jobs.findByTenantIdAndId(organisation, id);
        return found.orElseThrow(() -> new JobNotFound(id));
    }

    /** One that the present organisation performs. */
    Job performed(UUID id) {
        var job = find(id);
        if (!job.performer().equals(Tenants.require().value())) {
            throw new AccessDeniedException("Another organisation performs this job");
        }
        DoneAt.current().ifPresent(done -> tellDevice(job, done));
        return job;
    }

    /** The same, for a change that builds on what is recorded already: one comes after the other. */
    Job alone(UUID id) {
        jdbc.sql("select from job where performer_id = :organisation and id = :id for update")
                .param("organisation", Tenants.require().value())
                .param("id", id)
                .query((row, number) -> true)
                .optional();
        return performed(id);
    }

    static boolean asRepairer() {
        return Acting.current()
                .filter(acting -> acting.kind() == OrganisationKind.REPAIRER)
                .isPresent();
    }

    /** What belongs to the job changed, so its version does: a page or program that has read it before is told. */
    Job touched(Job job) {
        var touched =
                jdbc.sql("""
                    update job set version = version + 1
                    where tenant_id = :fleet and id = :id and state in ('UNDER_WAY', 'INSPECTED')\
                    """).param("fleet", job.fleet()).param("id", job.id()).update();
        entityManager.refresh(job);
        if (touched == 0) {
            throw JobRefused.inState("worked on", job.state()); // it ended at this moment
        }
        return job;
    }

    /** By which clock it was told. Sent again, or asked for twice on the way, it stands there once. */
    private void tellDevice(Job job, DoneAt done) {
        var now = clock.instant();
        var changed = done.clockChanged();
        jdbc.sql("""
            insert into job_device_time (tenant_id, performer_id, id, job_id, what, done_at, offset_seconds,
                clock_changed_seconds, recorded_at)
            values (:fleet, :performer, :id, :job, :what, :at, :offset, :changed, :now) on conflict do nothing\
            """)
                .param("fleet", job.fleet())
                .param("performer", job.performer())
                .param("id", Ids.next(now))
                .param("job", job.id())
                .param("what", done.what())
                .param("at", Objects.requireNonNull(done.at()).atOffset(ZoneOffset.UTC))
                .param("offset", (int) done.ahead().toSeconds())
                .param("changed", changed == null ? null : (int) changed.toSeconds())
                .param("now", now.atOffset(ZoneOffset.UTC))
                .update();
    }

    void tell(String action, Job job, String detail) {
        history.add(
                action, "job", job.id(), detail.isEmpty() ? job.registration() : job.registration() + ": " + detail);
    }

    JobBrief brief(Job job) {
        return json.readValue(job.brief(), JobBrief.class);
    }

    /** Null before the job began, and of new glass. */
    @Nullable
    JobMethod method(Job job) {
        return job.method() == null ? null : json.readValue(job.method(), JobMethod.class);
    }

    /** What the work is compared with; jobs that began before there were methods follow the one that ships. */
    Method methodOrGeneric(Job job) {
        return methodOrGeneric(job.method());
    }

    /** The same of a job's method as JSON. */
    Method methodOrGeneric(@Nullable String written) {
        return written == null
                ? Method.GENERIC
                : json.readValue(written, JobMethod.class).method();
    }

    /** The same, with when it arrived and by which clock. */
    Told told(Job job, @Nullable Instant given, @Nullable Instant deviceClock, Instant now) {
        return asked(job, Told.of(given, deviceClock, now).notBefore(job.startedAt(), "occurredAt", NOT_BEGUN));
    }

    /** Whether it was kept for want of a network matters where it comes later than anybody is believed without. */
    Told asked(Job job, Told told) {
        return asked(job, told, told.at());
    }

    /** The same of a photo, which may have been taken before the time that is told of it. */
    Told asked(Job job, Told told, @Nullable Instant taken) {
        var first = taken == null || taken.isAfter(told.at()) ? told.at() : taken;
        return told.queued(told.offsetSeconds() != null
                && (!Lateness.isLate(first, told.arrivedAt(), false)
                        || offline.bearsOut(job, first, told.arrivedAt())));
    }

    /** When it happened to a job: not before its work began, which may be before anybody wrote it down. Now if not given. */
    static Instant at(Job job, @Nullable Instant given, Instant now) {
        return Told.of(given, null, now)
                .notBefore(job.startedAt(), "occurredAt", NOT_BEGUN)
                .at();
    }
}

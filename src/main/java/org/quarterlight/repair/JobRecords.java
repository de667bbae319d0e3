package org.quarterlight.repair;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.quarterlight.bench.Conditions;
import org.quarterlight.bench.Objection;
import org.quarterlight.bench.PhaseKind;
import org.quarterlight.photo.PhotoFile;
import org.quarterlight.tenancy.Acting;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import tools.jackson.databind.json.JsonMapper;

/** The rows that a performer adds to a job: phases, notes, photos, readings, overrides. */
@Component
class JobRecords {
    private final JdbcClient jdbc;
    private final JsonMapper json;

    JobRecords(JdbcClient jdbc, JsonMapper json) {
        this.jdbc = jdbc;
        this.json = json;
    }

    /** Whether it was new: a device chooses ids itself. */
    boolean addPhase(Job job, JobPhase phase, @Nullable UUID person) {
        return jdbc.sql("""
            insert into phase (tenant_id, performer_id, id, job_id, kind, started_at, ended_at, note, recorded_at,
                recorded_by, back_reason, reading, lamp, lamp_distance_mm, required_seconds, goggles, device_offset_seconds,
                person_id, end_recorded_at, end_offset_seconds, clear_of_air, lamp_reading,
                queued, end_queued, end_person_id)
            values (:fleet, :performer, :id, :job, :kind, :started, :ended, :note, :now, :by, :back, :reading, :lamp,
                :distance, :required, :goggles, :offset, :person, :endArrived, :endOffset, :clear, cast(:cureLamp as jsonb),
                :queued, :endQueued, :endPerson)
            on conflict do nothing\
            """)
                        .param("fleet", job.fleet())
                        .param("performer", job.performer())
                        .param("id", phase.id())
                        .param("job", job.id())
                        .param("kind", phase.kind().name())
                        .param("started", phase.startedAt().atOffset(ZoneOffset.UTC))
                        .param(
                                "ended",
                                phase.endedAt() == null ? null : phase.endedAt().atOffset(ZoneOffset.UTC))
                        .param("note", phase.note())
                        .param("now", phase.arrivedAt().atOffset(ZoneOffset.UTC))
                        .param(
                                "endArrived",
                                phase.endArrivedAt() == null
                                        ? null
                                        : phase.endArrivedAt().atOffset(ZoneOffset.UTC))
                        .param("endOffset", phase.endOffsetSeconds())
                        .param("cureLamp", phase.cureLamp() == null ? null : json.writeValueAsString(phase.cureLamp()))
                        .param("by", phase.recordedBy())
                        .param("back", phase.backReason())
                        .param("reading", phase.reading())
                        .param("lamp", phase.lamp())
                        .param("distance", phase.lampDistanceMm())
                        .param("required", phase.requiredSeconds())
                        .param("goggles", phase.goggles())
                        .param("offset", phase.deviceOffsetSeconds())
                        .param("clear", phase.clearOfAir())
                        .param("person", person)
                        .param("queued", phase.queued())
                        .param("endQueued", phase.endQueued())
                        .param("endPerson", phase.endedAt() == null ? null : person)
                        .update()
                > 0;
    }

    /** A job in hand with a phase of the same person in the same time; the method as JSON where it has one of its own. */
    record AtWork(
            UUID job,
            int number,
            String registration,
            PhaseKind kind,
            @Nullable String method) {}

    /**
     * Other jobs in hand of this performer that a person is at between two times; the later is open where it is null. Begins
     * with the jobs, which are few: the fleet's side of the join finds the phases of each.
     */
    List<AtWork> elsewhere(Job job, UUID person, Instant from, @Nullable Instant to) {
        return jdbc.sql("""
            select j.id, j.number, j.registration, p.kind, j.method from phase p
            join job j on j.tenant_id = p.tenant_id and j.performer_id = p.performer_id and j.id = p.job_id
            where p.performer_id = :performer and coalesce(p.person_id, j.technician_id) = :person and j.id <> :job
                and j.performer_id = :performer and j.state in ('UNDER_WAY', 'INSPECTED')
                and p.started_at < coalesce(cast(:to as timestamptz), 'infinity')
                and coalesce(p.ended_at, 'infinity') > :from
            order by p.started_at, p.id\
            """)
                .param("performer", job.performer())
                .param("person", person)
                .param("job", job.id())
                .param("from", from.atOffset(ZoneOffset.UTC))
                .param("to", to == null ? null : to.atOffset(ZoneOffset.UTC))
                .query((row, number) -> new AtWork(
                        row.getObject("id", UUID.class),
                        row.getInt("number"),
                        row.getString("registration"),
                        PhaseKind.valueOf(row.getString("kind")),
                        row.getString("method")))
                .list();
    }

    /** A phase that has ended now, and the lamp of the register that burnt in it. */
    record Ended(Instant startedAt, @Nullable UUID lamp) {}

    /** Empty where there was no such phase that had not ended. */
    Optional<Ended> endPhase(
            Job job, UUID phase, Told told, @Nullable String reading, @Nullable Boolean clear, @Nullable UUID person) {
        return jdbc.sql("""
            update phase set ended_at = :at, reading = coalesce(:reading, reading), clear_of_air = :clear, end_recorded_at = :arrived,
                end_offset_seconds = :offset, end_queued = :queued, end_person_id = :person
            where tenant_id = :fleet and job_id = :job and id = :id and ended_at is null and started_at <= :at
            returning started_at, cast(lamp_reading ->> 'lamp' as uuid) as lamp\
            """)
                .param("at", told.at().atOffset(ZoneOffset.UTC))
                .param("arrived", told.arrivedAt().atOffset(ZoneOffset.UTC))
                .param("offset", told.offsetSeconds())
                .param("queued", told.queued())
                .param("person", person)
                .param("reading", reading)
                .param("clear", clear)
                .param("fleet", job.fleet())
                .param("job", job.id())
                .param("id", phase)
                .query((row, number) -> new Ended(
                        row.getObject("started_at", OffsetDateTime.class).toInstant(),
                        row.getObject("lamp", UUID.class)))
                .optional();
    }

    List<JobDeviceTime> deviceTimes(Job job) {
        return jdbc.sql("""
            select what, done_at, offset_seconds, clock_changed_seconds from job_device_time
            where tenant_id = :fleet and job_id = :job order by done_at, id\
            """)
                .param("fleet", job.fleet())
                .param("job", job.id())
                .query((row, number) -> new JobDeviceTime(
                        row.getString("what"),
                        row.getObject("done_at", OffsetDateTime.class).toInstant(),
                        row.getInt("offset_seconds"),
                        row.getObject("clock_changed_seconds", Integer.class)))
                .list();
    }

    /** The phase of this job that is meant; null where it has none of this id, as where a device dropped it. */
    private @Nullable UUID known(Job job, @Nullable UUID phase) {
        return phase == null
                ? null
                : jdbc.sql("select id from phase where tenant_id = :fleet and job_id = :job and id = :id")
                        .param("fleet", job.fleet())
                        .param("job", job.id())
                        .param("id", phase)
                        .query(UUID.class)
                        .optional()
                        .orElse(null);
    }

    void addNote(Job job, UUID id, String text, @Nullable UUID phase, Told told, String by) {
        addNote(job, id, text, phase, told, by, null);
    }

    /** The same, where it tells that a damage was measured at the vehicle. */
    void addNote(
            Job job, UUID id, String text, @Nullable UUID phase, Told told, String by, @Nullable UUID measuredDamage) {
        jdbc.sql("""
            insert into job_note (tenant_id, performer_id, id, job_id, phase_id, text, written_at, written_by, recorded_at,
                measured_damage_id)
            values (:fleet, :performer, :id, :job, :phase, :text, :at, :by, :arrived, :measured)\
            """)
                .param("phase", known(job, phase))
                .param("fleet", job.fleet())
                .param("performer", job.performer())
                .param("id", id)
                .param("measured", measuredDamage)
                .param("job", job.id())
                .param("text", text)
                .param("at", told.at().atOffset(ZoneOffset.UTC))
                .param("arrived", told.arrivedAt().atOffset(ZoneOffset.UTC))
                .param("by", by)
                .update();
    }

    void addPhoto(Job job, UUID id, PhotoShows shows, PhotoFile file, @Nullable UUID phase, Told told, Acting by) {
        var taken = file.takenAt(ZoneId.of(job.zone()));
        jdbc.sql("""
            insert into job_photo (tenant_id, performer_id, id, job_id, phase_id, shows, sha256, media_type, bytes, width,
                height, added_at, added_by, recorded_at, person_id, queued, taken_at, picture_sha256)
            values (:fleet, :performer, :id, :job, :phase, :shows, :sha256, :type, :bytes, :width, :height, :at, :by, :arrived,
                :person, :queued, :taken, :picture)
            on conflict (tenant_id, job_id, shows, sha256) do nothing\
            """)
                .param("phase", known(job, phase))
                .param("fleet", job.fleet())
                .param("performer", job.performer())
                .param("id", id)
                .param("job", job.id())
                .param("shows", shows.name())
                .param("sha256", file.sha256())
                .param("type", file.mediaType())
                .param("bytes", file.bytes())
                .param("width", file.width())
                .param("height", file.height())
                .param("at", told.at().atOffset(ZoneOffset.UTC))
                .param("arrived", told.arrivedAt().atOffset(ZoneOffset.UTC))
                .param("by", by.name())
                .param("person", by.person())
                .param("queued", told.queued())
                .param("taken", taken == null ? null : taken.atOffset(ZoneOffset.UTC))
                .param("picture", file.pictureSha256())
                .update();
    }

    List<JobPhase> phases(Job job) {
        return jdbc.sql("select * from phase where tenant_id = :fleet and job_id = :job order by started_at, id")
                .param("fleet", job.fleet())
                .param("job", job.id())
                .query((row, number) -> new JobPhase(
                        row.getObject("id", UUID.class),
                        PhaseKind.valueOf(row.getString("kind")),
                        row.getObject("started_at", OffsetDateTime.class).toInstant(),
                        instant(row, "ended_at"),
                        row.getString("note"),
                        row.getString("recorded_by"),
                        row.getString("back_reason"),
                        row.getString("reading"),
                        row.getString("lamp"),
                        row.getBigDecimal("lamp_distance_mm"),
                        row.getObject("required_seconds", Integer.class),
                        row.getBoolean("goggles"),
                        row.getObject("device_offset_seconds", Integer.class),
                        row.getObject("recorded_at", OffsetDateTime.class).toInstant(),
                        instant(row, "end_recorded_at"),
                        row.getObject("end_offset_seconds", Integer.class),
                        row.getObject("clear_of_air", Boolean.class),
                        row.getString("lamp_reading") == null
                                ? null
                                : json.readValue(row.getString("lamp_reading"), CureLamp.class),
                        row.getObject("queued", Boolean.class),
                        row.getObject("end_queued", Boolean.class)))
                .list();
    }

    List<JobNote> notes(Job job) {
        return jdbc.sql("select * from job_note where tenant_id = :fleet and job_id = :job order by written_at, id")
                .param("fleet", job.fleet())
                .param("job", job.id())
                .query((row, number) -> new JobNote(
                        row.getObject("id", UUID.class),
                        row.getString("text"),
                        row.getObject("phase_id", UUID.class),
                        row.getObject("written_at", OffsetDateTime.class).toInstant(),
                        row.getString("written_by"),
                        instant(row, "recorded_at"),
                        row.getObject("measured_damage_id", UUID.class)))
                .list();
    }

    List<JobPhoto> photos(Job job) {
        return jdbc.sql("select * from job_photo where tenant_id = :fleet and job_id = :job order by added_at, id")
                .param("fleet", job.fleet())
                .param("job", job.id())
                .query((row, number) -> new JobPhoto(
                        row.getObject("id", UUID.class),
                        PhotoShows.valueOf(row.getString("shows")),
                        row.getString("sha256"),
                        row.getInt("width"),
                        row.getInt("height"),
                        row.getObject("phase_id", UUID.class),
                        row.getObject("added_at", OffsetDateTime.class).toInstant(),
                        row.getString("added_by"),
                        instant(row, "recorded_at"),
                        instant(row, "taken_at"),
                        row.getObject("queued", Boolean.class),
                        row.getString("picture_sha256")))
                .list();
    }

    void addReading(Job job, JobReading reading, @Nullable UUID person) {
        jdbc.sql("""
            insert into job_reading (tenant_id, performer_id, id, job_id, conditions, outcome, objections, cautions,
                read_at, recorded_at, read_by, device_offset_seconds, person_id, queued)
            values (:fleet, :performer, :id, :job, cast(:conditions as jsonb), :outcome, cast(:objections as jsonb),
                cast(:cautions as jsonb), :at, :now, :by, :offset, :person, :queued)\
            """)
                .param("fleet", job.fleet())
                .param("performer", job.performer())
                .param("id", reading.id())
                .param("job", job.id())
                .param("conditions", json.writeValueAsString(reading.conditions()))
                .param("outcome", reading.outcome().name())
                .param("objections", json.writeValueAsString(reading.objections()))
                .param("cautions", json.writeValueAsString(reading.cautions()))
                .param("at", reading.readAt().atOffset(ZoneOffset.UTC))
                .param("now", reading.arrivedAt().atOffset(ZoneOffset.UTC))
                .param("offset", reading.deviceOffsetSeconds())
                .param("queued", reading.queued())
                .param("person", person)
                .param("by", reading.readBy())
                .update();
    }

    List<JobReading> readings(Job job) {
        return jdbc.sql("select * from job_reading where tenant_id = :fleet and job_id = :job order by read_at, id")
                .param("fleet", job.fleet())
                .param("job", job.id())
                .query((row, number) -> {
                    var conditions = json.readValue(row.getString("conditions"), Conditions.class);
                    return new JobReading(
                            row.getObject("id", UUID.class),
                            conditions,
                            conditions.dewPointCelsius(),
                            JobReading.Outcome.valueOf(row.getString("outcome")),
                            List.of(json.readValue(row.getString("objections"), Objection[].class)),
                            List.of(json.readValue(row.getString("cautions"), String[].class)),
                            row.getObject("read_at", OffsetDateTime.class).toInstant(),
                            row.getString("read_by"),
                            row.getObject("recorded_at", OffsetDateTime.class).toInstant(),
                            row.getObject("device_offset_seconds", Integer.class),
                            row.getObject("queued", Boolean.class));
                })
                .list();
    }

    /** Whether this person told any of the record. */
    boolean isToldBy(Job job, @Nullable UUID person) {
        return person == null
                || person.equals(job.technician())
                || person.equals(job.inspectionPerson())
                || jdbc.sql("""
                    select exists (select from phase where tenant_id = :fleet and job_id = :job
                            and :person in (person_id, end_person_id))
                        or exists (select from job_photo where tenant_id = :fleet and job_id = :job
                            and person_id = :person)
                        or exists (select from job_reading where tenant_id = :fleet and job_id = :job
                            and person_id = :person)
                        or exists (select from lot_use where tenant_id = :performer and job_id = :job
                            and person_id = :person)\
                    """)
                        .param("fleet", job.fleet())
                        .param("performer", job.performer())
                        .param("job", job.id())
                        .param("person", person)
                        .query(Boolean.class)
                        .single();
    }

    void addCalibration(Job job, UUID id, Calibration calibration, Instant arrived) {
        jdbc.sql("""
            insert into job_calibration (tenant_id, performer_id, id, job_id, passed, manner, tool, words, done_at,
                recorded_at, done_by)
            values (:fleet, :performer, :id, :job, :passed, :manner, :tool, :words, :at, :arrived, :by)\
            """)
                .param("fleet", job.fleet())
                .param("performer", job.performer())
                .param("id", id)
                .param("job", job.id())
                .param("passed", calibration.passed())
                .param(
                        "manner",
                        calibration.manner() == null
                                ? null
                                : calibration.manner().name())
                .param("tool", calibration.tool())
                .param("words", calibration.words())
                .param("at", calibration.at().atOffset(ZoneOffset.UTC))
                .param("arrived", arrived.atOffset(ZoneOffset.UTC))
                .param("by", calibration.by())
                .update();
    }

    /** Failed ones too, in the order in which they were done; of older records the one that was written in words. */
    List<Calibration> calibrations(Job job) {
        if (job.work() != Work.REPLACEMENT) {
            return List.of();
        }
        var kept = jdbc.sql("""
            select * from job_calibration where tenant_id = :fleet and job_id = :job order by done_at, id\
            """)
                .param("fleet", job.fleet())
                .param("job", job.id())
                .query((row, number) -> new Calibration(
                        row.getString("words"),
                        row.getObject("done_at", OffsetDateTime.class).toInstant(),
                        row.getString("done_by"),
                        row.getBoolean("passed"),
                        Calibration.Manner.valueOf(row.getString("manner")),
                        row.getString("tool"),
                        instant(row, "recorded_at")))
                .list();
        var before = job.calibration();
        return before == null
                ? kept
                : Stream.concat(Stream.of(before), kept.stream()).toList();
    }

    void addOverride(Job job, JobOverride override) {
        jdbc.sql("""
            insert into job_override (tenant_id, performer_id, id, job_id, gap, reason, made_at, made_by)
            values (:fleet, :performer, :id, :job, :gap, :reason, :at, :by)\
            """)
                .param("fleet", job.fleet())
                .param("performer", job.performer())
                .param("id", override.id())
                .param("job", job.id())
                .param("gap", override.gap().name())
                .param("reason", override.reason())
                .param("at", override.madeAt().atOffset(ZoneOffset.UTC))
                .param("by", override.madeBy())
                .update();
    }

    List<JobOverride> overrides(Job job) {
        return jdbc.sql("select * from job_override where tenant_id = :fleet and job_id = :job order by made_at, id")
                .param("fleet", job.fleet())
                .param("job", job.id())
                .query((row, number) -> new JobOverride(
                        row.getObject("id", UUID.class),
                        Gap.valueOf(row.getString("gap")),
                        row.getString("reason"),
                        row.getObject("made_at", OffsetDateTime.class).toInstant(),
                        row.getString("made_by")))
                .list();
    }

    private static @Nullable Instant instant(ResultSet row, String column) throws SQLException {
        var value = row.getObject(column, OffsetDateTime.class);
        return value == null ? null : value.toInstant();
    }
}

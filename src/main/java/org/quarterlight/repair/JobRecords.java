package org.quarterlight.repair;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.List;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.bench.PhaseKind;
import org.quarterlight.photo.PhotoFile;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/** The rows that a performer adds to a job: phases, notes, photos. */
@Component
class JobRecords {
    private final JdbcClient jdbc;

    JobRecords(JdbcClient jdbc) {
        this.jdbc = jdbc;
    }

    void addPhase(
            Job job,
            UUID id,
            PhaseKind kind,
            Instant startedAt,
            @Nullable Instant endedAt,
            String note,
            Instant now,
            String by) {
        jdbc.sql("""
            insert into phase (tenant_id, performer_id, id, job_id, kind, started_at, ended_at, note, recorded_at, recorded_by)
            values (:fleet, :performer, :id, :job, :kind, :started, :ended, :note, :now, :by)\
            """)
                .param("fleet", job.fleet())
                .param("performer", job.performer())
                .param("id", id)
                .param("job", job.id())
                .param("kind", kind.name())
                .param("started", startedAt.atOffset(ZoneOffset.UTC))
                .param("ended", endedAt == null ? null : endedAt.atOffset(ZoneOffset.UTC))
                .param("note", note)
                .param("now", now.atOffset(ZoneOffset.UTC))
                .param("by", by)
                .update();
    }

    /** Whether there was such a phase that had not ended. */
    boolean endPhase(Job job, UUID phase, Instant at) {
        return jdbc.sql("""
            update phase set ended_at = :at
            where tenant_id = :fleet and job_id = :job and id = :id and ended_at is null and started_at <= :at\
            """)
                        .param("at", at.atOffset(ZoneOffset.UTC))
                        .param("fleet", job.fleet())
                        .param("job", job.id())
                        .param("id", phase)
                        .update()
                > 0;
    }

    void addNote(Job job, UUID id, String text, Instant at, String by) {
        jdbc.sql("""
            insert into job_note (tenant_id, performer_id, id, job_id, text, written_at, written_by)
            values (:fleet, :performer, :id, :job, :text, :at, :by)\
            """)
                .param("fleet", job.fleet())
                .param("performer", job.performer())
                .param("id", id)
                .param("job", job.id())
                .param("text", text)
                .param("at", at.atOffset(ZoneOffset.UTC))
                .param("by", by)
                .update();
    }

    void addPhoto(Job job, UUID id, PhotoShows shows, PhotoFile file, Instant at, String by) {
        jdbc.sql("""
            insert into job_photo (tenant_id, performer_id, id, job_id, shows, sha256, media_type, bytes, width, height, added_at, added_by)
            values (:fleet, :performer, :id, :job, :shows, :sha256, :type, :bytes, :width, :height, :at, :by)
            on conflict (tenant_id, job_id, shows, sha256) do nothing\
            """)
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
                .param("at", at.atOffset(ZoneOffset.UTC))
                .param("by", by)
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
                        row.getString("recorded_by")))
                .list();
    }

    List<JobNote> notes(Job job) {
        return jdbc.sql("select * from job_note where tenant_id = :fleet and job_id = :job order by written_at, id")
                .param("fleet", job.fleet())
                .param("job", job.id())
                .query((row, number) -> new JobNote(
                        row.getObject("id", UUID.class),
                        row.getString("text"),
                        row.getObject("written_at", OffsetDateTime.class).toInstant(),
                        row.getString("written_by")))
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
                        row.getObject("added_at", OffsetDateTime.class).toInstant(),
                        row.getString("added_by")))
                .list();
    }

    private static @Nullable Instant instant(ResultSet row, String column) throws SQLException {
        var value = row.getObject(column, OffsetDateTime.class);
        return value == null ? null : value.toInstant();
    }
}

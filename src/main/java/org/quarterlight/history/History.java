package org.quarterlight.history;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Clock;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.kernel.Ids;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.tenancy.Tenants;
import org.quarterlight.web.ListQuery;
import org.quarterlight.web.Slice;
import org.quarterlight.web.SliceRequest;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Propagation;
import org.springframework.transaction.annotation.Transactional;

/** What was done in an organisation, by whom. Lines are only added, in the transaction of what they tell. */
@Service
public class History {
    private static final ListQuery.Order NEWEST_FIRST =
            ListQuery.Order.descending("newest", new ListQuery.Key("h.id", "uuid"));

    private final JdbcClient jdbc;
    private final Clock clock;

    History(JdbcClient jdbc, Clock clock) {
        this.jdbc = jdbc;
        this.clock = clock;
    }

    /**
     * Adds a line about something of the present organisation. Whoever is signed in did it, else the service itself.
     *
     * @param action what was done, as a verb in the past: "approved"
     * @param subject what it was done to, in a word: "job"
     * @param detail the reason given, or what changed; empty where there is nothing to add
     */
    @Transactional(propagation = Propagation.MANDATORY)
    public void add(String action, String subject, @Nullable UUID subjectId, String detail) {
        var now = clock.instant();
        var acting = Acting.current();
        jdbc.sql("""
            insert into history (tenant_id, id, at, person_id, who, action, subject, subject_id, detail)
            values (:tenant, :id, :at, :person, :who, :action, :subject, :subjectId, :detail)\
            """)
                .param("tenant", Tenants.require().value())
                .param("id", Ids.next(now))
                .param("at", now.atOffset(ZoneOffset.UTC))
                .param("person", acting.map(Acting::person).orElse(null))
                .param("who", acting.map(Acting::name).orElse("Quarterlight"))
                .param("action", action)
                .param("subject", subject)
                .param("subjectId", subjectId)
                .param("detail", detail)
                .update();
    }

    /** The lines of the organisation, newest first; of one thing where its id is given. */
    @Transactional(readOnly = true)
    @PreAuthorize("hasAnyRole('MANAGER', 'ADMINISTRATOR')")
    public Slice<HistoryLine> lines(@Nullable UUID subject, SliceRequest wanted) {
        return new ListQuery("h.id, h.at, h.who, h.action, h.subject, h.subject_id, h.detail", "history h")
                .where(
                        "h.tenant_id = :organisation",
                        "organisation",
                        Tenants.require().value())
                .whereGiven("h.subject_id = :subject", "subject", subject)
                .slice(jdbc, NEWEST_FIRST, wanted, History::line);
    }

    private static HistoryLine line(ResultSet row, int number) throws SQLException {
        return new HistoryLine(
                row.getObject("id", UUID.class),
                row.getObject("at", OffsetDateTime.class).toInstant(),
                row.getString("who"),
                row.getString("action"),
                row.getString("subject"),
                row.getObject("subject_id", UUID.class),
                row.getString("detail"));
    }
}

package org.quarterlight.repair;

import java.nio.ByteBuffer;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Clock;
import java.time.Duration;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.time.temporal.ChronoUnit;
import java.util.Base64;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.UUID;
import org.quarterlight.history.History;
import org.quarterlight.history.HistoryChain;
import org.quarterlight.proof.PublishedKeys;
import org.quarterlight.proof.Signed;
import org.quarterlight.proof.SigningKeys;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.tenancy.TenantId;
import org.quarterlight.tenancy.Tenants;
import org.quarterlight.web.Allowance;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Service;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.annotation.Propagation;
import org.springframework.transaction.annotation.Transactional;
import org.springframework.transaction.support.TransactionTemplate;
import tools.jackson.databind.json.JsonMapper;

/**
 * Signed once, when a job closes, and the same to the byte ever after: what was signed is a row, and so is the paper that
 * was drawn of it.
 */
@Service
public class Certificates {
    private static final String PARTIES = "hasAnyRole('MANAGER', 'DISPATCHER', 'TECHNICIAN')";
    /** As the history says it, with the SHA-256 of what was signed. */
    static final String CERTIFIED = "certified";

    private static final int SEAL_BYTES = 32;
    private static final Duration PERIOD = Duration.ofMinutes(10);
    private static final int CHECKS_FROM_AN_ADDRESS = 60;

    private final JobAccess access;
    private final JobViews views;
    private final Materials materials;
    private final HistoryChain history;
    private final History lines;
    private final SigningKeys keys;
    private final PublishedKeys published;
    private final CertificatePaper paper;
    private final JdbcClient jdbc;
    private final JsonMapper json;
    private final TransactionTemplate transaction;
    private final Clock clock;
    private final Allowance checks = new Allowance(CHECKS_FROM_AN_ADDRESS, PERIOD);

    Certificates(
            JobAccess access,
            JobViews views,
            Materials materials,
            HistoryChain history,
            History lines,
            SigningKeys keys,
            PublishedKeys published,
            CertificatePaper paper,
            JdbcClient jdbc,
            JsonMapper json,
            PlatformTransactionManager transactions,
            Clock clock) {
        this.access = access;
        this.views = views;
        this.materials = materials;
        this.history = history;
        this.lines = lines;
        this.keys = keys;
        this.published = published;
        this.paper = paper;
        this.jdbc = jdbc;
        this.json = json;
        this.transaction = new TransactionTemplate(transactions);
        this.clock = clock;
    }

    private record Kept(int number, OffsetDateTime issuedAt, String jws) {}

    /** In the transaction that closes the job, so that no closed job is without. */
    @Transactional(propagation = Propagation.MANDATORY)
    void issue(JobView job) {
        // Random as a whole, unlike the other ids: it is what keeps the public page from being found by trying.
        var id = UUID.randomUUID();
        var now = clock.instant().truncatedTo(ChronoUnit.MILLIS);
        var end = history.seal()
                .map(seal -> new Certificate.HistoryEnd(seal.organisation(), seal.number(), seal.hash()))
                .orElse(null);
        var issuer = Acting.current().map(Acting::organisationName).orElse(job.performerName());
        var signed = keys.sign(new Certificate(
                Certificate.TYPE,
                id,
                job.number(),
                now,
                issuer,
                CertifiedJob.of(job),
                lots(job),
                end,
                JobRows.of(jdbc, job.fleet(), job.performer(), List.of(job.id()))
                        .get(job.id())));
        var made = jdbc.sql("""
            insert into certificate (tenant_id, performer_id, id, job_id, number, issued_at, jws)
            values (:fleet, :performer, :id, :job, :number, :now, :jws) on conflict (tenant_id, job_id) do nothing\
            """)
                .param("fleet", job.fleet())
                .param("performer", job.performer())
                .param("id", id)
                .param("job", job.id())
                .param("number", job.number())
                .param("now", now.atOffset(ZoneOffset.UTC))
                .param("jws", signed.jws())
                .update();
        if (made > 0) { // else somebody who asked at the same moment has made it
            lines.add(CERTIFIED, "job", job.id(), signed.sha256());
        }
    }

    /** The other party writes down too what was certified, so that neither can lose it unseen. Hearing it twice adds nothing. */
    @Transactional
    void witness(UUID job) {
        if (!isWitnessed(job)) {
            jdbc.sql("select jws from certificate where tenant_id = :fleet and job_id = :job")
                    .param("fleet", Tenants.require().value())
                    .param("job", job)
                    .query(String.class)
                    .optional()
                    .ifPresent(jws -> lines.add(
                            CERTIFIED,
                            "job",
                            job,
                            published.verified(jws).map(Signed::sha256).orElse("with another signature")));
        }
    }

    private boolean isWitnessed(UUID job) {
        return jdbc.sql("""
            select exists (select from history
                where tenant_id = :organisation and subject_id = :job and action = :action)\
            """)
                .param("organisation", Tenants.require().value())
                .param("job", job)
                .param("action", CERTIFIED)
                .query(Boolean.class)
                .single();
    }

    /** Lots are their performer's; a fleet that asks for an old job's certificate knows the one that the job names. */
    private List<Certificate.Lot> lots(JobView job) {
        var used = materials.usedIn(job.id()).stream()
                .map(use -> new Certificate.Lot(use.kind(), use.lotNumber(), use.amount()))
                .toList();
        return used.isEmpty() && job.lotNumber() != null
                ? List.of(new Certificate.Lot(LotKind.RESIN, job.lotNumber(), ""))
                : used;
    }

    /** Of a closed job; one from before there were certificates gets its own now. */
    @Transactional
    @PreAuthorize(PARTIES)
    public IssuedCertificate of(UUID id) {
        var job = views.of(access.find(id));
        if (job.state() != JobState.CLOSED) {
            throw new JobRefused("no-record", "Job " + job.number() + " is not closed, so it has no record yet");
        }
        var jws = jws(job);
        if (jws.isEmpty() && isWitnessed(id)) {
            // Made again from the rows of today it would hide that it was taken away, and whatever was changed with it.
            throw new JobRefused(
                    "certificate-gone",
                    "The certificate of job " + job.number() + " was made and is not there any more. An administrator"
                            + " finds its SHA-256 in the history of this job.");
        }
        if (jws.isEmpty()) {
            issue(job);
            jws = jws(job);
        }
        var signed = published
                .verified(jws.orElseThrow())
                .orElseThrow(() -> new IllegalStateException("the certificate of job " + id + " was changed"));
        var content = json.readValue(signed.payload(), Certificate.class);
        return new IssuedCertificate(IssuedCertificate.seal(job.fleet(), content.id()), content, signed);
    }

    /**
     * The paper, a PDF for archives; drawn the first time that somebody asks, outside of a transaction, and kept.
     *
     * @param page where anybody may check certificates, without the seal
     */
    @PreAuthorize(PARTIES)
    public byte[] pdf(UUID id, String page) {
        var issued = transaction.execute(status -> of(id));
        var job = issued.content().job();
        var kept = transaction.execute(status -> keptPaper(job));
        if (kept.isPresent()) {
            return kept.get();
        }
        var drawn = paper.of(issued, page + issued.seal());
        return transaction.execute(status -> {
            jdbc.sql("update certificate set pdf = :pdf where tenant_id = :fleet and job_id = :job and pdf is null")
                    .param("pdf", drawn)
                    .param("fleet", job.fleet())
                    .param("job", job.id())
                    .update();
            return keptPaper(job).orElseThrow(); // somebody else's, where they were faster
        });
    }

    /**
     * What anybody may know who holds a certificate.
     *
     * @param hash of the content at hand, empty where only the address is
     * @param from who asks, so that nobody tries many addresses
     */
    public CheckedCertificate checked(String seal, String hash, String from) {
        checks.take(from, 1);
        var ids = ids(seal);
        var fleet = new TenantId(new UUID(ids.getLong(), ids.getLong()));
        var id = new UUID(ids.getLong(), ids.getLong());
        return Tenants.callAs(fleet, () -> transaction.execute(status -> checked(fleet, id, hash)));
    }

    private CheckedCertificate checked(TenantId fleet, UUID id, String hash) {
        var kept = jdbc.sql("select number, issued_at, jws from certificate where tenant_id = :fleet and id = :id")
                .param("fleet", fleet.value())
                .param("id", id)
                .query(Certificates::kept)
                .optional()
                .orElseThrow(CertificateNotFound::new);
        var verified = published.verified(kept.jws());
        var own = verified.map(Signed::sha256).orElse("");
        var asked = hash.replaceAll("\\s", "").toLowerCase(Locale.ROOT);
        return new CheckedCertificate(
                kept.number(),
                kept.issuedAt().toInstant(),
                own,
                verified.map(Signed::key).orElse(""),
                verified.isPresent(),
                asked.isEmpty() ? null : verified.isPresent() && own.equals(asked));
    }

    private static ByteBuffer ids(String seal) {
        try {
            var bytes = Base64.getUrlDecoder().decode(seal);
            if (bytes.length == SEAL_BYTES) {
                return ByteBuffer.wrap(bytes);
            }
        } catch (IllegalArgumentException e) {
            // no base64url, so no seal
        }
        throw new CertificateNotFound();
    }

    private Optional<String> jws(JobView job) {
        return jdbc.sql("select jws from certificate where tenant_id = :fleet and job_id = :job")
                .param("fleet", job.fleet())
                .param("job", job.id())
                .query(String.class)
                .optional();
    }

    private Optional<byte[]> keptPaper(CertifiedJob job) {
        return jdbc.sql("select pdf from certificate where tenant_id = :fleet and job_id = :job and pdf is not null")
                .param("fleet", job.fleet())
                .param("job", job.id())
                .query((row, number) -> row.getBytes("pdf"))
                .optional();
    }

    private static Kept kept(ResultSet row, int number) throws SQLException {
        return new Kept(row.getInt("number"), row.getObject("issued_at", OffsetDateTime.class), row.getString("jws"));
    }
}

package org.quarterlight.repair;

import java.awt.image.BufferedImage;
import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.math.BigDecimal;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.time.temporal.ChronoUnit;
import java.util.List;
import java.util.UUID;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.stream.IntStream;
import javax.imageio.ImageIO;
import org.awaitility.Awaitility;
import org.jspecify.annotations.Nullable;
import org.quarterlight.TestOrganisation;
import org.quarterlight.TestOrganisations;
import org.quarterlight.bench.Light;
import org.quarterlight.bench.PhaseKind;
import org.quarterlight.damage.DamageReporting;
import org.quarterlight.damage.ReportDamage;
import org.quarterlight.damage.SeenDamage;
import org.quarterlight.eligibility.Grade;
import org.quarterlight.eligibility.Layers;
import org.quarterlight.eligibility.Seen;
import org.quarterlight.glass.DamageKind;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.tenancy.Role;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.support.TransactionTemplate;

/** Repairs for tests, asked for and done through the service's own verbs. */
@Component
public class TestJobs {
    private final AtomicInteger reported = new AtomicInteger();
    private final DamageReporting damages;
    private final RepairJobs jobs;
    private final Bench bench;
    private final Materials materials;
    private final JdbcClient jdbc;
    private final TransactionTemplate transaction;

    TestJobs(
            DamageReporting damages,
            RepairJobs jobs,
            Bench bench,
            Materials materials,
            JdbcClient jdbc,
            PlatformTransactionManager transactions) {
        this.damages = damages;
        this.jobs = jobs;
        this.bench = bench;
        this.materials = materials;
        this.jdbc = jdbc;
        this.transaction = new TransactionTemplate(transactions);
    }

    /** Approved, of the fleet's own. */
    public JobView approved(TestOrganisation fleet, UUID vehicle, int chips) {
        var reports = IntStream.range(0, chips)
                .mapToObj(i -> TestOrganisations.as(
                        fleet,
                        Role.MANAGER,
                        () -> damages.report(new ReportDamage(vehicle, DamageKind.STAR_BREAK, null, seen()))))
                .map(damage -> damage.id())
                .toList();
        return TestOrganisations.as(
                fleet,
                Role.MANAGER,
                () -> jobs.request(new RequestJob(
                        Work.REPAIR, reports, true, null, Instant.now().minus(Duration.ofHours(3)))));
    }

    public JobView shared(TestOrganisation fleet, TestOrganisation repairer, UUID vehicle, int chips) {
        var job = approved(fleet, vehicle, chips);
        return TestOrganisations.as(fleet, Role.MANAGER, () -> jobs.share(job.id(), repairer.id()));
    }

    /** As whoever acts: they took the job along then, so what they tell late is believed like what a device kept. */
    public void taken(UUID job, Instant at) {
        taken(List.of(job), at);
    }

    /** The same of several at once. */
    public void taken(List<UUID> jobs, Instant at) {
        transaction.executeWithoutResult(status -> jdbc.sql("""
            insert into day_kit_taken (id, person_id, jobs, taken_at) values (:id, :person, :jobs, :at)\
            """)
                .param("id", UUID.randomUUID())
                .param("person", Acting.require().person())
                .param("jobs", jobs.toArray(UUID[]::new))
                .param("at", at.atOffset(ZoneOffset.UTC))
                .update());
    }

    /** As whoever acts: what they have said of lots in this job reached the service then. */
    public void lotsTold(UUID job, Instant at) {
        transaction.executeWithoutResult(status -> jdbc.sql("update lot_use set recorded_at = :at where job_id = :job")
                .param("at", at.atOffset(ZoneOffset.UTC))
                .param("job", job)
                .update());
    }

    /** Begun, with all that the closing asks for, and passed. */
    public void performed(TestOrganisation by, UUID job, UUID lot, @Nullable UUID method, Instant began) {
        var started = began.truncatedTo(ChronoUnit.SECONDS);
        TestOrganisations.as(by, Role.TECHNICIAN, () -> {
            taken(job, started);
            jobs.start(job, method, started, Instant.now());
            bench.read(job, good(started));
            jobs.addPhoto(job, PhotoShows.BEFORE, picture(), null, started, Instant.now());
            var minute = 0;
            for (var kind : PhaseKind.values()) {
                minute += kind == PhaseKind.VACUUM ? 1 : 0; // it rests before
                var from = started.plus(Duration.ofMinutes(minute));
                minute += kind == PhaseKind.CURE ? 10 : 2;
                jobs.recordPhase(
                        job,
                        new RecordPhase(
                                kind,
                                from,
                                started.plus(Duration.ofMinutes(minute)),
                                null,
                                Instant.now(),
                                "once more",
                                null,
                                null,
                                null,
                                null,
                                true));
            }
            jobs.addPhoto(job, PhotoShows.AFTER, picture(), null);
            bench.use(job, new UseLot(lot, "3 drops", null));
            bench.use(job, new UseLot(pitFiller(), null, null));
            return jobs.inspect(job, passing(jobs.job(job)));
        });
    }

    public JobView closed(TestOrganisation by, UUID job, UUID lot) {
        performed(by, job, lot, null, Instant.now().minus(Duration.ofHours(1)));
        return TestOrganisations.as(
                by, Role.TECHNICIAN, () -> jobs.close(job, new CloseJob(Result.GOOD, "Filled.", null, null, null)));
    }

    public JobView job(TestOrganisation by, Role role, UUID job) {
        return TestOrganisations.as(by, role, () -> jobs.job(job));
    }

    public UUID lot(TestOrganisation of, String number) {
        return TestOrganisations.as(
                        of,
                        Role.DISPATCHER,
                        () -> materials.create(
                                new SaveLot(number, "thin", LocalDate.now().plusDays(300), null, LotKind.RESIN)))
                .id();
    }

    /** Waits until everybody has heard what was announced. */
    public void settle() {
        Awaitility.await()
                .atMost(Duration.ofSeconds(60))
                .until(() -> jdbc.sql("select count(*) from event_publication")
                                .query(Long.class)
                                .single()
                        == 0);
    }

    /** The look over of repairs that came out well. */
    public static InspectJob passing(JobView job) {
        return new InspectJob(
                true,
                null,
                job.brief().damages().stream()
                        .map(damage -> new FinishedRepair(
                                damage.id(),
                                new BigDecimal("0.5"),
                                BigDecimal.ZERO,
                                BigDecimal.valueOf(2),
                                Seen.GAUGE,
                                null,
                                Grade.NONE,
                                true,
                                true,
                                true,
                                Layers.OUTER,
                                org.quarterlight.eligibility.Condition.CLEAN_DRY,
                                damage.xMm(),
                                damage.yMm()))
                        .toList(),
                null);
    }

    public static InspectJob failing(String reason) {
        return new InspectJob(false, reason, List.of(), null);
    }

    private SeenDamage seen() {
        return new SeenDamage(
                BigDecimal.valueOf(-600 + 90L * (reported.getAndIncrement() % 14)),
                BigDecimal.valueOf(420),
                null,
                null,
                BigDecimal.valueOf(18),
                new BigDecimal("0.5"),
                BigDecimal.valueOf(3),
                BigDecimal.valueOf(11),
                Layers.OUTER,
                org.quarterlight.eligibility.Condition.CLEAN_DRY,
                Seen.GAUGE,
                null,
                null);
    }

    private static ReadConditions good(Instant at) {
        return new ReadConditions(
                BigDecimal.valueOf(15),
                BigDecimal.valueOf(22),
                BigDecimal.valueOf(60),
                Light.SHADE,
                false,
                true,
                null,
                at,
                Instant.now());
    }

    /** As whoever works. */
    private UUID pitFiller() {
        return materials
                .create(new SaveLot(
                        "PF-" + UUID.randomUUID(), "filler", LocalDate.now().plusDays(300), null, LotKind.PIT_FILLER))
                .id();
    }

    private static InputStream picture() {
        var image = new BufferedImage(64, 48, BufferedImage.TYPE_INT_RGB);
        image.setRGB((int) (Math.random() * 64), (int) (Math.random() * 48), (int) (Math.random() * 0xffffff));
        var out = new ByteArrayOutputStream();
        try {
            ImageIO.write(image, "png", out);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return new ByteArrayInputStream(out.toByteArray());
    }

    static List<UUID> damages(JobView job) {
        return job.brief().damages().stream().map(JobBrief.BriefDamage::id).toList();
    }
}

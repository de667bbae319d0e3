package org.quarterlight.repair;

import static org.assertj.core.api.Assertions.assertThat;

import java.awt.image.BufferedImage;
import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.math.BigDecimal;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.time.temporal.ChronoUnit;
import java.util.EnumMap;
import java.util.EnumSet;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Random;
import java.util.Set;
import java.util.UUID;
import java.util.function.BiConsumer;
import java.util.stream.LongStream;
import javax.imageio.ImageIO;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.quarterlight.QuarterlightTest;
import org.quarterlight.TestOrganisation;
import org.quarterlight.TestOrganisations;
import org.quarterlight.bench.Light;
import org.quarterlight.bench.PhaseKind;
import org.quarterlight.damage.DamageReporting;
import org.quarterlight.damage.ReportDamage;
import org.quarterlight.damage.SeenDamage;
import org.quarterlight.eligibility.Layers;
import org.quarterlight.eligibility.Seen;
import org.quarterlight.fleet.Depots;
import org.quarterlight.fleet.Fleet;
import org.quarterlight.fleet.SaveDepot;
import org.quarterlight.fleet.SaveVehicle;
import org.quarterlight.glass.DamageKind;
import org.quarterlight.glass.SteeringSide;
import org.quarterlight.glass.VehicleCategory;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.kernel.NotFound;
import org.quarterlight.kernel.Refused;
import org.quarterlight.tenancy.Role;
import org.quarterlight.web.ActingAuthentication;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.security.access.AccessDeniedException;
import org.springframework.security.core.context.SecurityContextHolder;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.support.TransactionTemplate;

/**
 * Every verb of a job in every state by every role, and what a record can lack without being closed. Each try is taken
 * back, so one job of a state serves them all.
 */
@QuarterlightTest
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class JobStatesTests {
    private static final Set<Role> MANAGER = EnumSet.of(Role.MANAGER);
    private static final Set<Role> DISPATCHER = EnumSet.of(Role.DISPATCHER);
    private static final Set<Role> TECHNICIAN = EnumSet.of(Role.TECHNICIAN);
    private static final Set<JobState> AT_WORK = EnumSet.of(JobState.UNDER_WAY, JobState.INSPECTED);
    private static final Set<JobState> BEFORE_WORK =
            EnumSet.of(JobState.REQUESTED, JobState.APPROVED, JobState.PLANNED);
    private static final Set<JobState> PLACEABLE = EnumSet.of(JobState.APPROVED, JobState.PLANNED);

    @Autowired
    private TestOrganisations organisations;

    @Autowired
    private Depots depots;

    @Autowired
    private Fleet fleet;

    @Autowired
    private DamageReporting damages;

    @Autowired
    private RepairJobs jobs;

    @Autowired
    private Bench bench;

    @Autowired
    private Materials materials;

    @Autowired
    private PlatformTransactionManager transactions;

    private final Map<JobState, UUID> inState = new EnumMap<>(JobState.class);
    private final Instant started = Instant.now().minus(Duration.ofHours(2)).truncatedTo(ChronoUnit.SECONDS);
    private Instant began = started;
    private TestOrganisation owner = nobody();
    private TestOrganisation other = nobody();
    private UUID vehicle = new UUID(0, 0);
    private UUID lot = new UUID(0, 0);
    private UUID expired = new UUID(0, 0);
    private UUID filler = new UUID(0, 0);
    private UUID recalled = new UUID(0, 0);
    private int reported;

    /** Of a fleet that performs its own jobs: who may, in which states, and where that leads; null stays. */
    private record Verb(
            String name,
            Set<Role> roles,
            Set<JobState> states,
            @Nullable JobState leadsTo,
            BiConsumer<JobStatesTests, UUID> act) {}

    private static final List<Verb> VERBS = List.of(
            new Verb(
                    "approve",
                    MANAGER,
                    EnumSet.of(JobState.REQUESTED),
                    JobState.APPROVED,
                    (t, id) -> t.jobs.approve(id, null)),
            new Verb(
                    "decline",
                    MANAGER,
                    EnumSet.of(JobState.REQUESTED),
                    JobState.DECLINED,
                    (t, id) -> t.jobs.decline(id, "sold", null)),
            new Verb("withdraw", MANAGER, BEFORE_WORK, JobState.DECLINED, (t, id) -> t.jobs.withdraw(id, "sold", null)),
            new Verb("share", MANAGER, EnumSet.of(JobState.APPROVED), null, (t, id) -> t.jobs.share(id, t.other.id())),
            new Verb("assign", DISPATCHER, PLACEABLE, null, (t, id) -> t.jobs.assign(id, null)),
            new Verb("start", TECHNICIAN, PLACEABLE, JobState.UNDER_WAY, (t, id) -> t.jobs.start(id, null)),
            new Verb("read", TECHNICIAN, EnumSet.of(JobState.UNDER_WAY), null, (t, id) -> t.bench.read(id, good(null))),
            new Verb(
                    "record a phase",
                    TECHNICIAN,
                    EnumSet.of(JobState.UNDER_WAY),
                    null,
                    (t, id) -> t.jobs.recordPhase(id, RecordPhase.of(PhaseKind.LOOK_OVER, null, null))),
            new Verb("note", TECHNICIAN, AT_WORK, null, (t, id) -> t.jobs.addNote(id, "a note", null)),
            new Verb(
                    "photograph",
                    TECHNICIAN,
                    AT_WORK,
                    null,
                    (t, id) -> t.jobs.addPhoto(id, PhotoShows.OTHER, picture(), null)),
            new Verb("use a lot", TECHNICIAN, AT_WORK, null, (t, id) -> t.bench.use(id, new UseLot(t.lot, null, null))),
            new Verb(
                    "answer for",
                    EnumSet.of(Role.MANAGER, Role.DISPATCHER),
                    AT_WORK,
                    null,
                    (t, id) -> t.bench.override(id, Gap.TIMES, "small")),
            new Verb(
                    "pass",
                    TECHNICIAN,
                    EnumSet.of(JobState.UNDER_WAY),
                    JobState.INSPECTED,
                    (t, id) -> t.jobs.inspect(id, TestJobs.passing(t.jobs.job(id)))),
            new Verb(
                    "fail",
                    TECHNICIAN,
                    AT_WORK,
                    JobState.UNDER_WAY,
                    (t, id) -> t.jobs.inspect(id, TestJobs.failing("a bubble"))),
            new Verb(
                    "close",
                    TECHNICIAN,
                    EnumSet.of(JobState.INSPECTED),
                    JobState.CLOSED,
                    (t, id) -> t.jobs.close(id, t.closing(null))),
            new Verb(
                    "abandon",
                    TECHNICIAN,
                    EnumSet.of(JobState.UNDER_WAY),
                    JobState.ABANDONED,
                    (t, id) -> t.jobs.abandon(id, "it ran", null)));

    /** What a record consists of, each to be left out. */
    private enum Proof {
        PHOTO_BEFORE,
        PHOTO_AFTER,
        CONDITIONS,
        PHASES,
        ENOUGH_CURE,
        LOT,
        INSPECTION
    }

    @BeforeAll
    void aJobInEveryState() {
        owner = organisations.fleet();
        other = organisations.repairer();
        organisations.join(owner, other);
        var depot = as(
                Role.MANAGER,
                () -> depots.create(new SaveDepot(
                        "Yard",
                        null,
                        new BigDecimal("51.5"),
                        BigDecimal.ZERO,
                        "Europe/London",
                        "GB",
                        null,
                        null,
                        null,
                        null)));
        vehicle = as(
                Role.MANAGER,
                () -> fleet.create(new SaveVehicle(
                                depot.id(),
                                "QV 77",
                                null,
                                VehicleCategory.M3,
                                18000,
                                SteeringSide.RIGHT,
                                null,
                                null,
                                null))
                        .id());
        lot = lot("L-1", LotKind.RESIN, 300);
        expired = lot("L-2", LotKind.RESIN, -1);
        recalled = lot("L-3", LotKind.FILM, 300);
        // One pair of hands is at one job at a time.
        filler = lot("L-4", LotKind.PIT_FILLER, 300);
        for (var state : JobState.values()) {
            began = started.minus(Duration.ofHours(2L * state.ordinal() + 2));
            inState.put(state, jobIn(state));
        }
        began = started;
        as(Role.DISPATCHER, () -> materials.recall(recalled, "haze"));
    }

    @Test
    void everyVerbInEveryStateIsDoneByThoseWhoMayAndRefusedToAllOthers() {
        var tried = 0;
        for (var verb : VERBS) {
            for (var state : JobState.values()) {
                var id = jobOf(state);
                for (var role : owner.tokens().keySet()) {
                    var what = verb.name() + " in " + state + " as " + role;
                    var answer = attempt(owner, role, verb, id);
                    if (!verb.roles().contains(role)) {
                        assertThat(answer.failure()).as(what).isInstanceOf(AccessDeniedException.class);
                    } else if (!verb.states().contains(state)) {
                        assertThat(answer.failure()).as(what).isInstanceOf(Refused.class);
                    } else {
                        assertThat(answer.failure()).as(what).isNull();
                        assertThat(answer.state()).as(what).isEqualTo(verb.leadsTo() == null ? state : verb.leadsTo());
                    }
                    tried++;
                }
                for (var role : other.tokens().keySet()) {
                    assertThat(attempt(other, role, verb, id).failure())
                            .as(verb.name() + " in " + state + " as a stranger's " + role)
                            .isInstanceOfAny(AccessDeniedException.class, NotFound.class);
                }
            }
        }
        assertThat(tried)
                .isEqualTo(
                        VERBS.size() * JobState.values().length * owner.tokens().size());
    }

    @Test
    void onlyAWholeRecordIsClosed() {
        for (int left = 0; left < 1 << Proof.values().length; left++) {
            var proofs = EnumSet.allOf(Proof.class);
            for (var proof : Proof.values()) {
                if ((left >> proof.ordinal() & 1) == 1) {
                    proofs.remove(proof);
                }
            }
            var closed = takenBack(() -> {
                perform(jobOf(JobState.APPROVED), proofs);
                return closes(jobOf(JobState.APPROVED), null);
            });
            assertThat(closed).as("with %s", proofs).isEqualTo(left == 0);
        }
    }

    @Test
    void expiredAndRecalledLotsAreBlockedAndNobodyCanAnswerForThem() {
        var id = jobOf(JobState.APPROVED);
        var proofs = EnumSet.complementOf(EnumSet.of(Proof.LOT));
        assertThat(takenBack(() -> {
                    perform(id, proofs);
                    return closes(id, expired);
                }))
                .isFalse();
        assertThat(takenBack(() -> {
                    perform(id, proofs);
                    return closes(id, lot);
                }))
                .isTrue();
        for (var blocked : List.of(expired, recalled)) {
            takenBack(() -> {
                perform(id, proofs);
                assertThat(failure(() -> bench.use(id, new UseLot(blocked, null, null))))
                        .isInstanceOf(Invalid.class);
                return false;
            });
        }
        takenBack(() -> {
            perform(id, proofs);
            for (var gap : Gap.values()) {
                assertThat(failure(() -> answerFor(id, gap)) == null)
                        .as("%s", gap)
                        .isEqualTo(gap.overridable());
            }
            return false;
        });
    }

    @Test
    void aLotThatIsRecalledAfterItWentInIsAnsweredForAndNoneIsTakenFromThenOn() {
        var id = jobOf(JobState.APPROVED);
        takenBack(() -> {
            perform(id, EnumSet.allOf(Proof.class));
            answerFor(id, Gap.LOT_RECALLED);
            asDispatcher(() -> materials.recall(lot, "haze"));
            assertThat(closes(id, null)).isFalse();
            assertThat(bench.missing(id)).singleElement().satisfies(gap -> {
                assertThat(gap.gap()).isEqualTo(Gap.LOT_RECALLED);
                assertThat(gap.overridable()).isTrue();
            });
            assertThat(closes(id, null)).as("an answer from before the recall").isFalse();
            assertThat(failure(() -> bench.use(id, new UseLot(lot, null, null))))
                    .isInstanceOf(Invalid.class);
            answerFor(id, Gap.LOT_RECALLED);
            assertThat(closes(id, null)).isTrue();
            return true;
        });
    }

    @Test
    void workIsNotPassedWhileAClockRuns() {
        var id = jobOf(JobState.APPROVED);
        takenBack(() -> {
            perform(id, EnumSet.complementOf(EnumSet.of(Proof.INSPECTION)));
            jobs.recordPhase(id, RecordPhase.of(PhaseKind.LOOK_OVER, null, null));
            assertThat(failure(() -> jobs.inspect(id, TestJobs.passing(jobs.job(id)))))
                    .isInstanceOf(JobRefused.class)
                    .hasMessageContaining("still runs");
            assertThat(failure(() -> jobs.inspect(id, TestJobs.failing("a bubble"))))
                    .isNull();
            return false;
        });
    }

    @Test
    void anAnswerCountsForWhatWasDoneBeforeItOnly() {
        var id = jobOf(JobState.APPROVED);
        var proofs = EnumSet.complementOf(EnumSet.of(Proof.PHASES, Proof.INSPECTION));
        for (var early : List.of(true, false)) {
            assertThat(takenBack(() -> {
                        perform(id, proofs);
                        if (early) {
                            answerFor(id, Gap.PHASES);
                            phase(id, PhaseKind.LOOK_OVER, 60, 1, false);
                        } else {
                            phase(id, PhaseKind.LOOK_OVER, 60, 1, false);
                            answerFor(id, Gap.PHASES);
                        }
                        assertThat(failure(() -> jobs.inspect(id, TestJobs.passing(jobs.job(id)))) == null)
                                .isEqualTo(!early);
                        return closes(id, null);
                    }))
                    .isEqualTo(!early);
        }
    }

    @Test
    void badConditionsKeepTheResinOutUntilSomebodyAnswersForThem() {
        var id = jobOf(JobState.APPROVED);
        takenBack(() -> {
            jobs.start(id, started);
            var wet = new ReadConditions(
                    BigDecimal.TEN, BigDecimal.TEN, BigDecimal.valueOf(95), Light.SHADE, true, false, null, started);
            var reading = bench.read(id, wet);
            assertThat(reading.outcome()).isEqualTo(JobReading.Outcome.WAIT);
            assertThat(reading.objections())
                    .extracting(org.quarterlight.bench.Objection::code)
                    .contains("rain", "wet-glass", "dew", "cold-glass");
            assertThat(failure(() -> jobs.recordPhase(id, RecordPhase.of(PhaseKind.INJECT, null, null))))
                    .isInstanceOf(JobRefused.class)
                    .hasMessageContaining("dew point");
            phase(id, PhaseKind.CLEAN, 1, 1, false);
            assertThat(failure(() -> answerFor(id, Gap.CONDITIONS))).isNull();
            jobs.recordPhase(id, RecordPhase.of(PhaseKind.INJECT, null, null));
            return false;
        });
    }

    @Test
    void goingBackNeedsAReasonAndCuringFromInsideIsRefused() {
        var id = jobOf(JobState.UNDER_WAY);
        takenBack(() -> {
            assertThat(failure(() -> jobs.recordPhase(id, RecordPhase.of(PhaseKind.INJECT, null, null))))
                    .isInstanceOf(Invalid.class)
                    .hasMessageContaining("say why");
            assertThat(failure(() -> jobs.recordPhase(
                            id,
                            new RecordPhase(
                                    PhaseKind.CURE,
                                    null,
                                    null,
                                    null,
                                    null,
                                    "once more",
                                    null,
                                    null,
                                    null,
                                    org.quarterlight.bench.CureTime.Side.INSIDE,
                                    true))))
                    .isInstanceOf(Invalid.class)
                    .hasMessageContaining("96 %");
            return false;
        });
    }

    @Test
    void aDeviceWhoseClockIsAnHourAheadIsCorrectedAndMarked() {
        var id = jobOf(JobState.UNDER_WAY);
        takenBack(() -> {
            var now = Instant.now();
            var ahead = Duration.ofHours(1);
            jobs.recordPhase(
                    id,
                    new RecordPhase(
                            PhaseKind.LOOK_OVER,
                            now.plus(ahead).minusSeconds(300),
                            now.plus(ahead).minusSeconds(60),
                            null,
                            now.plus(ahead),
                            null,
                            null,
                            null,
                            null,
                            null,
                            null));
            var phase = jobs.job(id).phases().getLast();
            assertThat(phase.startedAt())
                    .isCloseTo(now.minusSeconds(300), org.assertj.core.api.Assertions.within(5, ChronoUnit.SECONDS));
            assertThat(phase.deviceOffsetSeconds()).isBetween(3595, 3600);
            return false;
        });
    }

    /** Verbs in any order, with a seed: whatever comes of it, a closed job has every proof. */
    @Test
    void noSequenceOfCallsReachesClosedWithAMissingProof() {
        var id = jobOf(JobState.APPROVED);
        var closed = 0;
        for (int seed = 0; seed < 60; seed++) {
            var random = new Random(seed);
            var left = EnumSet.noneOf(Proof.class);
            if (random.nextBoolean()) {
                left.add(Proof.values()[random.nextInt(Proof.values().length)]);
            }
            if (takenBack(() -> {
                perform(id, EnumSet.complementOf(left));
                for (int step = 0; step < 12; step++) {
                    step(id, random);
                }
                var job = jobs.job(id);
                if (job.state() != JobState.CLOSED) {
                    return false;
                }
                assertProved(job);
                return true;
            })) {
                closed++;
            }
        }
        assertThat(closed).as("sequences that closed the job").isPositive();
    }

    private void step(UUID id, Random random) {
        failure(() -> {
            switch (random.nextInt(9)) {
                case 0 -> jobs.inspect(id, TestJobs.passing(jobs.job(id)));
                case 1 -> jobs.inspect(id, TestJobs.failing("a bubble"));
                case 2, 3 -> closes(id, random.nextBoolean() ? lot : random.nextBoolean() ? expired : null);
                case 4 ->
                    phase(
                            id,
                            PhaseKind.values()[random.nextInt(PhaseKind.values().length)],
                            random.nextInt(100),
                            1,
                            true);
                case 5 ->
                    jobs.addPhoto(id, random.nextBoolean() ? PhotoShows.BEFORE : PhotoShows.AFTER, picture(), null);
                case 6 -> bench.use(id, new UseLot(random.nextBoolean() ? lot : expired, null, null));
                case 7 -> bench.read(id, good(started));
                default -> answerFor(id, Gap.values()[random.nextInt(Gap.values().length)]);
            }
        });
    }

    /** By its own reading of the record, not by the rules that let it pass. */
    private void assertProved(JobView job) {
        assertThat(job.photos()).extracting(JobPhoto::shows).contains(PhotoShows.BEFORE, PhotoShows.AFTER);
        assertThat(job.inspectedAt()).isNotNull();
        assertThat(job.closingNotes()).isNotBlank();
        assertThat(job.endedBy()).isNotBlank();
        assertThat(job.lotNumber()).isEqualTo("L-1");
        var answered = job.overrides().stream().map(JobOverride::gap).toList();
        if (!answered.contains(Gap.PHASES)) {
            var required = EnumSet.complementOf(EnumSet.of(PhaseKind.OPEN));
            assertThat(job.phases()).extracting(JobPhase::kind).containsAll(required);
        }
        if (!answered.contains(Gap.CONDITIONS)) {
            assertThat(job.readings()).extracting(JobReading::outcome).contains(JobReading.Outcome.GO);
        }
        var filled = job.phases().stream()
                .filter(phase -> phase.kind() == PhaseKind.INJECT || phase.kind() == PhaseKind.PIT_FILL)
                .map(JobPhase::startedAt)
                .max(Instant::compareTo)
                .orElse(Instant.EPOCH);
        var cured = job.phases().stream()
                .filter(phase ->
                        phase.kind() == PhaseKind.CURE && !phase.startedAt().isBefore(filled))
                .flatMap(phase -> LongStream.range(
                                phase.startedAt().getEpochSecond(),
                                Objects.requireNonNull(phase.endedAt()).getEpochSecond())
                        .boxed())
                .distinct()
                .count();
        assertThat(cured).isGreaterThanOrEqualTo(600);
    }

    // Doing things

    private UUID jobOf(JobState state) {
        return Objects.requireNonNull(inState.get(state));
    }

    private UUID jobIn(JobState state) {
        var damage =
                as(Role.MANAGER, () -> damages.report(new ReportDamage(vehicle, DamageKind.STAR_BREAK, null, seen())));
        var id = as(
                        Role.MANAGER,
                        () -> jobs.request(new RequestJob(Work.REPAIR, List.of(damage.id()), false, null, began)))
                .id();
        if (state == JobState.DECLINED) {
            as(Role.MANAGER, () -> jobs.decline(id, "sold", null));
        } else if (state != JobState.REQUESTED) {
            as(Role.MANAGER, () -> jobs.approve(id, began));
        }
        if (state == JobState.PLANNED) {
            as(Role.DISPATCHER, () -> jobs.plan(id, LocalDate.now(ZoneOffset.UTC), null));
        }
        if (EnumSet.of(JobState.UNDER_WAY, JobState.INSPECTED, JobState.CLOSED, JobState.ABANDONED)
                .contains(state)) {
            var proofs = EnumSet.allOf(Proof.class);
            if (state == JobState.UNDER_WAY || state == JobState.ABANDONED) {
                proofs.remove(Proof.INSPECTION);
            }
            as(Role.TECHNICIAN, () -> {
                perform(id, proofs);
                return id;
            });
        }
        if (state == JobState.CLOSED) {
            as(Role.TECHNICIAN, () -> jobs.close(id, closing(null)));
        }
        if (state == JobState.ABANDONED) {
            as(Role.TECHNICIAN, () -> jobs.abandon(id, "it ran", null));
        }
        return id;
    }

    /** As a technician: an approved job, begun and recorded with these proofs. */
    private void perform(UUID id, Set<Proof> proofs) {
        jobs.start(id, began);
        if (proofs.contains(Proof.CONDITIONS)) {
            bench.read(id, good(began));
        }
        var minute = 0;
        for (var kind : PhaseKind.values()) {
            if (kind == PhaseKind.CLEAN && !proofs.contains(Proof.PHASES)) {
                continue;
            }
            var length = kind != PhaseKind.CURE ? 2 : proofs.contains(Proof.ENOUGH_CURE) ? 10 : 9;
            minute += kind == PhaseKind.VACUUM ? 1 : 0; // it rests before
            phase(id, kind, minute, length, true);
            minute += length;
        }
        if (proofs.contains(Proof.PHOTO_BEFORE)) {
            jobs.addPhoto(id, PhotoShows.BEFORE, picture(), started);
        }
        if (proofs.contains(Proof.PHOTO_AFTER)) {
            jobs.addPhoto(id, PhotoShows.AFTER, picture(), null);
        }
        if (proofs.contains(Proof.LOT)) {
            bench.use(id, new UseLot(lot, "3 drops", null));
        }
        bench.use(id, new UseLot(filler, null, null));
        if (proofs.contains(Proof.INSPECTION)) {
            var refused = failure(() -> jobs.inspect(id, TestJobs.passing(jobs.job(id))));
            assertThat(refused == null).as("passed with %s", proofs).isEqualTo(proofs.contains(Proof.PHASES));
        }
    }

    private void phase(UUID id, PhaseKind kind, int fromMinute, int minutes, boolean goggles) {
        var from = began.plus(Duration.ofMinutes(fromMinute));
        jobs.recordPhase(
                id,
                new RecordPhase(
                        kind,
                        from,
                        from.plus(Duration.ofMinutes(minutes)),
                        null,
                        Instant.now(),
                        "once more",
                        null,
                        null,
                        null,
                        null,
                        goggles));
    }

    private boolean closes(UUID id, @Nullable UUID resinLot) {
        return failure(() -> jobs.close(id, closing(resinLot))) == null;
    }

    private CloseJob closing(@Nullable UUID resinLot) {
        return new CloseJob(Result.GOOD, "Filled.", resinLot, null, null);
    }

    private static ReadConditions good(@Nullable Instant at) {
        return new ReadConditions(
                BigDecimal.valueOf(15),
                BigDecimal.valueOf(22),
                BigDecimal.valueOf(60),
                Light.SHADE,
                false,
                true,
                null,
                at,
                at == null ? null : Instant.now());
    }

    private UUID lot(String number, LotKind kind, int days) {
        return as(
                        Role.DISPATCHER,
                        () -> materials.create(new SaveLot(
                                number, "thin", LocalDate.now(ZoneOffset.UTC).plusDays(days), null, kind)))
                .id();
    }

    private SeenDamage seen() {
        return new SeenDamage(
                BigDecimal.valueOf(-600 + 150L * reported++),
                BigDecimal.valueOf(420),
                null,
                null,
                BigDecimal.valueOf(18),
                new BigDecimal("0.5"),
                BigDecimal.valueOf(3),
                BigDecimal.valueOf(9),
                Layers.OUTER,
                null,
                Seen.GAUGE,
                null,
                null);
    }

    private record Answer(
            @Nullable Throwable failure, @Nullable JobState state) {}

    private Answer attempt(TestOrganisation who, Role role, Verb verb, UUID id) {
        return TestOrganisations.as(
                who,
                role,
                () -> new TransactionTemplate(transactions).execute(status -> {
                    status.setRollbackOnly();
                    var failure = failure(() -> verb.act().accept(this, id));
                    return new Answer(failure, failure == null ? jobs.job(id).state() : null);
                }));
    }

    /** As a technician, in a transaction that is taken back. */
    private boolean takenBack(java.util.function.Supplier<Boolean> work) {
        return TestOrganisations.as(
                owner,
                Role.TECHNICIAN,
                () -> new TransactionTemplate(transactions).execute(status -> {
                    status.setRollbackOnly();
                    return work.get();
                }));
    }

    private static @Nullable Throwable failure(Runnable work) {
        try {
            work.run();
            return null;
        } catch (RuntimeException e) {
            return e;
        }
    }

    private <T> T as(Role role, java.util.function.Supplier<T> work) {
        return TestOrganisations.as(owner, role, work);
    }

    /** Within the transaction of a technician, which another person cannot enter from outside. */
    private void answerFor(UUID id, Gap gap) {
        asDispatcher(() -> bench.override(id, gap, "seen and sound"));
    }

    private void asDispatcher(Runnable work) {
        var before = SecurityContextHolder.getContext();
        var context = SecurityContextHolder.createEmptyContext();
        context.setAuthentication(new ActingAuthentication(owner.person(Role.DISPATCHER)));
        SecurityContextHolder.setContext(context);
        try {
            work.run();
        } finally {
            SecurityContextHolder.setContext(before);
        }
    }

    private static TestOrganisation nobody() {
        return new TestOrganisation(
                new org.quarterlight.tenancy.TenantId(new UUID(0, 0)),
                org.quarterlight.tenancy.OrganisationKind.FLEET,
                "",
                Map.of(),
                Map.of());
    }

    private static ByteArrayInputStream picture() {
        try (var out = new ByteArrayOutputStream()) {
            var image = new BufferedImage(64, 48, BufferedImage.TYPE_INT_RGB);
            var mark = UUID.randomUUID();
            for (int x = 0; x < 64; x++) {
                image.setRGB(x, 7, (mark.getLeastSignificantBits() >> x & 1) == 1 ? 0xffffff : 0);
            }
            ImageIO.write(image, "png", out);
            return new ByteArrayInputStream(out.toByteArray());
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}

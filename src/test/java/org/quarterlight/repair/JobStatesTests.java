package org.quarterlight.repair;

import static org.assertj.core.api.Assertions.assertThat;

import java.awt.image.BufferedImage;
import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.lang.reflect.Method;
import java.lang.reflect.Modifier;
import java.math.BigDecimal;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.ZoneOffset;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.EnumMap;
import java.util.EnumSet;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Random;
import java.util.Set;
import java.util.UUID;
import java.util.function.BiConsumer;
import java.util.function.UnaryOperator;
import java.util.stream.Collectors;
import java.util.stream.LongStream;
import java.util.stream.Stream;
import javax.imageio.ImageIO;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.quarterlight.QuarterlightTest;
import org.quarterlight.TestOrganisation;
import org.quarterlight.TestOrganisations;
import org.quarterlight.TestPhotos;
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
import org.quarterlight.tenancy.Acting;
import org.quarterlight.tenancy.Role;
import org.quarterlight.web.ActingAuthentication;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.security.access.AccessDeniedException;
import org.springframework.security.access.prepost.PreAuthorize;
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
    private static final Set<Role> PARTIES = EnumSet.of(Role.MANAGER, Role.DISPATCHER, Role.TECHNICIAN);
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

    @Autowired
    private SiteMeasurements measurements;

    @Autowired
    private Lamps lamps;

    @Autowired
    private Methods methods;

    @Autowired
    private TestJobs made;

    @Autowired
    private org.springframework.jdbc.core.simple.JdbcClient jdbc;

    private final Map<Board, Map<JobState, UUID>> inState = new EnumMap<>(Board.class);
    private final Map<UUID, UUID> damageOf = new HashMap<>();
    /** For a job under way another one, of the same kind, whose clock runs. */
    private final Map<UUID, UUID> withARunningPhase = new HashMap<>();

    private final Map<UUID, UUID> running = new HashMap<>();
    private final Map<Board, UUID> lots = new EnumMap<>(Board.class);
    private final Map<Board, UUID> fillers = new EnumMap<>(Board.class);
    private final Instant started = Instant.now().minus(Duration.ofHours(2)).truncatedTo(ChronoUnit.SECONDS);
    private Instant began = started;
    private int performed;
    private TestOrganisation owner = nobody();
    private TestOrganisation other = nobody();
    private UUID vehicle = new UUID(0, 0);
    private UUID lot = new UUID(0, 0);
    private UUID expired = new UUID(0, 0);
    private UUID filler = new UUID(0, 0);
    private UUID forGlass = new UUID(0, 0);
    private UUID withNewGlass = new UUID(0, 0);
    private UUID thick = new UUID(0, 0);
    private UUID dosed = new UUID(0, 0);
    private UUID lamp = new UUID(0, 0);
    private UUID neverRead = new UUID(0, 0);
    private Board building = Board.OWN;
    private UUID recalled = new UUID(0, 0);
    private int reported;

    /** Whose verb it is: the fleet's, or that of whoever performs the job. */
    private enum Side {
        FLEET,
        PERFORMER
    }

    /** By its method's name: who may, in which states, where that leads; null stays. */
    private record Verb(
            String name,
            Side side,
            Set<Role> roles,
            Set<JobState> states,
            UnaryOperator<JobState> leadsTo,
            Set<Board> boards,
            BiConsumer<JobStatesTests, UUID> act) {
        Verb(
                String name,
                Side side,
                Set<Role> roles,
                Set<JobState> states,
                @Nullable JobState leadsTo,
                BiConsumer<JobStatesTests, UUID> act) {
            this(
                    name,
                    side,
                    roles,
                    states,
                    state -> leadsTo == null ? state : leadsTo,
                    EnumSet.allOf(Board.class),
                    act);
        }

        /** Only of these jobs; of others it is refused in every state. */
        Verb of(Board... some) {
            return new Verb(name, side, roles, states, leadsTo, Set.of(some), act);
        }
    }

    /** Jobs in every state: repairs that a fleet performs itself, its replacements, and repairs that are shared. */
    private enum Board {
        OWN,
        GLASS,
        SHARED
    }

    private static final Set<JobState> ALL = EnumSet.allOf(JobState.class);
    private static final Set<Role> EVERYBODY = EnumSet.allOf(Role.class);

    private static final List<Verb> VERBS = List.of(
            new Verb(
                    "approve",
                    Side.FLEET,
                    MANAGER,
                    EnumSet.of(JobState.REQUESTED),
                    JobState.APPROVED,
                    (t, id) -> t.jobs.approve(id, null)),
            new Verb(
                    "decline",
                    Side.FLEET,
                    MANAGER,
                    EnumSet.of(JobState.REQUESTED),
                    JobState.DECLINED,
                    (t, id) -> t.jobs.decline(id, "sold", null)),
            new Verb(
                    "withdraw",
                    Side.FLEET,
                    MANAGER,
                    BEFORE_WORK,
                    JobState.DECLINED,
                    (t, id) -> t.jobs.withdraw(id, "sold", null)),
            new Verb(
                    "share",
                    Side.FLEET,
                    MANAGER,
                    EnumSet.of(JobState.APPROVED),
                    null,
                    (t, id) -> t.jobs.share(id, t.other.id())),
            new Verb(
                    "payer",
                    Side.FLEET,
                    MANAGER,
                    EnumSet.complementOf(EnumSet.of(JobState.DECLINED)),
                    null,
                    (t, id) -> t.jobs.payer(id, new SayPayer(Payer.FLEET, null, "a slip"))),
            new Verb(
                            "request",
                            Side.FLEET,
                            MANAGER,
                            EnumSet.of(JobState.CLOSED),
                            null,
                            (t, id) -> t.jobs.request(new RequestJob(
                                    Work.REPAIR, List.of(Objects.requireNonNull(t.damageOf.get(id))), false, id, null)))
                    .of(Board.OWN, Board.SHARED),
            new Verb("assign", Side.PERFORMER, DISPATCHER, PLACEABLE, null, (t, id) -> t.jobs.assign(id, null)),
            new Verb(
                            "handBack",
                            Side.PERFORMER,
                            DISPATCHER,
                            PLACEABLE,
                            JobState.APPROVED,
                            (t, id) -> t.jobs.handBack(id, "no resin"))
                    .of(Board.SHARED),
            // The right to plan is asked where days are kept.
            new Verb(
                    "plan",
                    Side.PERFORMER,
                    EVERYBODY,
                    PLACEABLE,
                    JobState.PLANNED,
                    (t, id) -> t.jobs.plan(id, LocalDate.now(ZoneOffset.UTC), null)),
            new Verb(
                    "takeOff",
                    Side.PERFORMER,
                    EVERYBODY,
                    ALL,
                    state -> state == JobState.PLANNED ? JobState.APPROVED : state,
                    EnumSet.allOf(Board.class),
                    (t, id) -> t.jobs.takeOff(id)),
            new Verb(
                    "start",
                    Side.PERFORMER,
                    TECHNICIAN,
                    PLACEABLE,
                    JobState.UNDER_WAY,
                    (t, id) -> t.jobs.start(id, null)),
            new Verb(
                    "read",
                    Side.PERFORMER,
                    TECHNICIAN,
                    EnumSet.of(JobState.UNDER_WAY),
                    null,
                    (t, id) -> t.bench.read(id, good(null))),
            new Verb(
                    "recordPhase",
                    Side.PERFORMER,
                    TECHNICIAN,
                    EnumSet.of(JobState.UNDER_WAY),
                    null,
                    (t, id) -> t.jobs.recordPhase(id, RecordPhase.of(PhaseKind.LOOK_OVER, null, null))),
            new Verb(
                    "endPhase",
                    Side.PERFORMER,
                    TECHNICIAN,
                    EnumSet.of(JobState.UNDER_WAY),
                    null,
                    (t, id) -> t.jobs.endPhase(
                            t.withARunningPhase.getOrDefault(id, id),
                            Objects.requireNonNullElse(t.running.get(id), id),
                            EndPhase.NOW)),
            new Verb(
                    "measure",
                    Side.PERFORMER,
                    TECHNICIAN,
                    AT_WORK,
                    null,
                    (t, id) -> t.measurements.measure(
                            id,
                            new MeasureOnSite(
                                    Objects.requireNonNull(t.damageOf.get(id)),
                                    BigDecimal.valueOf(19),
                                    null,
                                    null,
                                    null,
                                    null,
                                    null,
                                    null))),
            new Verb(
                    "addNote",
                    Side.PERFORMER,
                    TECHNICIAN,
                    AT_WORK,
                    null,
                    (t, id) -> t.jobs.addNote(id, "a note", null)),
            new Verb(
                    "addPhoto",
                    Side.PERFORMER,
                    TECHNICIAN,
                    AT_WORK,
                    null,
                    (t, id) -> t.jobs.addPhoto(id, PhotoShows.OTHER, picture(), null)),
            new Verb(
                    "use",
                    Side.PERFORMER,
                    TECHNICIAN,
                    AT_WORK,
                    null,
                    (t, id) -> t.bench.use(id, new UseLot(t.lotOf(id), null, null))),
            // None of these came back.
            new Verb(
                    "contest",
                    Side.PERFORMER,
                    DISPATCHER,
                    EnumSet.noneOf(JobState.class),
                    null,
                    (t, id) -> t.jobs.contest(id, "the crack is another")),
            new Verb(
                    "override",
                    Side.PERFORMER,
                    EnumSet.of(Role.MANAGER, Role.DISPATCHER),
                    AT_WORK,
                    null,
                    (t, id) -> t.bench.override(id, Gap.TIMES, "small")),
            new Verb(
                            "calibrate",
                            Side.PERFORMER,
                            TECHNICIAN,
                            AT_WORK,
                            null,
                            (t, id) -> t.bench.calibrate(id, calibration(false)))
                    .of(Board.GLASS),
            new Verb(
                    "inspect",
                    Side.PERFORMER,
                    TECHNICIAN,
                    EnumSet.of(JobState.UNDER_WAY),
                    JobState.INSPECTED,
                    (t, id) -> t.jobs.inspect(id, t.passing(id, null))),
            new Verb(
                    "inspect",
                    Side.PERFORMER,
                    TECHNICIAN,
                    AT_WORK,
                    JobState.UNDER_WAY,
                    (t, id) -> t.jobs.inspect(id, TestJobs.failing("a bubble"))),
            new Verb(
                    "close",
                    Side.PERFORMER,
                    TECHNICIAN,
                    EnumSet.of(JobState.INSPECTED),
                    JobState.CLOSED,
                    (t, id) -> t.jobs.close(id, t.closing(id, null))),
            new Verb(
                    "abandon",
                    Side.PERFORMER,
                    TECHNICIAN,
                    EnumSet.of(JobState.UNDER_WAY),
                    JobState.ABANDONED,
                    (t, id) -> t.jobs.abandon(id, "it ran", null)));

    /** What only looks, in whatever state: who may. */
    private static final Map<String, Set<Role>> LOOKS = Map.of(
            "job", PARTIES,
            "list", PARTIES,
            "count", PARTIES,
            "missing", PARTIES,
            "sun", PARTIES,
            "photo", PARTIES,
            "briefPhoto", PARTIES,
            "performed", EnumSet.of(Role.DISPATCHER, Role.TECHNICIAN),
            "choices", MANAGER,
            "atWork", TECHNICIAN);

    private void look(String name, UUID id) {
        switch (name) {
            case "job" -> jobs.job(id);
            case "list" -> jobs.list(JobFilter.ofTechnician(id, true), org.quarterlight.web.SliceRequest.first());
            case "count" -> jobs.count(JobFilter.ofTechnician(id, true));
            case "missing" -> bench.missing(id);
            case "sun" -> bench.sun(id, 90, null);
            case "photo" -> jobs.photo(id, id, org.quarterlight.photo.PhotoSize.SMALL);
            case "briefPhoto" -> jobs.briefPhoto(id, "0", org.quarterlight.photo.PhotoSize.SMALL);
            case "choices" -> jobs.choices(id);
            case "performed" -> jobs.performed(List.of(id));
            case "atWork" -> jobs.atWork(id);
            default -> throw new IllegalArgumentException(name);
        }
    }

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
        vehicle = vehicle(depot.id(), "QV 77");
        forGlass = vehicle(depot.id(), "QV 78");
        withNewGlass = vehicle(depot.id(), "QV 79");
        lot = lot(owner, "L-1", LotKind.RESIN, 300);
        expired = lot(owner, "L-2", LotKind.RESIN, -1);
        recalled = lot(owner, "L-3", LotKind.FILM, 300);
        filler = lot(owner, "L-4", LotKind.PIT_FILLER, 300);
        thick = lot(owner, "L-5", "thick", LotKind.RESIN, 300);
        lots.put(Board.OWN, lot);
        fillers.put(Board.OWN, filler);
        lots.put(Board.GLASS, lot(owner, "L-6", LotKind.ADHESIVE, 300));
        lots.put(Board.SHARED, lot(other, "S-1", LotKind.RESIN, 300));
        fillers.put(Board.SHARED, lot(other, "S-2", LotKind.PIT_FILLER, 300));
        dosed = as(Role.DISPATCHER, () -> methods.create(dosed())).id();
        lamp = as(Role.DISPATCHER, () -> {
            var made = lamps.create(new SaveLamp("Lamp 1", BigDecimal.valueOf(365), null, null));
            lamps.read(
                    made.id(),
                    new ReadLamp(
                            BigDecimal.TEN,
                            BigDecimal.valueOf(30),
                            LocalDate.now(ZoneOffset.UTC).minusDays(1),
                            null));
            return made.id();
        });
        neverRead = as(Role.DISPATCHER, () -> lamps.create(new SaveLamp("Lamp 2", BigDecimal.valueOf(365), null, null)))
                .id();
        for (var board : Board.values()) {
            var jobsOfBoard = new EnumMap<JobState, UUID>(JobState.class);
            inState.put(board, jobsOfBoard);
            for (var state : JobState.values()) {
                if (board == Board.SHARED && state == JobState.REQUESTED) {
                    continue; // what is shared was approved
                }
                jobsOfBoard.put(state, jobIn(board, state));
            }
            var underWay = Objects.requireNonNull(jobsOfBoard.get(JobState.UNDER_WAY));
            var second = jobIn(board, JobState.UNDER_WAY);
            var phase = TestOrganisations.as(
                    performer(board),
                    Role.TECHNICIAN,
                    // Under the lamp, so that hands are free for the other job.
                    () -> jobs.recordPhase(
                                    second,
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
                                            null,
                                            true))
                            .phases()
                            .getLast()
                            .id());
            withARunningPhase.put(underWay, second);
            running.put(underWay, phase);
        }
        began = started;
        as(Role.DISPATCHER, () -> materials.recall(recalled, "haze"));
        made.settle();
    }

    @Test
    void everyVerbInEveryStateIsDoneByThoseWhoMayAndRefusedToAllOthers() {
        for (var board : Board.values()) {
            for (var verb : VERBS) {
                Objects.requireNonNull(inState.get(board)).forEach((state, id) -> {
                    for (var who : List.of(owner, other)) {
                        for (var role : who.tokens().keySet()) {
                            var what = verb.name() + " of " + board + " in " + state + " as "
                                    + (who == owner ? "the fleet's " : "the repairer's ") + role;
                            check(board, verb, state, attempt(who, role, verb, id), who, role, what);
                        }
                    }
                });
            }
        }
    }

    private void check(
            Board board, Verb verb, JobState state, Answer answer, TestOrganisation who, Role role, String what) {
        var whose = verb.side() == Side.FLEET ? owner : performer(board);
        if (who != whose || !verb.roles().contains(role)) {
            assertThat(answer.failure())
                    .as(what)
                    .isInstanceOfAny(AccessDeniedException.class, NotFound.class, JobRefused.class)
                    .satisfies(failure -> {
                        if (failure instanceof JobRefused) {
                            // Before whose job it is: it cannot be handed back by anybody.
                            assertThat(verb.name()).isEqualTo("handBack");
                        }
                    });
        } else if (!verb.boards().contains(board) || !verb.states().contains(state)) {
            assertThat(answer.failure()).as(what).isInstanceOfAny(Refused.class, Invalid.class);
        } else {
            assertThat(answer.failure()).as(what).isNull();
            assertThat(answer.state()).as(what).isEqualTo(verb.leadsTo().apply(state));
        }
    }

    @Test
    void whoeverMayLooksInEveryStateAndNobodyElse() {
        for (var entry : LOOKS.entrySet()) {
            Objects.requireNonNull(inState.get(Board.OWN)).forEach((state, id) -> {
                for (var role : owner.tokens().keySet()) {
                    var failure = TestOrganisations.as(owner, role, () -> failure(() -> look(entry.getKey(), id)));
                    var what = entry.getKey() + " in " + state + " as " + role;
                    if (entry.getValue().contains(role)) {
                        assertThat(failure == null || failure instanceof NotFound)
                                .as(what)
                                .isTrue();
                    } else {
                        assertThat(failure).as(what).isInstanceOf(AccessDeniedException.class);
                    }
                }
            });
        }
    }

    @Test
    void everyMethodThatAsksForARightStandsInTheTable() {
        var asked = Stream.of(RepairJobs.class, Bench.class, SiteMeasurements.class)
                .flatMap(service -> Stream.of(service.getDeclaredMethods()))
                .filter(method -> method.isAnnotationPresent(PreAuthorize.class))
                .filter(method -> Modifier.isPublic(method.getModifiers()))
                .map(Method::getName)
                .collect(Collectors.toSet());
        var tried = VERBS.stream().map(Verb::name).collect(Collectors.toSet());
        tried.addAll(LOOKS.keySet());
        assertThat(asked).isSubsetOf(tried);
        assertThat(tried)
                .as("beside what asks for its right elsewhere")
                .isEqualTo(Stream.concat(asked.stream(), Stream.of("plan", "takeOff"))
                        .collect(Collectors.toSet()));
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
            assertThat(failure(() -> jobs.inspect(id, passing(id, null))))
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
                        assertThat(failure(() -> jobs.inspect(id, passing(id, null))) == null)
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

    /**
     * Records of three kinds, told in any order, at other times than they should be, with parts left out and others added,
     * then verbs in any order. Whatever comes of it, a closed job has every proof, and every gap is met on the way.
     */
    @Test
    void noSequenceOfCallsReachesClosedWithAMissingProof() {
        var closed = EnumSet.noneOf(Kind.class);
        var met = EnumSet.noneOf(Gap.class);
        for (int seed = 0; seed < 120; seed++) {
            var random = new Random(seed);
            var which = "seed " + seed;
            var kind = Kind.values()[seed % Kind.values().length];
            var id = jobOf(kind == Kind.GLASS ? Board.GLASS : Board.OWN, JobState.APPROVED);
            if (takenBack(() -> {
                made.taken(id, started);
                failure(() -> jobs.start(id, kind == Kind.DOSE ? dosed : null, started, Instant.now()));
                var deeds = deeds(id, kind, random);
                if (random.nextBoolean()) {
                    Collections.shuffle(deeds, random);
                }
                deeds.forEach(deed -> failure(deed));
                met.addAll(gaps(id));
                failure(() -> jobs.inspect(id, passing(id, null)));
                met.addAll(gaps(id));
                for (int step = 0; step < 8; step++) {
                    met.addAll(step(id, random));
                }
                var job = jobs.job(id);
                if (job.state() != JobState.CLOSED) {
                    return false;
                }
                assertProved(job, kind, which);
                return true;
            })) {
                closed.add(kind);
            }
        }
        assertThat(closed).as("kinds of which some were closed").containsExactlyInAnyOrder(Kind.values());
        // A lamp no longer starts without: this one stands in records from before.
        assertThat(met).isEqualTo(EnumSet.complementOf(EnumSet.of(Gap.GOGGLES)));
    }

    private enum Kind {
        GENERIC,
        DOSE,
        GLASS
    }

    private Set<Gap> gaps(UUID id) {
        return bench.missing(id).stream().map(ClosingGap::gap).collect(Collectors.toSet());
    }

    /** All that a record consists of, most of it right. */
    private List<Runnable> deeds(UUID id, Kind kind, Random random) {
        var deeds = new ArrayList<Runnable>();
        deeds.add(() -> bench.read(id, good(started)));
        var minute = 0;
        var without = random.nextInt(3) == 0 ? PhaseKind.values()[random.nextInt(PhaseKind.values().length)] : null;
        var sloppy = random.nextInt(4) == 0;
        for (var phase : kind == Kind.GLASS ? List.<PhaseKind>of() : List.of(PhaseKind.values())) {
            if (phase == without
                    || kind == Kind.DOSE
                            && !EnumSet.of(PhaseKind.CLEAN, PhaseKind.INJECT, PhaseKind.CURE)
                                    .contains(phase)) {
                continue;
            }
            var length = (phase == PhaseKind.CURE ? kind == Kind.DOSE ? 20 : 10 : 2)
                    - (sloppy && random.nextInt(3) == 0 ? 1 : 0);
            minute += phase == PhaseKind.VACUUM ? 1 : 0; // it rests before
            var from = started.plus(Duration.ofMinutes(minute));
            var typed = sloppy && random.nextInt(6) == 0;
            var goggles = random.nextInt(8) > 0;
            var burning = random.nextInt(6) == 0 ? neverRead : lamp;
            deeds.add(() -> jobs.recordPhase(
                    id,
                    new RecordPhase(
                            phase,
                            from,
                            from.plus(Duration.ofMinutes(length)),
                            null,
                            typed ? null : Instant.now(),
                            "once more",
                            null,
                            kind == Kind.DOSE && phase == PhaseKind.CURE ? burning : null,
                            null,
                            null,
                            goggles)));
            minute += length;
        }
        if (random.nextInt(5) > 0) {
            var late = random.nextInt(5) == 0;
            deeds.add(
                    () -> jobs.addPhoto(id, PhotoShows.BEFORE, picture(), null, late ? null : started, Instant.now()));
        }
        if (random.nextInt(5) > 0) {
            var early = random.nextInt(5) == 0;
            deeds.add(
                    () -> jobs.addPhoto(id, PhotoShows.AFTER, picture(), null, early ? started : null, Instant.now()));
        }
        if (kind != Kind.GLASS) {
            var resin = random.nextInt(5) == 0 ? thick : lot;
            if (random.nextInt(6) > 0) {
                deeds.add(() -> bench.use(id, new UseLot(resin, null, null)));
            }
            if (random.nextInt(6) > 0) {
                deeds.add(() -> bench.use(id, new UseLot(filler, null, null)));
            }
        } else if (random.nextInt(3) > 0) {
            deeds.add(() -> bench.calibrate(id, calibration(true)));
        }
        if (random.nextInt(3) == 0) {
            var at = started.plus(Duration.ofMinutes(random.nextInt(30)));
            deeds.add(() -> bench.read(id, random.nextBoolean() ? wet(at) : good(at)));
        }
        if (random.nextInt(6) == 0) {
            deeds.add(() -> jobs.recordPhase(id, RecordPhase.of(PhaseKind.FINISH, null, null)));
        }
        return deeds;
    }

    private Set<Gap> step(UUID id, Random random) {
        var at = started.plus(Duration.ofMinutes(random.nextInt(120)));
        var failed = failure(() -> {
            switch (random.nextInt(14)) {
                case 0, 1 -> jobs.inspect(id, passing(id, null));
                case 2 -> jobs.inspect(id, TestJobs.failing("a bubble"));
                case 3, 4, 5 -> jobs.close(id, closing(id, random.nextBoolean() ? lot : null));
                case 6 ->
                    jobs.close(
                            id,
                            new CloseJob(
                                    random.nextBoolean() ? null : Result.values()[random.nextInt(3)],
                                    random.nextBoolean() ? "" : "Done.",
                                    random.nextBoolean() ? expired : null,
                                    null,
                                    random.nextBoolean() ? at : null));
                case 7 ->
                    phase(
                            id,
                            PhaseKind.values()[random.nextInt(PhaseKind.values().length)],
                            random.nextInt(100),
                            1,
                            true);
                case 8 -> jobs.addPhoto(id, random.nextBoolean() ? PhotoShows.BEFORE : PhotoShows.AFTER, picture(), at);
                case 9 -> bench.use(id, new UseLot(random.nextBoolean() ? lot : expired, null, null));
                case 10 -> bench.read(id, random.nextBoolean() ? good(at) : wet(at));
                case 11 -> {
                    if (random.nextInt(4) == 0) {
                        asDispatcher(() -> materials.recall(lot, "haze"));
                    } else {
                        bench.calibrate(id, calibration(random.nextBoolean()));
                    }
                }
                default ->
                    answerFor(
                            id,
                            gaps(id).stream()
                                    .filter(Gap::overridable)
                                    .skip(random.nextInt(2))
                                    .findFirst()
                                    .orElse(Gap.TIMES));
            }
        });
        var met = EnumSet.noneOf(Gap.class);
        if (failed instanceof ClosingBlocked blocked) {
            blocked.gaps().forEach(gap -> met.add(gap.gap()));
        }
        met.addAll(gaps(id));
        return met;
    }

    /** By its own reading of the record, not by the rules that let it pass. */
    private void assertProved(JobView job, Kind kind, String which) {
        var before = photos(job, PhotoShows.BEFORE);
        var after = photos(job, PhotoShows.AFTER);
        assertThat(before).as(which).isNotEmpty();
        assertThat(after).as(which).isNotEmpty();
        assertThat(before.stream().map(JobPhoto::sha256))
                .doesNotContainAnyElementsOf(
                        after.stream().map(JobPhoto::sha256).toList());
        var inspected = Objects.requireNonNull(job.inspectedAt());
        assertThat(job.closingNotes()).as(which).isNotBlank();
        assertThat(job.endedBy()).isNotBlank();
        assertThat(job.startedAt()).isAfterOrEqualTo(job.approvedAt());
        assertThat(job.endedAt()).isAfterOrEqualTo(inspected);
        assertThat(job.result() == Result.REPLACED).isEqualTo(kind == Kind.GLASS);
        Instant until = Instant.MIN;
        for (var phase : job.phases()) {
            var ended = Objects.requireNonNull(phase.endedAt(), which);
            assertThat(phase.startedAt()).as("one at a time, " + which).isAfterOrEqualTo(until);
            assertThat(inspected).as(which).isAfterOrEqualTo(ended);
            until = ended;
        }
        if (kind == Kind.GLASS) {
            assertThat(job.calibrations().getLast().passed()).as(which).isTrue();
            return;
        }
        var resins = materials.usedIn(job.id());
        assertThat(resins)
                .extracting(LotUse::lotNumber)
                .as(which)
                .containsAnyOf("L-1", "L-5")
                .doesNotContain("L-2");
        if (phases(job, PhaseKind.PIT_FILL).findAny().isPresent()) {
            assertThat(resins).extracting(LotUse::lotNumber).as(which).contains("L-4");
        }
        var answered = job.overrides().stream().map(JobOverride::gap).toList();
        if (!answered.contains(Gap.PHASES)) {
            var required = kind == Kind.DOSE
                    ? EnumSet.of(PhaseKind.CLEAN, PhaseKind.INJECT, PhaseKind.CURE)
                    : EnumSet.complementOf(EnumSet.of(PhaseKind.OPEN));
            assertThat(job.phases()).extracting(JobPhase::kind).as(which).containsAll(required);
        }
        var filled = phases(job, PhaseKind.INJECT, PhaseKind.PIT_FILL).toList();
        if (!answered.contains(Gap.PHOTO_ORDER)) {
            phases(job, PhaseKind.INJECT)
                    .forEach(inject -> assertThat(before)
                            .as(which)
                            .anySatisfy(photo -> assertThat(photo.addedAt()).isBeforeOrEqualTo(inject.startedAt())));
        }
        var cures = phases(job, PhaseKind.CURE).toList();
        cures.forEach(cure -> {
            assertThat(cure.goggles()).isTrue();
            assertThat(after)
                    .as(which)
                    .anySatisfy(photo -> assertThat(photo.addedAt()).isAfterOrEqualTo(cure.endedAt()));
        });
        Stream.concat(filled.stream(), cures.stream()).forEach(phase -> assertWeather(job, phase, which));
        assertCured(job, kind, filled, cures, answered, which);
        var late = Stream.of(
                        job.phases().stream().map(JobPhase::toldLate),
                        job.readings().stream().map(JobReading::toldLate),
                        resins.stream().map(LotUse::toldLate),
                        Stream.of(job.startToldLate(), job.inspectionToldLate()),
                        job.photos().stream().map(JobPhoto::toldLate))
                .flatMap(each -> each)
                .anyMatch(Objects::nonNull);
        if (late) {
            assertThat(job.overrides()).as(which).anySatisfy(override -> {
                assertThat(override.gap()).isEqualTo(Gap.LATE);
                assertThat(override.madeBy()).isNotEqualTo(job.technicianName());
            });
        }
    }

    private void assertCured(
            JobView job, Kind kind, List<JobPhase> filled, List<JobPhase> cures, List<Gap> answered, String which) {
        var last =
                filled.stream().map(JobPhase::startedAt).max(Instant::compareTo).orElse(Instant.EPOCH);
        var after =
                cures.stream().filter(cure -> !cure.startedAt().isBefore(last)).toList();
        // 12 J/cm² by 10 mW/cm² are 1200 s.
        var asked = kind == Kind.DOSE && !answered.contains(Gap.LAMP) ? 1200 : 600;
        assertThat(after.stream()
                        .flatMap(cure -> LongStream.range(
                                        cure.startedAt().getEpochSecond(),
                                        Objects.requireNonNull(cure.endedAt()).getEpochSecond())
                                .boxed())
                        .distinct()
                        .count())
                .as(which + " of " + job.number())
                .isGreaterThanOrEqualTo(asked);
    }

    /** What was read last before it is an hour old at most and says go, or somebody answered once all that was known. */
    private static void assertWeather(JobView job, JobPhase phase, String which) {
        var before = job.readings().stream()
                .filter(reading -> !reading.readAt().isAfter(phase.startedAt()))
                .reduce((first, second) -> second)
                .orElse(null);
        var fresh = before != null && !before.readAt().plus(Duration.ofHours(1)).isBefore(phase.startedAt());
        var last = fresh ? before : null;
        var stops = job.readings().stream()
                .filter(reading -> reading.outcome() == JobReading.Outcome.STOP)
                .filter(reading -> reading.readAt().isAfter(phase.startedAt())
                        && !reading.readAt().isAfter(phase.endedAt()))
                .toList();
        if (last != null && last.outcome() == JobReading.Outcome.GO && stops.isEmpty()) {
            return;
        }
        var known = last != null ? last.arrivedAt() : phase.arrivedAt();
        assertThat(job.overrides())
                .as("%s: answered for %s", which, phase.kind())
                .anySatisfy(override -> {
                    assertThat(override.gap()).isEqualTo(Gap.CONDITIONS);
                    assertThat(override.madeAt()).isAfterOrEqualTo(known);
                    stops.forEach(stop -> assertThat(override.madeAt()).isAfterOrEqualTo(stop.arrivedAt()));
                });
    }

    private static List<JobPhoto> photos(JobView job, PhotoShows shows) {
        return job.photos().stream().filter(photo -> photo.shows() == shows).toList();
    }

    private static Stream<JobPhase> phases(JobView job, PhaseKind... kinds) {
        return job.phases().stream().filter(phase -> List.of(kinds).contains(phase.kind()));
    }

    /** Posted first of all: the phase; then a stop from just before it, and then a go from after it. */
    @Test
    void aStopAtTheTimeOfTheResinIsNotHiddenByAGoAfterIt() {
        var id = jobOf(JobState.APPROVED);
        takenBack(() -> {
            perform(id, EnumSet.complementOf(EnumSet.of(Proof.INSPECTION)));
            var filled = jobs.job(id).phases().stream()
                    .filter(phase -> phase.kind() == PhaseKind.INJECT)
                    .findFirst()
                    .orElseThrow()
                    .startedAt();
            bench.read(id, good(filled.plusSeconds(60)));
            assertThat(gaps(id)).doesNotContain(Gap.CONDITIONS);
            answerFor(id, Gap.CONDITIONS);
            bench.read(id, wet(filled.minusSeconds(30)));
            assertThat(gaps(id)).as("an answer from before it arrived").contains(Gap.CONDITIONS);
            answerFor(id, Gap.CONDITIONS);
            assertThat(gaps(id)).doesNotContain(Gap.CONDITIONS);
            return false;
        });
    }

    /** The bound of an hour is ours. */
    @Test
    void aReadingHoldsForAnHour() {
        var id = jobOf(JobState.APPROVED);
        for (var minutes : List.of(60, 61)) {
            takenBack(() -> {
                jobs.start(id, started);
                bench.read(id, good(started));
                phase(id, PhaseKind.INJECT, minutes, 1, true);
                assertThat(gaps(id).contains(Gap.CONDITIONS)).isEqualTo(minutes > 60);
                return false;
            });
        }
    }

    /** The bounds of a quarter of an hour and of twelve hours are ours. */
    @Test
    void whatIsToldLateIsAnsweredForBySomebodyElse() {
        var id = jobOf(JobState.APPROVED);
        takenBack(() -> {
            perform(id, EnumSet.allOf(Proof.class));
            assertThat(gaps(id)).isEmpty();
            jobs.inspect(id, TestJobs.failing("once more"));
            var typed = Instant.now().minus(Duration.ofMinutes(20));
            jobs.recordPhase(id, RecordPhase.of(PhaseKind.LOOK_OVER, typed, typed.plusSeconds(60)));
            jobs.inspect(id, passing(id, null));
            assertThat(bench.missing(id)).singleElement().satisfies(gap -> {
                assertThat(gap.gap()).isEqualTo(Gap.LATE);
                assertThat(gap.sentence()).contains("look over told 20 min later");
            });
            answerFor(id, Gap.LATE);
            assertThat(closes(id, null)).isTrue();
            return false;
        });
    }

    @Test
    void aDevicesClockAloneMakesNothingOfHoursAgoBelievable() {
        var id = jobOf(JobState.APPROVED);
        for (var along : List.of(true, false)) {
            takenBack(() -> {
                if (along) {
                    made.taken(id, started);
                }
                jobs.start(id, null, started, Instant.now());
                bench.read(id, good(started));
                phase(id, PhaseKind.CLEAN, 1, 1, true);
                jobs.addPhoto(id, PhotoShows.BEFORE, picture(), null, started, Instant.now());
                var late = bench.missing(id).stream()
                        .filter(gap -> gap.gap() == Gap.LATE)
                        .toList();
                if (along) {
                    assertThat(late).isEmpty();
                } else {
                    assertThat(late)
                            .singleElement()
                            .extracting(ClosingGap::sentence)
                            .asString()
                            .contains("the start told", "clean told", "air and glass told", "photo from before told");
                }
                return false;
            });
        }
    }

    @Test
    void whoeverToldOfTheRecordDoesNotAnswerForWhenItWasTold() {
        var id = jobOf(JobState.APPROVED);
        takenBack(() -> {
            jobs.start(id, null, started, null);
            var technician = owner.person(Role.TECHNICIAN);
            var both = new Acting(
                    technician.organisation(),
                    technician.kind(),
                    technician.organisationName(),
                    technician.pattern(),
                    technician.person(),
                    technician.name(),
                    EnumSet.of(Role.TECHNICIAN, Role.DISPATCHER),
                    null);
            as(
                    both,
                    () -> assertThat(failure(() -> bench.override(id, Gap.LATE, "I was there")))
                            .isInstanceOf(JobRefused.class)
                            .hasMessageContaining("told some of this record yourself"));
            as(
                    both,
                    () -> assertThat(failure(() -> bench.override(id, Gap.TIMES, "a very small break")))
                            .isNull());
            assertThat(gaps(id)).contains(Gap.LATE);
            answerFor(id, Gap.LATE);
            assertThat(gaps(id)).doesNotContain(Gap.LATE);
            return false;
        });
    }

    @Test
    void aPhotoThatTheCameraTookLongBeforeItCameIsLate() {
        var id = jobOf(JobState.UNDER_WAY);
        takenBack(() -> {
            var hourAgo = LocalDateTime.now(ZoneOffset.UTC).minusHours(1).truncatedTo(ChronoUnit.SECONDS);
            jobs.addPhoto(id, PhotoShows.AFTER, new ByteArrayInputStream(TestPhotos.taken(hourAgo, "+00:00")), null);
            assertThat(jobs.job(id).photos().getLast().takenAt()).isEqualTo(hourAgo.toInstant(ZoneOffset.UTC));
            assertThat(bench.missing(id))
                    .anySatisfy(gap -> assertThat(gap.sentence()).contains("photo from after told 60 min later"));
            return false;
        });
    }

    @Test
    void aDevicesClockMakesNoOldPhotoNew() {
        var id = jobOf(JobState.APPROVED);
        takenBack(() -> {
            jobs.start(id, null, started);
            var hourAgo = LocalDateTime.now(ZoneOffset.UTC).minusHours(1).truncatedTo(ChronoUnit.SECONDS);
            var photo = new ByteArrayInputStream(TestPhotos.taken(hourAgo, "+00:00"));
            jobs.addPhoto(id, PhotoShows.AFTER, photo, null, Instant.now(), Instant.now());
            assertThat(bench.missing(id))
                    .anySatisfy(gap -> assertThat(gap.sentence()).contains("photo from after told 60 min later"));
            return false;
        });
    }

    @Test
    void whatWasToldMeanwhileOfAJobTakenAlongShowsThatThereWasANetwork() {
        var id = jobOf(JobState.APPROVED);
        var beside = jobOf(JobState.UNDER_WAY);
        for (var meanwhile : List.of(false, true)) {
            takenBack(() -> {
                made.taken(List.of(id, beside), started);
                if (meanwhile) {
                    bench.use(beside, new UseLot(lot, null, null));
                    made.lotsTold(beside, Instant.now().minus(Duration.ofHours(1)));
                }
                jobs.start(id, null, started, Instant.now());
                assertThat(gaps(id).contains(Gap.LATE)).isEqualTo(meanwhile);
                return false;
            });
        }
    }

    @Test
    void aLotThatWasToldMeanwhileShowsThatThereWasANetwork() {
        var id = jobOf(JobState.APPROVED);
        for (var meanwhile : List.of(false, true)) {
            takenBack(() -> {
                made.taken(id, started);
                jobs.start(id, null, started, Instant.now());
                if (meanwhile) {
                    bench.use(id, new UseLot(lot, null, null));
                    made.lotsTold(id, Instant.now().minus(Duration.ofHours(1)));
                }
                bench.read(id, good(started));
                assertThat(gaps(id).contains(Gap.LATE)).isEqualTo(meanwhile);
                return false;
            });
        }
    }

    @Test
    void whatALampBurnsMovesNoVersionAndIsNotLostInAFormThatWasOpen() {
        var id = jobOf(JobState.APPROVED);
        takenBack(() -> {
            var open = lamps.lamp(lamp);
            jobs.start(id, dosed, started);
            jobs.recordPhase(
                    id,
                    new RecordPhase(
                            PhaseKind.CURE,
                            started,
                            started.plusSeconds(1800),
                            null,
                            Instant.now(),
                            null,
                            null,
                            lamp,
                            null,
                            null,
                            true));
            asDispatcher(() -> {
                var kept = lamps.change(lamp, saved(open, open.hours()), open.version());
                assertThat(kept.hours().subtract(open.hours())).isEqualByComparingTo("0.5");
                var set = lamps.change(lamp, saved(kept, BigDecimal.ZERO), kept.version());
                assertThat(set.hours()).isZero();
            });
            return false;
        });
    }

    private static SaveLamp saved(LampView lamp, BigDecimal hours) {
        return new SaveLamp(lamp.name(), lamp.wavelengthNm(), hours, lamp.readEveryDays());
    }

    @Test
    void toldTimesKeepTheirOrder() {
        var id = jobOf(JobState.APPROVED);
        takenBack(() -> {
            assertThat(failure(() -> jobs.start(id, started.minus(Duration.ofHours(1)))))
                    .isInstanceOf(Invalid.class)
                    .hasMessageContaining("not approved then");
            perform(id, EnumSet.complementOf(EnumSet.of(Proof.INSPECTION)));
            assertThat(failure(() -> jobs.inspect(id, passing(id, started.plus(Duration.ofMinutes(5))))))
                    .isInstanceOf(Invalid.class)
                    .hasMessageContaining("still went on");
            assertThat(failure(() -> phase(id, PhaseKind.FINISH, 3, 4, false)))
                    .isInstanceOf(JobRefused.class)
                    .hasMessageContaining("at a time");
            jobs.inspect(id, passing(id, null));
            assertThat(failure(() -> jobs.close(
                            id, new CloseJob(Result.GOOD, "Filled.", null, null, started.plusSeconds(3600)))))
                    .isInstanceOf(Invalid.class)
                    .hasMessageContaining("not passed");
            return false;
        });
    }

    @Test
    void aCureKeepsTheReadingOfItsDayAndBurnsTheLamp() {
        var id = jobOf(JobState.APPROVED);
        takenBack(() -> {
            jobs.start(id, dosed, started);
            var hours = lamps.lamp(lamp).hours();
            jobs.recordPhase(
                    id,
                    new RecordPhase(
                            PhaseKind.CURE,
                            started,
                            started.plusSeconds(1800),
                            null,
                            Instant.now(),
                            null,
                            null,
                            lamp,
                            BigDecimal.valueOf(60),
                            null,
                            true));
            var cure = jobs.job(id).phases().getLast();
            // Twice as far is a quarter: 12 J/cm² by 2.5 mW/cm² are 4800 s.
            assertThat(cure.requiredSeconds()).isEqualTo(4800);
            var kept = Objects.requireNonNull(cure.cureLamp());
            assertThat(kept.irradianceMwPerCm2()).isEqualTo(2.5);
            assertThat(Objects.requireNonNull(kept.reading()).irradianceMwPerCm2())
                    .isEqualByComparingTo(BigDecimal.TEN);
            assertThat(kept.side()).isEqualTo(org.quarterlight.bench.CureTime.Side.OUTSIDE);
            assertThat(lamps.lamp(lamp).hours().subtract(hours)).isEqualByComparingTo("0.5");
            return false;
        });
    }

    @Test
    void aLampDoesNotStartWithoutGogglesAndOnePictureIsNotBothBeforeAndAfter() {
        var id = jobOf(JobState.UNDER_WAY);
        takenBack(() -> {
            assertThat(failure(() -> jobs.recordPhase(id, RecordPhase.of(PhaseKind.CURE, null, null))))
                    .isInstanceOf(Invalid.class)
                    .hasMessageContaining("goggles");
            var bytes = failureFree(() -> picture().readAllBytes());
            jobs.addPhoto(id, PhotoShows.BEFORE, new ByteArrayInputStream(bytes), null);
            // The same picture in a file that is one byte longer.
            for (var file : List.of(bytes, Arrays.copyOf(bytes, bytes.length + 1))) {
                assertThat(failure(() -> jobs.addPhoto(id, PhotoShows.AFTER, new ByteArrayInputStream(file), null)))
                        .isInstanceOf(Invalid.class)
                        .hasMessageContaining("already");
            }
            return false;
        });
    }

    @Test
    void anOpenLotIsUsableForItsDaysAndNeverBeforeItWasThere() {
        var id = jobOf(JobState.UNDER_WAY);
        takenBack(() -> {
            var today = LocalDate.now(ZoneOffset.UTC);
            var old = materials.create(
                    new SaveLot("O-1", "thin", today.plusDays(300), today.minusDays(31), LotKind.RESIN, 30));
            assertThat(old.usableUntil()).isEqualTo(today.minusDays(1));
            assertThat(failure(() -> bench.use(id, new UseLot(old.id(), null, null))))
                    .isInstanceOf(Invalid.class)
                    .hasMessageContaining("open for more than 30 days");
            var closed = materials.create(new SaveLot("O-2", "thin", today.plusDays(300), null, LotKind.RESIN, 30));
            assertThat(failure(() -> bench.use(id, new UseLot(closed.id(), null, started))))
                    .isInstanceOf(Invalid.class)
                    .hasMessageContaining("not in stock then");
            assertThat(materials.open(closed.id(), null).openedOn()).isNotNull();
            bench.use(id, new UseLot(closed.id(), null, null));
            return false;
        });
    }

    private static ReadConditions wet(Instant at) {
        return new ReadConditions(
                BigDecimal.TEN,
                BigDecimal.TEN,
                BigDecimal.valueOf(95),
                Light.SHADE,
                true,
                false,
                null,
                at,
                Instant.now());
    }

    private interface Read {
        byte[] bytes() throws IOException;
    }

    private static byte[] failureFree(Read read) {
        try {
            return read.bytes();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    // Doing things

    private UUID jobOf(JobState state) {
        return jobOf(Board.OWN, state);
    }

    private UUID jobOf(Board board, JobState state) {
        return Objects.requireNonNull(Objects.requireNonNull(inState.get(board)).get(state));
    }

    private TestOrganisation performer(Board board) {
        return board == Board.SHARED ? other : owner;
    }

    private Board boardOf(UUID id) {
        return inState.entrySet().stream()
                .filter(entry -> entry.getValue().containsValue(id))
                .map(Map.Entry::getKey)
                .findFirst()
                .orElse(building);
    }

    private UUID lotOf(UUID id) {
        return Objects.requireNonNull(lots.get(boardOf(id)));
    }

    private UUID vehicle(UUID depot, String registration) {
        return as(
                Role.MANAGER,
                () -> fleet.create(new SaveVehicle(
                                depot,
                                registration,
                                null,
                                VehicleCategory.M3,
                                18000,
                                SteeringSide.RIGHT,
                                null,
                                null,
                                null))
                        .id());
    }

    /** New glass ends all damages of the old one. */
    private UUID vehicleOf(Board board, JobState state) {
        return board != Board.GLASS ? vehicle : state == JobState.CLOSED ? withNewGlass : forGlass;
    }

    private UUID jobIn(Board board, JobState state) {
        building = board;
        var worked = EnumSet.of(JobState.UNDER_WAY, JobState.INSPECTED, JobState.CLOSED, JobState.ABANDONED);
        // One pair of hands is at one job at a time.
        began = worked.contains(state) ? started.minus(Duration.ofMinutes(40L * ++performed)) : started;
        var damage = as(
                Role.MANAGER,
                () -> damages.report(new ReportDamage(vehicleOf(board, state), DamageKind.STAR_BREAK, null, seen())));
        var work = board == Board.GLASS ? Work.REPLACEMENT : Work.REPAIR;
        var id = as(Role.MANAGER, () -> jobs.request(new RequestJob(work, List.of(damage.id()), false, null, began)))
                .id();
        damageOf.put(id, damage.id());
        if (state == JobState.DECLINED && board != Board.SHARED) {
            as(Role.MANAGER, () -> jobs.decline(id, "sold", null));
        } else if (state != JobState.REQUESTED) {
            as(Role.MANAGER, () -> jobs.approve(id, began));
        }
        if (board == Board.SHARED) {
            as(Role.MANAGER, () -> jobs.share(id, other.id()));
        }
        if (state == JobState.DECLINED && board == Board.SHARED) {
            as(Role.MANAGER, () -> jobs.withdraw(id, "sold", null));
        }
        var by = performer(board);
        if (state == JobState.PLANNED) {
            TestOrganisations.as(by, Role.DISPATCHER, () -> jobs.plan(id, LocalDate.now(ZoneOffset.UTC), null));
        }
        if (EnumSet.of(JobState.UNDER_WAY, JobState.INSPECTED, JobState.CLOSED, JobState.ABANDONED)
                .contains(state)) {
            var proofs = EnumSet.allOf(Proof.class);
            if (state == JobState.UNDER_WAY || state == JobState.ABANDONED) {
                proofs.remove(Proof.INSPECTION);
            }
            TestOrganisations.as(by, Role.TECHNICIAN, () -> {
                if (board == Board.GLASS) {
                    fit(id, proofs.contains(Proof.INSPECTION));
                } else {
                    perform(id, proofs);
                }
                return id;
            });
        }
        if (state == JobState.CLOSED) {
            TestOrganisations.as(by, Role.TECHNICIAN, () -> jobs.close(id, closing(id, null)));
        }
        if (state == JobState.ABANDONED) {
            TestOrganisations.as(by, Role.TECHNICIAN, () -> jobs.abandon(id, "it ran", null));
        }
        return id;
    }

    /** Of new glass nothing is to be found. */
    private InspectJob passing(UUID id, @Nullable Instant at) {
        var found = boardOf(id) == Board.GLASS
                ? List.<FinishedRepair>of()
                : TestJobs.passing(jobs.job(id)).found();
        return new InspectJob(true, null, found, at);
    }

    /** New glass, with its camera set again. */
    private void fit(UUID id, boolean inspected) {
        made.taken(id, began);
        jobs.start(id, null, began, Instant.now());
        jobs.addPhoto(id, PhotoShows.BEFORE, picture(), null, began, Instant.now());
        jobs.addPhoto(id, PhotoShows.AFTER, picture(), null);
        bench.calibrate(id, calibration(true));
        if (inspected) {
            jobs.inspect(id, passing(id, null));
        }
    }

    private static CalibrateCamera calibration(boolean passed) {
        return new CalibrateCamera(passed, Calibration.Manner.STATIC, "target board", "2 mm", null, null);
    }

    private static SaveMethod dosed() {
        return new SaveMethod(
                "By dose",
                "thin",
                "Data sheet 1",
                null,
                null,
                null,
                new BigDecimal("12"),
                1,
                0,
                true,
                List.of(
                        new SaveMethod.SaveStep(PhaseKind.CLEAN, true, 0, null),
                        new SaveMethod.SaveStep(PhaseKind.INJECT, true, 60, null),
                        new SaveMethod.SaveStep(PhaseKind.CURE, true, 600, null)));
    }

    /** As a technician: an approved job, begun and recorded with these proofs. */
    private void perform(UUID id, Set<Proof> proofs) {
        made.taken(id, began);
        jobs.start(id, null, began, Instant.now());
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
            jobs.addPhoto(id, PhotoShows.BEFORE, picture(), null, began, Instant.now());
        }
        if (proofs.contains(Proof.PHOTO_AFTER)) {
            jobs.addPhoto(id, PhotoShows.AFTER, picture(), null);
        }
        if (proofs.contains(Proof.LOT)) {
            bench.use(id, new UseLot(lotOf(id), "3 drops", null));
        }
        bench.use(id, new UseLot(Objects.requireNonNull(fillers.get(boardOf(id))), null, null));
        if (proofs.contains(Proof.INSPECTION)) {
            var refused = failure(() -> jobs.inspect(id, passing(id, null)));
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
        return failure(() -> jobs.close(id, closing(id, resinLot))) == null;
    }

    private CloseJob closing(UUID id, @Nullable UUID resinLot) {
        return new CloseJob(
                boardOf(id) == Board.GLASS ? Result.REPLACED : Result.GOOD, "Filled.", resinLot, null, null);
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

    private UUID lot(TestOrganisation of, String number, LotKind kind, int days) {
        return lot(of, number, "thin", kind, days);
    }

    private UUID lot(TestOrganisation of, String number, String material, LotKind kind, int days) {
        return TestOrganisations.as(
                        of,
                        Role.DISPATCHER,
                        () -> materials.create(new SaveLot(
                                number, material, LocalDate.now(ZoneOffset.UTC).plusDays(days), null, kind)))
                .id();
    }

    private SeenDamage seen() {
        return new SeenDamage(
                BigDecimal.valueOf(-600 + 60L * (reported++ % 20)),
                BigDecimal.valueOf(420 - 40L * (reported / 20)),
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
                    return new Answer(
                            failure,
                            failure == null
                                    ? JobState.valueOf(jdbc.sql("select state from job where id = :id")
                                            .param("id", id)
                                            .query(String.class)
                                            .single())
                                    : null);
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
        as(owner.person(Role.DISPATCHER), work);
    }

    private static void as(Acting who, Runnable work) {
        var before = SecurityContextHolder.getContext();
        var context = SecurityContextHolder.createEmptyContext();
        context.setAuthentication(new ActingAuthentication(who));
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

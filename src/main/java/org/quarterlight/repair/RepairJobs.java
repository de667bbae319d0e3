package org.quarterlight.repair;

import jakarta.validation.Valid;
import java.io.InputStream;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.function.Consumer;
import java.util.function.Predicate;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.quarterlight.account.Member;
import org.quarterlight.account.Organisations;
import org.quarterlight.account.PartnerEnded;
import org.quarterlight.account.PartnerState;
import org.quarterlight.account.PartnerView;
import org.quarterlight.account.Partners;
import org.quarterlight.account.People;
import org.quarterlight.agreement.PartnerLimits;
import org.quarterlight.bench.CureTime;
import org.quarterlight.bench.DonePhase;
import org.quarterlight.bench.LampReading;
import org.quarterlight.bench.Method;
import org.quarterlight.bench.MethodCheck;
import org.quarterlight.bench.PhaseKind;
import org.quarterlight.damage.AbandonedRepair;
import org.quarterlight.damage.ClosedAs;
import org.quarterlight.damage.DamageNotFound;
import org.quarterlight.damage.DamageReporting;
import org.quarterlight.damage.DamageState;
import org.quarterlight.damage.DamageView;
import org.quarterlight.damage.JobFacts;
import org.quarterlight.eligibility.Acceptance;
import org.quarterlight.fleet.FitWindscreen;
import org.quarterlight.fleet.Fleet;
import org.quarterlight.kernel.Ids;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.kernel.OccurredAt;
import org.quarterlight.kernel.Reason;
import org.quarterlight.photo.PhotoFile;
import org.quarterlight.photo.PhotoReferences;
import org.quarterlight.photo.PhotoSize;
import org.quarterlight.photo.Photos;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.tenancy.Locks;
import org.quarterlight.tenancy.TenantId;
import org.quarterlight.tenancy.Tenants;
import org.quarterlight.web.ListQuery;
import org.quarterlight.web.Slice;
import org.quarterlight.web.SliceRequest;
import org.quarterlight.web.Words;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.core.io.Resource;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.modulith.events.ApplicationModuleListener;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Service;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.annotation.Transactional;
import org.springframework.transaction.support.TransactionTemplate;
import org.springframework.validation.annotation.Validated;
import tools.jackson.databind.json.JsonMapper;

/**
 * Jobs from request to record. A fleet's manager requests, approves, shares and withdraws; the dispatcher of whoever
 * performs it assigns and hands back; their technician starts, records, inspects and closes.
 */
@Service
@Validated
public class RepairJobs implements PhotoReferences {
    /** Common practice, no source: resin under the lamp for less may stay soft. */
    public static final Duration LEAST_CURE = Method.GENERIC.leastCure();

    /** What is told afterwards is told by the hour, not by the minute. */
    private static final Duration CLOCKS_AND_WORDS = Duration.ofDays(1);

    /** How far apart two sendings of one device may put the same moment. */
    private static final Duration SENT_APART = Duration.ofSeconds(5);

    private static final String PARTIES = "hasAnyRole('MANAGER', 'DISPATCHER', 'TECHNICIAN')";
    private static final int MOST_PHOTOS = 40;
    private static final ListQuery.Order NEWEST = ListQuery.Order.descending(
            "newest", new ListQuery.Key("j.requested_at", "timestamptz"), new ListQuery.Key("j.id", "uuid"));
    private static final ListQuery.Order FIRST_DUE =
            ListQuery.Order.ascending("due", new ListQuery.Key("j.act_by", "date"), new ListQuery.Key("j.id", "uuid"));

    private final JobRepository jobs;
    private final JobAccess access;
    private final JobRecords records;
    private final JobViews views;
    private final Certificates certificates;
    private final ClosingRules closing;
    private final FinishedWork finished;
    private final Methods methods;
    private final Lamps lamps;
    private final Briefs briefs;
    private final Materials materials;
    private final Charges charges;
    private final JobFacts facts;
    private final DamageReporting damages;
    private final Fleet fleet;
    private final Partners partners;
    private final PartnerLimits limits;
    private final People people;
    private final Organisations organisations;
    private final Photos photos;
    private final ApplicationEventPublisher events;
    private final JdbcClient jdbc;
    private final JsonMapper json;
    private final TransactionTemplate transaction;
    private final Clock clock;

    RepairJobs(
            JobRepository jobs,
            JobAccess access,
            JobRecords records,
            JobViews views,
            Certificates certificates,
            ClosingRules closing,
            FinishedWork finished,
            Methods methods,
            Lamps lamps,
            Briefs briefs,
            Materials materials,
            Charges charges,
            JobFacts facts,
            DamageReporting damages,
            Fleet fleet,
            Partners partners,
            PartnerLimits limits,
            People people,
            Organisations organisations,
            Photos photos,
            ApplicationEventPublisher events,
            JdbcClient jdbc,
            JsonMapper json,
            PlatformTransactionManager transactions,
            Clock clock) {
        this.jobs = jobs;
        this.access = access;
        this.records = records;
        this.views = views;
        this.certificates = certificates;
        this.closing = closing;
        this.finished = finished;
        this.methods = methods;
        this.lamps = lamps;
        this.briefs = briefs;
        this.materials = materials;
        this.charges = charges;
        this.facts = facts;
        this.damages = damages;
        this.fleet = fleet;
        this.partners = partners;
        this.limits = limits;
        this.people = people;
        this.organisations = organisations;
        this.photos = photos;
        this.events = events;
        this.jdbc = jdbc;
        this.json = json;
        this.transaction = new TransactionTemplate(transactions);
        this.clock = clock;
    }

    // Reading

    @Transactional(readOnly = true)
    @PreAuthorize(PARTIES)
    public JobView job(UUID id) {
        return view(access.find(id));
    }

    @Transactional(readOnly = true)
    @PreAuthorize(PARTIES)
    public Slice<JobRow> list(JobFilter filter, SliceRequest wanted) {
        var order = filter.sort() == JobFilter.Sort.NEWEST ? NEWEST : FIRST_DUE;
        return filtered(filter).slice(jdbc, order, wanted, RepairJobs::row);
    }

    /** Up to {@link ListQuery#COUNTED_AT_MOST} + 1. */
    @Transactional(readOnly = true)
    @PreAuthorize(PARTIES)
    public long count(JobFilter filter) {
        return filtered(filter).count(jdbc);
    }

    /** Those of these jobs that the present organisation performs, for whoever plans its days. */
    @Transactional(readOnly = true)
    @PreAuthorize("hasAnyRole('DISPATCHER', 'TECHNICIAN')")
    public List<PlannedJob> performed(Collection<UUID> ids) {
        if (ids.isEmpty()) {
            return List.of();
        }
        var cures = new HashMap<UUID, List<PlannedJob.Cure>>();
        jdbc.sql("""
            select p.job_id, p.started_at, p.ended_at from job j
            join phase p on p.tenant_id = j.tenant_id and p.job_id = j.id
            where j.performer_id = :organisation and j.id in (:ids) and p.kind = 'CURE' order by p.started_at\
            """)
                .param("organisation", Tenants.require().value())
                .param("ids", ids)
                .query(row -> {
                    cures.computeIfAbsent(row.getObject("job_id", UUID.class), id -> new ArrayList<>())
                            .add(new PlannedJob.Cure(
                                    row.getObject("started_at", OffsetDateTime.class)
                                            .toInstant(),
                                    instant(row, "ended_at")));
                });
        return jdbc.sql("""
            select j.id, j.number, j.work, j.state, j.technician_id, j.started_at, j.ended_at, j.brief from job j
            where j.performer_id = :organisation and j.id in (:ids)\
            """)
                .param("organisation", Tenants.require().value())
                .param("ids", ids)
                .query((row, number) -> new PlannedJob(
                        row.getObject("id", UUID.class),
                        row.getInt("number"),
                        Work.valueOf(row.getString("work")),
                        JobState.valueOf(row.getString("state")),
                        row.getObject("technician_id", UUID.class),
                        instant(row, "started_at"),
                        instant(row, "ended_at"),
                        cures.getOrDefault(row.getObject("id", UUID.class), List.of()),
                        json.readValue(row.getString("brief"), JobBrief.class)))
                .list();
    }

    /** The job that this technician of the performer's started last and has not ended. */
    @Transactional(readOnly = true)
    @PreAuthorize("hasRole('TECHNICIAN')")
    public Optional<UUID> atWork(UUID technician) {
        return jdbc.sql("""
            select id from job
            where performer_id = :organisation and technician_id = :technician and state in ('UNDER_WAY', 'INSPECTED')
            order by started_at desc limit 1\
            """)
                .param("organisation", Tenants.require().value())
                .param("technician", technician)
                .query((row, number) -> row.getObject("id", UUID.class))
                .optional();
    }

    /** Whether a job of the present organisation stands on a day again. Asks nobody's right. */
    @Transactional(readOnly = true)
    public boolean isPlanned(UUID id) {
        return jobs.findByPerformerIdAndId(Tenants.require().value(), id)
                .filter(job -> job.state() == JobState.PLANNED)
                .isPresent();
    }

    // The fleet's manager

    /** Asks for work on damages of one windscreen. They are in hand from now on. */
    @Transactional
    @PreAuthorize("hasRole('MANAGER')")
    public JobView request(@Valid RequestJob command) {
        var acting = Acting.require();
        var at = time(command.occurredAt());
        List<DamageView> chosen;
        try {
            chosen = facts.damages(command.damages());
        } catch (DamageNotFound e) {
            throw new Invalid("damages", String.valueOf(e.getMessage()));
        }
        var windscreens = chosen.stream().map(DamageView::windscreen).distinct().toList();
        if (windscreens.size() != 1) {
            throw new Invalid("damages", "One job is about one windscreen");
        }
        if (chosen.stream().anyMatch(damage -> at.isBefore(damage.occurredAt().minus(CLOCKS_AND_WORDS)))) {
            throw new Invalid("occurredAt", "One of these damages was seen later than that");
        }
        var failed = command.warrantyFor() == null ? null : failed(command.warrantyFor(), chosen);
        if (failed == null && chosen.stream().anyMatch(damage -> damage.state() == DamageState.CLOSED)) {
            throw new Invalid("damages", "One of these damages is closed already");
        }
        if (failed != null) {
            failed.cameBack(at);
            jobs.saveAndFlush(failed);
            damages.repairFailed(chosen.stream()
                    .filter(damage -> damage.state() == DamageState.CLOSED)
                    .map(DamageView::id)
                    .toList());
            chosen = facts.damages(command.damages());
        }
        var job = make(
                command.work(),
                windscreens.getFirst(),
                chosen,
                failed == null ? null : failed.id(),
                failed != null,
                at,
                acting.name());
        damages.takeInHand(chosen.stream().map(DamageView::id).toList(), job.id());
        if (Boolean.TRUE.equals(command.approve())) {
            job.approve(at);
            if (failed != null) {
                backToWhoeverFailed(failed, job);
            }
            jobs.saveAndFlush(job);
            access.tell("approved", job, "");
        }
        return view(job);
    }

    @Transactional
    @PreAuthorize("hasRole('MANAGER')")
    public JobView approve(UUID id, @Nullable Instant occurredAt) {
        return asFleet(id, "approved", "", job -> job.approve(time(occurredAt, job)));
    }

    @Transactional
    @PreAuthorize("hasRole('MANAGER')")
    public JobView decline(UUID id, String reason, @Nullable Instant occurredAt) {
        var why = Reason.given(reason);
        var view = asFleet(
                id,
                "declined",
                why,
                job -> job.decline(why, time(occurredAt, job), Acting.require().name()));
        damages.letGo(id);
        standsAgain(view);
        return view;
    }

    /** Takes a job back before anybody has started it. */
    @Transactional
    @PreAuthorize("hasRole('MANAGER')")
    public JobView withdraw(UUID id, String reason, @Nullable Instant occurredAt) {
        var why = Reason.given(reason);
        var before = access.find(id);
        var planned = before.state() == JobState.PLANNED;
        var view = asFleet(
                id,
                "withdrew",
                why,
                job -> job.withdraw(why, time(occurredAt, job), Acting.require().name()));
        damages.letGo(id);
        standsAgain(view);
        if (planned) {
            events.publishEvent(new JobLeftPlan(new TenantId(view.performer()), id, null));
        }
        return view;
    }

    /** A warranty that nobody asks for any more says nothing against the repair before it. */
    private void standsAgain(JobView warranty) {
        var organisation = Tenants.require().value();
        if (!warranty.warranty()
                || warranty.follows() == null
                || jobs.findByTenantIdAndFollowsId(organisation, warranty.follows()).stream()
                        .anyMatch(job -> job.warranty() && job.state() != JobState.DECLINED)) {
            return;
        }
        var before = jobs.findByTenantIdAndId(organisation, warranty.follows()).orElseThrow();
        before.cameBack(null);
        jobs.saveAndFlush(before);
    }

    /** Gives an approved job to a partner to perform. */
    @Transactional
    @PreAuthorize("hasRole('MANAGER')")
    public JobView share(UUID id, UUID partner) {
        var job = access.find(id);
        var found = activePartner(
                        each -> each.id().equals(partner) || each.repairer().equals(partner))
                .orElseThrow(() -> new Invalid("partner", "This repairer does not work for you"));
        against(found, job).ifPresent(why -> {
            throw new Invalid("partner", why);
        });
        return asFleet(id, "shared", found.repairerName(), each -> each.share(found.repairer(), found.repairerName()));
    }

    /** Whom a job can be given to, and why the others not. */
    @Transactional(readOnly = true)
    @PreAuthorize("hasRole('MANAGER')")
    public List<ShareChoice> choices(UUID id) {
        var job = access.find(id);
        var depot = access.brief(job).depot();
        var all = partners.list(PartnerState.ACTIVE, SliceRequest.most()).items();
        var against = limits.against(all, depot.id(), depot.name(), LocalDate.now(clock.withZone(depot.zone())));
        return all.stream()
                .map(each -> new ShareChoice(each.id(), each.repairer(), each.repairerName(), against.get(each.id())))
                .toList();
    }

    /** Says who pays. Once the job has ended that is a correction with a reason, and once it is invoiced it stays. */
    @Transactional
    @PreAuthorize("hasRole('MANAGER')")
    public JobView payer(UUID id, @Valid SayPayer command) {
        var claim = command.payer() == Payer.INSURER ? blank(command.claimReference()) : null;
        if (command.payer() == Payer.INSURER && claim == null) {
            throw new Invalid("claimReference", "Give the insurer's reference of the claim");
        }
        Locks.row(jdbc, "job", id);
        var job = jobs.findByTenantIdAndId(Tenants.require().value(), id).orElseThrow(() -> new JobNotFound(id));
        var detail = command.payer().name().toLowerCase(Locale.ROOT) + (claim == null ? "" : ", claim " + claim);
        if (job.state().isEnd()) {
            var charge = charges.of(job);
            if (charge != null && charge.invoiceNumber() != null) {
                throw new ChargeRefused(charge.jobNumber(), charge.invoiceNumber());
            }
            detail += ": " + Reason.given(Objects.requireNonNullElse(command.reason(), ""));
        }
        return changed(job, "said who pays for", detail, each -> each.paidBy(command.payer(), claim));
    }

    // The performer's dispatcher

    /** Gives the job to one of the performer's technicians; null takes it from whoever has it. */
    @Transactional
    @PreAuthorize("hasRole('DISPATCHER')")
    public JobView assign(UUID id, @Nullable UUID technician) {
        var name = technician == null ? null : technicianName(technician);
        return asPerformer(
                id, "assigned", Objects.requireNonNullElse(name, "nobody"), job -> job.assign(technician, name));
    }

    /** The performer cannot do it; the fleet performs it itself again. */
    @Transactional
    @PreAuthorize("hasRole('DISPATCHER')")
    public JobView handBack(UUID id, String reason) {
        var why = Reason.given(reason);
        var before = access.find(id);
        if (before.fleet().equals(before.performer())) {
            throw new JobRefused("own-job", "This job is your own. Withdraw it instead.");
        }
        var planned = before.state() == JobState.PLANNED;
        var view = asPerformer(id, "handed back", why, job -> job.leave(why));
        var back = new JobHandedBack(new TenantId(view.fleet()), id, why);
        events.publishEvent(planned ? new JobLeftPlan(new TenantId(view.performer()), id, back) : back);
        return planned ? moved(view) : view;
    }

    /** The performer says once why a repair that came back has not failed. It stays a claim, and rates count it as contested. */
    @Transactional
    @PreAuthorize("hasRole('DISPATCHER')")
    public JobView contest(UUID id, String reason) {
        var why = Reason.given(reason);
        return asPerformer(
                id,
                "contested",
                why,
                job -> job.contest(why, clock.instant(), Acting.require().name()));
    }

    /** Puts a job on a day. Called where days are kept; the right to plan was checked there. */
    @Transactional
    public JobView plan(UUID id, LocalDate on, @Nullable UUID technician) {
        // Whoever drives the van may have become something else since: the job then waits for another.
        var name = technician == null ? Optional.<String>empty() : technicianCalled(technician);
        return moved(asPerformer(
                id,
                "planned",
                on.toString(),
                job -> job.plan(on, name.isPresent() ? technician : null, name.orElse(null))));
    }

    /** Takes a job off its day. Called where days are kept. */
    @Transactional
    public JobView takeOff(UUID id) {
        return moved(asPerformer(id, "took off its day", "", Job::takeOff));
    }

    private JobView moved(JobView job) {
        events.publishEvent(new JobDayMoved(new TenantId(job.fleet()), job.id()));
        return job;
    }

    @ApplicationModuleListener
    void on(JobDayMoved event) {
        damages.dayMoved(event.job());
    }

    // The performer's technician

    @Transactional
    @PreAuthorize("hasRole('TECHNICIAN')")
    public JobView start(UUID id, @Nullable Instant occurredAt) {
        return start(id, null, occurredAt);
    }

    /** By a method of the performer's; by the one that ships where none is named. The job keeps it as it is now. */
    @Transactional
    @PreAuthorize("hasRole('TECHNICIAN')")
    public JobView start(UUID id, @Nullable UUID method, @Nullable Instant occurredAt) {
        return start(id, method, occurredAt, null);
    }

    /** The same, by the clock of a device. */
    @Transactional
    @PreAuthorize("hasRole('TECHNICIAN')")
    public JobView start(UUID id, @Nullable UUID method, @Nullable Instant occurredAt, @Nullable Instant deviceClock) {
        var acting = Acting.require();
        var person = Objects.requireNonNull(acting.person());
        return asPerformer(id, "started", "", job -> {
            var by = job.work() == Work.REPAIR ? json.writeValueAsString(methods.chosen(method)) : null;
            var told = Told.of(occurredAt, deviceClock, clock.instant())
                    .notBefore(job.approvedAt(), "occurredAt", "The job was not approved then");
            job.start(person, acting.name(), by, access.asked(job, told));
        });
    }

    @Transactional
    @PreAuthorize("hasRole('TECHNICIAN')")
    public JobView recordPhase(UUID id, @Valid RecordPhase command) {
        var job = access.alone(id);
        var known = command.id() != null
                && records.phases(job).stream().anyMatch(phase -> phase.id().equals(command.id()));
        if (known) {
            return view(job); // its answer was lost on the way
        }
        job.recordPhase();
        if (command.kind() == PhaseKind.CURE && job.work() == Work.REPAIR && !Boolean.TRUE.equals(command.goggles())) {
            throw new Invalid("goggles", "The lamp waits until everybody near it wears goggles: confirm it first");
        }
        var now = clock.instant();
        var told = access.asked(
                job,
                Told.of(command.startedAt(), command.deviceClock(), now)
                        .notBefore(job.startedAt(), "startedAt", "The job had not started then"));
        var end = command.endedAt() == null
                ? null
                : access.asked(job, Told.of(command.endedAt(), command.deviceClock(), now));
        var ended = end == null ? null : end.at();
        if (ended != null && ended.isBefore(told.at())) {
            throw new Invalid("endedAt", "A phase ends after it began");
        }
        var started = afterOthers(job, told.at(), ended);
        if (ended != null) {
            ended = ended.plus(Duration.between(told.at(), started)); // as long as it was
        }
        var method = access.methodOrGeneric(job);
        checkOverlap(job, method, command.kind(), started, ended);
        var before = records.phases(job).stream()
                .filter(phase -> !phase.startedAt().isAfter(started))
                .map(JobPhase::done)
                .toList();
        var repairs = job.work() == Work.REPAIR;
        var back = repairs ? backReason(method, command, before) : null;
        var lamp = repairs && command.kind() == PhaseKind.CURE ? cureLamp(job, command, started) : null;
        var required = repairs && command.kind() == PhaseKind.CURE ? required(method, command, lamp, before) : null;
        if (job.work() == Work.REPAIR && ClosingRules.NEED_CONDITIONS.contains(command.kind())) {
            checkConditions(job, started);
        }
        var added = records.addPhase(
                job,
                new JobPhase(
                        Objects.requireNonNullElseGet(command.id(), () -> Ids.next(now)),
                        command.kind(),
                        started,
                        ended,
                        Objects.requireNonNullElse(command.note(), "").trim(),
                        Acting.require().name(),
                        back,
                        blank(command.reading()),
                        lamp == null ? null : lamp.name(),
                        command.lampDistanceMm(),
                        required,
                        Boolean.TRUE.equals(command.goggles()),
                        told.offsetSeconds(),
                        told.arrivedAt(),
                        end == null ? null : end.arrivedAt(),
                        end == null ? null : end.offsetSeconds(),
                        command.clearOfAir(),
                        lamp,
                        told.queued(),
                        end != null && end.queued()),
                Acting.require().person());
        if (!added) {
            throw new Invalid("id", "This id is taken");
        }
        if (lamp != null && ended != null) {
            lamps.burnt(lamp.lamp(), Duration.between(started, ended));
        }
        return view(access.touched(job));
    }

    /**
     * Of one job's phases one runs at a time. What a device has measured may lie some seconds over what it sent before, for the
     * difference of the clocks is taken anew with each sending: that begins where the other ended.
     */
    private Instant afterOthers(Job job, Instant started, @Nullable Instant ended) {
        var begins = started;
        for (var other : records.phases(job)) {
            var over = other.endedAt() == null ? Instant.MAX : other.endedAt();
            if (!over.isAfter(begins) || ended != null && !other.startedAt().isBefore(ended)) {
                continue;
            }
            if (other.startedAt().isAfter(begins) || over.isAfter(begins.plus(SENT_APART))) {
                throw new JobRefused(
                        "phase-overlaps",
                        other.endedAt() == null
                                ? "The clock of " + Words.spoken(other.kind()) + " runs. Stop it first."
                                : "At that time " + Words.spoken(other.kind()) + " was done. One phase of a job is done"
                                        + " at a time.");
            }
            begins = over;
        }
        return begins;
    }

    /** One pair of hands: at two jobs in the same time only where one of them lies under the lamp and both methods leave it. */
    private void checkOverlap(Job job, Method method, PhaseKind kind, Instant started, @Nullable Instant ended) {
        var person = Acting.require().person();
        if (person == null) {
            return;
        }
        Locks.work(jdbc, "phases of " + person);
        for (var other : records.elsewhere(job, person, started, ended)) {
            var theirs = access.methodOrGeneric(other.method());
            var cures = kind == PhaseKind.CURE || other.kind() == PhaseKind.CURE;
            if (cures && method.overlaps() && theirs.overlaps()) {
                continue;
            }
            var strict = theirs.overlaps() ? method : theirs;
            throw new JobsOverlap(
                    other.job(),
                    other.number(),
                    "You are at job " + other.number() + ", " + other.registration() + ": "
                            + Words.spoken(other.kind()) + ". "
                            + (method.overlaps() && theirs.overlaps()
                                    ? "Another job is worked on only while one lies under the lamp."
                                    : strict.name() + " lets no other job be worked on meanwhile.")
                            + " End that phase first.");
        }
    }

    private static @Nullable String backReason(Method method, RecordPhase command, List<DonePhase> before) {
        var reason = blank(command.reason());
        var back = MethodCheck.goesBack(method, before, command.kind());
        if (reason == null && back) {
            throw new Invalid("reason", "The work goes back behind what was done: say why");
        }
        return back ? reason : null;
    }

    /** The lamp with its newest reading of that day: what is read later says nothing of this cure. */
    private @Nullable CureLamp cureLamp(Job job, RecordPhase command, Instant started) {
        if (command.lamp() == null) {
            return null;
        }
        var lamp = lamps.named(command.lamp());
        var reading = lamp.trustedOn(started.atZone(ZoneId.of(job.zone())).toLocalDate());
        var distanceMm =
                command.lampDistanceMm() != null || reading == null ? command.lampDistanceMm() : reading.distanceMm();
        return new CureLamp(
                lamp.id(),
                lamp.name(),
                lamp.wavelengthNm(),
                Objects.requireNonNullElse(command.side(), CureTime.Side.OUTSIDE),
                distanceMm,
                reading == null
                        ? null
                        : new CureLamp.MeterReading(
                                reading.readOn(),
                                reading.irradianceMwPerCm2(),
                                reading.distanceMm(),
                                reading.hours(),
                                reading.readBy(),
                                reading.readOn().plusDays(lamp.readEveryDays())),
                reading == null || distanceMm == null
                        ? null
                        : reading.of(lamp.wavelengthNm()).irradianceMwPerCm2At(distanceMm.doubleValue()));
    }

    /** Null where the method asks for a dose and its lamp was not read in time: the closing tells what is missing. */
    private static @Nullable Integer required(
            Method method, RecordPhase command, @Nullable CureLamp lamp, List<DonePhase> before) {
        var side = Objects.requireNonNullElse(command.side(), CureTime.Side.OUTSIDE);
        var reading = lamp == null ? null : lamp.reading();
        if (side == CureTime.Side.OUTSIDE && method.cureDoseJPerCm2() != null && reading == null) {
            return null;
        }
        var measured = lamp == null || reading == null
                ? null
                : new LampReading(
                        lamp.wavelengthNm().doubleValue(),
                        reading.irradianceMwPerCm2().doubleValue(),
                        reading.distanceMm().doubleValue());
        var distanceMm = lamp == null || lamp.distanceMm() == null
                ? 0
                : lamp.distanceMm().doubleValue();
        var leastCure = method.leastAt(MethodCheck.place(method, before, PhaseKind.CURE));
        return switch (CureTime.of(leastCure, method.cureDoseJPerCm2(), measured, distanceMm, side)) {
            case CureTime.AtLeast(Duration least, boolean byDose, String note) -> (int) least.toSeconds();
            case CureTime.Refused(String reason) -> throw new Invalid("side", reason);
        };
    }

    /** Where nothing was read the closing says so; what was read and speaks against it is not passed over. */
    private void checkConditions(Job job, Instant at) {
        records.readings(job).stream()
                .filter(reading -> !reading.readAt().isAfter(at))
                .reduce((first, second) -> second)
                .filter(reading -> !closing.allowed(job, reading))
                .ifPresent(reading -> {
                    throw new JobRefused(
                            "conditions",
                            "The conditions speak against it. "
                                    + reading.objections().stream()
                                            .map(objection -> objection.reason() + " " + objection.change())
                                            .collect(Collectors.joining(" ")));
                });
    }

    private static @Nullable String blank(@Nullable String text) {
        return text == null || text.isBlank() ? null : text.trim();
    }

    /** Stops the clock of a phase. */
    @Transactional
    @PreAuthorize("hasRole('TECHNICIAN')")
    public JobView endPhase(UUID id, UUID phase, @Valid EndPhase command) {
        var job = access.performed(id);
        job.recordPhase();
        var told = access.told(job, command.occurredAt(), command.deviceClock(), clock.instant());
        var ended = records.endPhase(
                        job,
                        phase,
                        told,
                        blank(command.reading()),
                        command.clearOfAir(),
                        Acting.require().person())
                .orElseThrow(
                        () -> new JobRefused("phase-ended", "This phase has ended already, or had not begun then"));
        if (ended.lamp() != null) {
            lamps.burnt(ended.lamp(), Duration.between(ended.startedAt(), told.at()));
        }
        return view(access.touched(job));
    }

    @Transactional
    @PreAuthorize("hasRole('TECHNICIAN')")
    public JobView addNote(UUID id, String text, @Nullable Instant occurredAt) {
        return addNote(id, text, null, occurredAt);
    }

    /** The same, about a phase: the one that runs, or that was done last. */
    @Transactional
    @PreAuthorize("hasRole('TECHNICIAN')")
    public JobView addNote(UUID id, String text, @Nullable UUID phase, @Nullable Instant occurredAt) {
        if (text.isBlank() || text.length() > 4000) {
            throw new Invalid("text", "A note has 1 to 4000 characters");
        }
        var job = access.performed(id);
        job.record("noted on");
        records.addNote(
                job,
                Ids.next(clock.instant()),
                text.trim(),
                phase,
                access.told(job, occurredAt, null, clock.instant()),
                Acting.require().name());
        return view(access.touched(job));
    }

    /**
     * Adds a photo, JPEG or PNG; the same one twice is there once. The picture is worked on between two transactions, so
     * that it holds no connection; what may have changed meanwhile is asked again under the job's lock.
     */
    @PreAuthorize("hasRole('TECHNICIAN')")
    public JobView addPhoto(UUID id, PhotoShows shows, InputStream content, @Nullable Instant occurredAt) {
        return addPhoto(id, shows, content, null, occurredAt);
    }

    /** The same, of a phase. */
    @PreAuthorize("hasRole('TECHNICIAN')")
    public JobView addPhoto(
            UUID id, PhotoShows shows, InputStream content, @Nullable UUID phase, @Nullable Instant occurredAt) {
        return addPhoto(id, shows, content, phase, occurredAt, null);
    }

    /** The same, at a time by the clock of a device. */
    @PreAuthorize("hasRole('TECHNICIAN')")
    public JobView addPhoto(
            UUID id,
            PhotoShows shows,
            InputStream content,
            @Nullable UUID phase,
            @Nullable Instant occurredAt,
            @Nullable Instant deviceClock) {
        var fleetOfJob = transaction.execute(status -> {
            var job = access.performed(id);
            checkRoom(job);
            return new TenantId(job.fleet());
        });
        var file = photos.keep(fleetOfJob, content, "photo");
        return transaction.execute(status -> {
            var job = access.touched(access.performed(id));
            checkRoom(job);
            checkOtherSlot(job, shows, file);
            var told = access.asked(
                    job,
                    access.told(job, occurredAt, deviceClock, clock.instant()),
                    file.takenAt(ZoneId.of(job.zone())));
            records.addPhoto(job, Ids.next(clock.instant()), shows, file, phase, told, Acting.require());
            return view(job);
        });
    }

    /** One picture does not show the glass before and after, however its file was written. */
    private void checkOtherSlot(Job job, PhotoShows shows, PhotoFile file) {
        if (shows == PhotoShows.OTHER) {
            return;
        }
        var other = shows == PhotoShows.BEFORE ? PhotoShows.AFTER : PhotoShows.BEFORE;
        if (records.photos(job).stream()
                .anyMatch(photo -> photo.shows() == other
                        && (photo.sha256().equals(file.sha256())
                                || file.pictureSha256().equals(photo.pictureSha256())))) {
            throw new Invalid(
                    "photo", "This very picture stands for " + Words.spoken(other) + " already. Take another one");
        }
    }

    private void checkRoom(Job job) {
        job.record("photographed");
        if (records.photos(job).size() >= MOST_PHOTOS) {
            throw new Invalid("photo", "A job has up to " + MOST_PHOTOS + " photos");
        }
    }

    /**
     * The look at the finished work: passed, it may be closed; failed, the work goes on. What whoever looks lets pass is judged
     * by the sheets of the brief: where they say no the work goes on too, and where they cannot tell it is said what to measure.
     */
    @Transactional
    @PreAuthorize("hasRole('TECHNICIAN')")
    public JobView inspect(UUID id, @Valid InspectJob command) {
        var lets = command.passed();
        var why = lets ? null : Reason.given(Objects.requireNonNullElse(command.reason(), ""));
        var job = access.performed(id);
        job.record("inspected");
        var phases = records.phases(job);
        var told = access.told(job, command.occurredAt(), command.deviceClock(), clock.instant())
                .notBefore(lastEnd(phases), "occurredAt", "The work still went on then: it is looked over after it");
        var at = told.at();
        if (lets && job.state() != JobState.UNDER_WAY) {
            throw JobRefused.inState("inspected", job.state());
        }
        if (lets && job.work() == Work.REPAIR && phases.isEmpty()) {
            throw new JobRefused("nothing-done", "No phase of the work is recorded yet, so there is nothing to pass");
        }
        if (lets) {
            var unfinished = closing.unfinished(job);
            if (!unfinished.isEmpty()) {
                throw new JobRefused("not-finished", "It cannot be passed yet. " + String.join(" ", unfinished));
            }
        }
        var judged = lets || !command.found().isEmpty()
                ? finished.judge(
                        access.brief(job),
                        command.found(),
                        at,
                        ZoneId.of(job.zone()),
                        Acting.require().name())
                : Optional.<JobAcceptance>empty();
        var said = judged.map(JobAcceptance::result).orElse(org.quarterlight.eligibility.Result.YES);
        if (lets && said == org.quarterlight.eligibility.Result.UNCLEAR) {
            throw new JobRefused(
                    "not-measured",
                    "It cannot be passed yet. " + judged.orElseThrow().sentence());
        }
        var passed = lets && said == org.quarterlight.eligibility.Result.YES;
        var because = passed ? null : why != null ? why : judged.orElseThrow().sentence();
        if (because != null) {
            records.addNote(
                    job,
                    Ids.next(clock.instant()),
                    "Not passed: " + because,
                    null,
                    told,
                    Acting.require().name());
        }
        return changed(
                job,
                passed ? "passed" : "failed",
                Objects.requireNonNullElse(because, ""),
                each -> each.inspected(
                        passed,
                        because,
                        judged.map(finished::written).orElse(null),
                        told,
                        Acting.require().person()));
    }

    /** Closes an inspected job whose record is complete; what is missing is told all at once. */
    @Transactional
    @PreAuthorize("hasRole('TECHNICIAN')")
    public JobView close(UUID id, @Valid CloseJob command) {
        var job = access.performed(id);
        if (job.state() != JobState.INSPECTED && job.state() != JobState.UNDER_WAY) {
            throw JobRefused.inState("closed", job.state());
        }
        finished.check(job, command);
        var told = access.told(job, command.occurredAt(), command.deviceClock(), clock.instant())
                .notBefore(job.inspectedAt(), "occurredAt", "The work had not passed the look over then");
        var at = told.at();
        var gaps = closing.gaps(job, command, told);
        if (!gaps.isEmpty()) {
            throw new ClosingBlocked(gaps);
        }
        var fitted = job.work() == Work.REPLACEMENT ? Ids.next(clock.instant()) : null;
        var result = Objects.requireNonNull(command.result());
        job.close(
                result,
                Objects.requireNonNull(command.notes()).trim(),
                lotNumber(job, command, told),
                fitted,
                command.glassMarking(),
                told,
                Acting.require().name());
        // First the job: of two who end it at once, one is told that it was changed, and it is charged once.
        jobs.saveAndFlush(job);
        charges.fix(job, false, at);
        access.tell("closed", job, result.name().toLowerCase(Locale.ROOT));
        events.publishEvent(new JobClosed(
                new TenantId(job.fleet()),
                job.id(),
                job.work(),
                job.vehicle(),
                fitted,
                command.glassMarking(),
                access.brief(job).damages().stream()
                        .map(JobBrief.BriefDamage::id)
                        .toList(),
                at));
        var closed = view(job);
        certificates.issue(closed);
        return closed;
    }

    /** It cannot be repaired after all. The record stays, and the fleet gets a request for new glass. */
    @Transactional
    @PreAuthorize("hasRole('TECHNICIAN')")
    public JobView abandon(UUID id, String reason, @Nullable Instant occurredAt) {
        var why = Reason.given(reason);
        var view = asPerformer(id, "abandoned", why, job -> {
            var told = abandonedAt(job, occurredAt);
            job.abandon(why, told, Acting.require().name());
            jobs.saveAndFlush(job); // before its charge, as in close
            charges.fix(job, true, told.at());
        });
        events.publishEvent(
                new JobAbandoned(new TenantId(view.fleet()), id, why, Objects.requireNonNull(view.endedAt())));
        return view;
    }

    private Told abandonedAt(Job job, @Nullable Instant occurredAt) {
        return access.told(job, occurredAt, null, clock.instant())
                .notBefore(lastEnd(records.phases(job)), "occurredAt", "The work still went on then");
    }

    private static @Nullable Instant lastEnd(List<JobPhase> phases) {
        return phases.stream()
                .map(phase -> phase.endedAt() == null ? phase.startedAt() : phase.endedAt())
                .max(Comparator.naturalOrder())
                .orElse(null);
    }

    // What happens in the fleet after the performer has done something

    /** Hearing of a closed job, as the fleet: events may be delivered twice; the second time changes nothing. */
    @ApplicationModuleListener
    void on(JobClosed event) {
        certificates.witness(event.job());
        if (event.work() == Work.REPAIR) {
            var closed = jobs.findByTenantIdAndId(Tenants.require().value(), event.job())
                    .orElseThrow();
            var acceptance = finished.of(closed);
            var looked = acceptance == null
                    ? Map.<UUID, Acceptance>of()
                    : acceptance.damages().stream()
                            .collect(Collectors.toMap(
                                    JobAcceptance.OfDamage::damage, JobAcceptance.OfDamage::acceptance));
            damages.repaired(event.damages(), event.job(), event.at(), looked);
        } else {
            fit(event);
        }
    }

    /** What has happened to the vehicle since cannot undo the work; it is written down for somebody to look at. */
    private void fit(JobClosed event) {
        var job =
                jobs.findByTenantIdAndId(Tenants.require().value(), event.job()).orElseThrow();
        var carried = fleet.glazing(event.vehicle());
        if (carried.vehicle().retired()) {
            access.tell("closed, but could not fit the new glass of", job, "the vehicle has left the fleet");
        } else if (!carried.windscreen().equals(job.windscreen())
                && !carried.windscreen().equals(event.fitted())) {
            access.tell("closed, but could not fit the new glass of", job, "the vehicle has got other glass meanwhile");
        } else {
            var day = event.at().atZone(ZoneId.of(job.zone())).toLocalDate();
            fleet.fitted(
                    event.vehicle(),
                    new FitWindscreen(
                            event.fitted(), null, day, event.glassMarking(), "replaced by job " + job.number()),
                    event.at());
        }
    }

    @ApplicationModuleListener
    void on(JobAbandoned event) {
        var organisation = Tenants.require().value();
        Locks.work(jdbc, "job"); // before the damages, as where somebody asks for a job
        if (!jobs.findByTenantIdAndFollowsId(organisation, event.job()).isEmpty()) {
            return;
        }
        var abandoned = jobs.findByTenantIdAndId(organisation, event.job()).orElseThrow();
        var ids = access.brief(abandoned).damages().stream()
                .map(JobBrief.BriefDamage::id)
                .toList();
        var chosen = facts.damages(ids).stream()
                .filter(damage -> damage.state() != DamageState.CLOSED)
                .toList();
        if (chosen.isEmpty()) {
            return; // new glass came meanwhile
        }
        if (abandoned.work() == Work.REPAIR) {
            var open = chosen.stream().map(DamageView::id).toList();
            damages.repairAbandoned(
                    open,
                    new AbandonedRepair(
                            abandoned.number(),
                            Objects.requireNonNullElse(abandoned.endedBy(), abandoned.performerName()),
                            event.reason(),
                            event.at()));
            chosen = facts.damages(open);
        }
        var next = make(
                Work.REPLACEMENT,
                chosen.getFirst().windscreen(),
                chosen,
                event.job(),
                false,
                event.at(),
                "Job " + abandoned.number());
        damages.handOver(event.job(), next.id());
    }

    @ApplicationModuleListener
    void on(JobHandedBack event) {
        var job =
                jobs.findByTenantIdAndId(Tenants.require().value(), event.job()).orElseThrow();
        if (job.state() == JobState.APPROVED && !job.performer().equals(job.fleet())) {
            job.share(job.fleet(), access.brief(job).fleet());
            jobs.saveAndFlush(job);
            access.tell("got back", job, event.reason());
        }
    }

    /**
     * Hearing that a repairer works for the fleet no longer: what it has not begun comes back. Work that has begun is ended
     * by whoever has their tools on the glass.
     */
    @ApplicationModuleListener
    void on(PartnerEnded event) {
        var why = event.repairerName() + " works for the fleet no longer";
        jdbc.sql("""
            select id from job where tenant_id = :organisation and performer_id = :repairer
                and state in ('APPROVED', 'PLANNED') order by id\
            """)
                .param("organisation", Tenants.require().value())
                .param("repairer", event.repairer())
                .query(UUID.class)
                .list()
                .forEach(id -> takenBack(id, why));
    }

    private void takenBack(UUID id, String why) {
        var job = jobs.findByTenantIdAndId(Tenants.require().value(), id).orElseThrow();
        var planned = job.state() == JobState.PLANNED;
        job.leave(why);
        jobs.saveAndFlush(job);
        var back = new JobHandedBack(new TenantId(job.fleet()), id, why);
        events.publishEvent(planned ? new JobLeftPlan(new TenantId(job.performer()), id, back) : back);
        if (planned) {
            events.publishEvent(new JobDayMoved(new TenantId(job.fleet()), id));
        }
    }

    // Photos

    /** The picture, a JPEG, for both parties. */
    @Transactional(readOnly = true)
    @PreAuthorize(PARTIES)
    public Resource photo(UUID id, UUID photo, PhotoSize size) {
        var job = access.find(id);
        var known = records.photos(job).stream()
                .filter(each -> each.id().equals(photo))
                .findFirst()
                .orElseThrow(() -> new JobNotFound(photo));
        return photos.shown(new TenantId(job.fleet()), known.sha256(), size);
    }

    /** A photo of the damage that the brief names. */
    @Transactional(readOnly = true)
    @PreAuthorize(PARTIES)
    public Resource briefPhoto(UUID id, String sha256, PhotoSize size) {
        var job = access.find(id);
        if (access.brief(job).damages().stream()
                .noneMatch(damage -> damage.photos().contains(sha256))) {
            throw new JobNotFound(id);
        }
        return photos.shown(new TenantId(job.fleet()), sha256, size);
    }

    @Override
    public Set<String> inUse(TenantId owner, Collection<String> sha256) {
        return PhotoReferences.in("job_photo", jdbc, owner, sha256);
    }

    // Within

    /** Whoever repaired it makes it good, as long as they still work for the fleet. */
    private void backToWhoeverFailed(Job failed, Job job) {
        activePartner(each -> each.repairer().equals(failed.performer()))
                .filter(partner -> against(partner, job).isEmpty())
                .ifPresent(partner -> job.share(partner.repairer(), partner.repairerName()));
    }

    /** Under the partnership's lock: it neither ends nor is limited while a job is given by it. */
    private Optional<String> against(PartnerView partner, Job job) {
        Locks.row(jdbc, "partner", partner.id());
        if (partners.partner(partner.id()).state() != PartnerState.ACTIVE) {
            return Optional.of("This repairer does not work for you");
        }
        var depot = access.brief(job).depot();
        return limits.against(partner, depot.id(), depot.name(), LocalDate.now(clock.withZone(depot.zone())));
    }

    private Optional<PartnerView> activePartner(Predicate<PartnerView> which) {
        return partners.list(PartnerState.ACTIVE, SliceRequest.most()).items().stream()
                .filter(which)
                .findFirst();
    }

    /** The closed job whose repair of these damages failed. */
    private Job failed(UUID id, List<DamageView> chosen) {
        var job = jobs.findByTenantIdAndId(Tenants.require().value(), id)
                .orElseThrow(() -> new Invalid("warrantyFor", "There is no such job"));
        if (job.state() != JobState.CLOSED || job.work() != Work.REPAIR) {
            throw new Invalid("warrantyFor", "Only a closed repair can fail afterwards");
        }
        if (!fleet.glazingOfWindscreen(chosen.getFirst().windscreen()).fitted()) {
            throw new Invalid("warrantyFor", "The glass of that job is no longer fitted");
        }
        for (var damage : chosen) {
            var cameBack = id.equals(damage.job()) && damage.closedAs() == ClosedAs.REPAIRED;
            var below = damage.samePlace();
            var reportedAnew = damage.state() != DamageState.CLOSED && below != null && id.equals(below.job());
            if (!cameBack && !reportedAnew) {
                throw new Invalid("damages", "Damage " + damage.number() + " was not repaired by that job last");
            }
        }
        return job;
    }

    private Job make(
            Work work,
            UUID windscreen,
            List<DamageView> chosen,
            @Nullable UUID follows,
            boolean warranty,
            Instant at,
            String by) {
        var organisation = Tenants.require().value();
        var written = briefs.about(work, windscreen, chosen);
        Locks.work(jdbc, "job");
        var number = jdbc.sql("select coalesce(max(number), 0) + 1 from job where tenant_id = :organisation")
                .param("organisation", organisation)
                .query(Integer.class)
                .single();
        var depot = written.brief().depot();
        var job = jobs.saveAndFlush(new Job(new Job.Order(
                Ids.next(clock.instant()),
                organisation,
                written.brief().fleet(),
                number,
                work,
                written.glazing().vehicle().id(),
                windscreen,
                written.brief().registration(),
                Fleet.key(written.brief().registration()),
                depot.name(),
                depot.zone().getId(),
                written.actBy(),
                json.writeValueAsString(written.brief()),
                follows,
                warranty,
                at,
                by)));
        access.tell("requested", job, "");
        return job;
    }

    /** Writes down that the lot named in the end went in too; the first resin is the one that the record names. */
    private @Nullable String lotNumber(Job job, CloseJob command, Told told) {
        if (command.resinLot() != null) {
            materials.use(command.resinLot(), job.id(), "", told.orNow());
            return materials.lot(command.resinLot()).number();
        }
        return materials.usedIn(job.id()).stream()
                .filter(use -> use.kind() == LotKind.RESIN || job.work() == Work.REPLACEMENT)
                .map(LotUse::lotNumber)
                .findFirst()
                .orElse(null);
    }

    private JobView asFleet(UUID id, String action, String detail, Consumer<Job> verb) {
        var job = jobs.findByTenantIdAndId(Tenants.require().value(), id).orElseThrow(() -> new JobNotFound(id));
        return changed(job, action, detail, verb);
    }

    private JobView asPerformer(UUID id, String action, String detail, Consumer<Job> verb) {
        return changed(access.performed(id), action, detail, verb);
    }

    private JobView changed(Job job, String action, String detail, Consumer<Job> verb) {
        verb.accept(job);
        jobs.saveAndFlush(job);
        access.tell(action, job, detail);
        return view(job);
    }

    private String technicianName(UUID person) {
        return technicianCalled(person)
                .orElseThrow(() -> new Invalid("technician", "This is none of your technicians"));
    }

    private Optional<String> technicianCalled(UUID person) {
        return people.technician(person).map(Member::name);
    }

    private ListQuery filtered(JobFilter filter) {
        var side = JobAccess.asRepairer() ? "j.performer_id" : "j.tenant_id";
        var list = new ListQuery("""
            j.id, j.number, j.work, j.state, j.tenant_id, o.name as fleet_name, j.performer_id,
            j.performer_name, j.vehicle_id, j.registration, j.depot_name, j.zone, j.act_by, j.technician_id,
            j.technician_name, j.planned_on, j.requested_at, j.ended_at\
            """, "job j join organisation o on" + " o.id = j.tenant_id")
                .where(
                        side + " = :organisation",
                        "organisation",
                        Tenants.require().value())
                .whereGiven(
                        "j.state = :state",
                        "state",
                        filter.state() == null ? null : filter.state().name())
                .whereGiven("j.performer_id = :performer", "performer", filter.performer())
                .whereGiven("j.technician_id = :technician", "technician", filter.technician())
                .whereGiven("j.planned_on = :date", "date", filter.date())
                .whereGiven("j.act_by <= :dueBy", "dueBy", filter.dueBy())
                .whereGiven("j.vehicle_id = :vehicle", "vehicle", filter.vehicle());
        if (filter.open()) {
            list.where("j.state in ('REQUESTED', 'APPROVED', 'PLANNED', 'UNDER_WAY', 'INSPECTED')");
        }
        if (filter.search() != null && !filter.search().isBlank()) {
            var from = Fleet.key(filter.search());
            list.where("j.registration_key >= :from", "from", from)
                    .where("j.registration_key < :to", "to", from + Character.MAX_VALUE);
        }
        return list;
    }

    private Instant time(@Nullable Instant given) {
        return OccurredAt.of(given, clock.instant());
    }

    private Instant time(@Nullable Instant given, Job job) {
        return JobAccess.at(job, given, clock.instant());
    }

    private JobView view(Job job) {
        return views.of(job);
    }

    private static @Nullable Instant instant(ResultSet row, String column) throws SQLException {
        var time = row.getObject(column, OffsetDateTime.class);
        return time == null ? null : time.toInstant();
    }

    private static JobRow row(ResultSet row, int number) throws SQLException {
        var ended = row.getObject("ended_at", OffsetDateTime.class);
        return new JobRow(
                row.getObject("id", UUID.class),
                row.getInt("number"),
                Work.valueOf(row.getString("work")),
                JobState.valueOf(row.getString("state")),
                row.getObject("tenant_id", UUID.class),
                row.getString("fleet_name"),
                row.getObject("performer_id", UUID.class),
                row.getString("performer_name"),
                row.getObject("vehicle_id", UUID.class),
                row.getString("registration"),
                row.getString("depot_name"),
                ZoneId.of(row.getString("zone")),
                row.getObject("act_by", LocalDate.class),
                row.getObject("technician_id", UUID.class),
                row.getString("technician_name"),
                row.getObject("planned_on", LocalDate.class),
                row.getObject("requested_at", OffsetDateTime.class).toInstant(),
                ended == null ? null : ended.toInstant());
    }
}

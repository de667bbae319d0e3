package org.quarterlight.damage;

import jakarta.persistence.EntityManager;
import jakarta.persistence.LockModeType;
import jakarta.validation.Valid;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.Collection;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Consumer;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.quarterlight.eligibility.Acceptance;
import org.quarterlight.eligibility.Choices;
import org.quarterlight.eligibility.DamageFacts;
import org.quarterlight.eligibility.Eligibility;
import org.quarterlight.eligibility.GlassJudge;
import org.quarterlight.eligibility.Outcome;
import org.quarterlight.eligibility.Sheet;
import org.quarterlight.eligibility.Verdict;
import org.quarterlight.fleet.CabCodes;
import org.quarterlight.fleet.Condition;
import org.quarterlight.fleet.Fleet;
import org.quarterlight.fleet.GlassCorrected;
import org.quarterlight.fleet.GlassPatterns;
import org.quarterlight.fleet.Glazing;
import org.quarterlight.fleet.VehicleFactsChanged;
import org.quarterlight.fleet.VehicleNotFound;
import org.quarterlight.fleet.WindscreenFitted;
import org.quarterlight.glass.DamageKind;
import org.quarterlight.history.History;
import org.quarterlight.kernel.Ids;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.kernel.OccurredAt;
import org.quarterlight.kernel.Reason;
import org.quarterlight.rulebook.Rulebook;
import org.quarterlight.rulebook.RulesChosen;
import org.quarterlight.rulebook.SheetNotFound;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.tenancy.Locks;
import org.quarterlight.tenancy.Role;
import org.quarterlight.tenancy.Tenants;
import org.quarterlight.web.ListQuery;
import org.quarterlight.web.Slice;
import org.quarterlight.web.SliceRequest;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.modulith.events.ApplicationModuleListener;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;
import org.springframework.validation.annotation.Validated;

/** Takes reports of damage and what is seen later, has them judged, and follows each damage to its end. */
@Service
@Validated
public class DamageReporting {
    static final int JUDGED_AT_ONCE = 100;
    private static final int COMPUTED_AGAIN = 30;
    private static final UUID FIRST = new UUID(0, 0);
    private static final UUID LAST = new UUID(-1, -1);
    private static final String READERS = "hasAnyRole('MANAGER', 'DISPATCHER', 'TECHNICIAN', 'DRIVER')";
    /** A device's clock may be this far ahead. */
    private static final Duration CLOCKS_DIFFER = Duration.ofMinutes(5);

    private static final Duration CAB_CODE_LOOKS_BACK = Duration.ofHours(2);
    private static final ListQuery.Order NEWEST = ListQuery.Order.descending(
            "newest", new ListQuery.Key("g.occurred_at", "timestamptz"), new ListQuery.Key("g.id", "uuid"));
    private static final ListQuery.Order WORST_FIRST = ListQuery.Order.ascending(
            "worst",
            new ListQuery.Key("g.rank", "smallint"),
            new ListQuery.Key("g.act_by", "date"),
            new ListQuery.Key("g.id", "uuid"));

    private static final ListQuery.Order FIRST_TO_PASS = ListQuery.Order.ascending(
            "passes", new ListQuery.Key("g.passes_on", "date"), new ListQuery.Key("g.id", "uuid"));

    /** Ours, as where damages are judged together: what is reported nearer to a finished repair is taken for the same place. */
    private static final double SAME_PLACE_MM = 10;

    private final DamageRepository damages;
    private final ObservationRepository observations;
    private final Verdicts verdicts;
    private final Fleet fleet;
    private final CabCodes cabCodes;
    private final GlassPatterns patterns;
    private final Rulebook rulebook;
    private final History history;
    private final ApplicationEventPublisher events;
    private final JdbcClient jdbc;
    private final EntityManager entityManager;
    private final GrowthWatch watch;
    private final Clock clock;

    DamageReporting(
            DamageRepository damages,
            ObservationRepository observations,
            Verdicts verdicts,
            Fleet fleet,
            CabCodes cabCodes,
            GlassPatterns patterns,
            Rulebook rulebook,
            History history,
            ApplicationEventPublisher events,
            JdbcClient jdbc,
            EntityManager entityManager,
            GrowthWatch watch,
            Clock clock) {
        this.damages = damages;
        this.observations = observations;
        this.verdicts = verdicts;
        this.fleet = fleet;
        this.cabCodes = cabCodes;
        this.patterns = patterns;
        this.rulebook = rulebook;
        this.history = history;
        this.events = events;
        this.jdbc = jdbc;
        this.entityManager = entityManager;
        this.watch = watch;
        this.clock = clock;
    }

    /** Takes a new damage on the glass that the vehicle carries now, and judges it. A cab code reports for its vehicle only. */
    @Transactional
    @PreAuthorize("hasAnyRole('DRIVER', 'MANAGER', 'DISPATCHER', 'TECHNICIAN', 'CAB_CODE')")
    public DamageView report(@Valid ReportDamage command) {
        var acting = Acting.require();
        if (acting.is(Role.CAB_CODE) && !cabCodes.vehicleOf(acting).equals(command.vehicleId())) {
            throw new Invalid("vehicleId", "This code is for another vehicle");
        }
        var glazing = glazing(command.vehicleId());
        if (glazing.vehicle().retired()) {
            throw new Invalid("vehicleId", glazing.vehicle().registration() + " has left the fleet");
        }
        var now = clock.instant();
        var occurredAt = OccurredAt.of(command.occurredAt(), now);
        var seen = ShapeCheck.sized(glazing, command.kind(), command.observation(), occurredAt);
        checkGlass(glazing, occurredAt);
        Locks.row(jdbc, "windscreen", glazing.windscreen());
        var damage = damages.saveAndFlush(new Damage(
                Ids.next(now),
                command.vehicleId(),
                glazing.windscreen(),
                nextNumber(glazing.windscreen()),
                command.kind(),
                occurredAt,
                now,
                new Damage.Reporter(acting.name(), acting.person(), acting.is(Role.CAB_CODE) ? acting.token() : null),
                Objects.requireNonNull(seen.diameterMm()),
                occurredAt.atZone(glazing.depot().zone()).toLocalDate()));
        see(damage, command.kind(), seen, occurredAt, now, acting.name());
        lookBelow(damage);
        judge(glazing);
        history.add("reported", "damage", damage.id(), glazing.vehicle().registration());
        var view = view(damage, glazing);
        events.publishEvent(new DamageReported(
                Tenants.require(),
                view.id(),
                command.vehicleId(),
                view.verdict().outcome()));
        return view;
    }

    /** Adds what was seen later. The glass is judged again. */
    @Transactional
    @PreAuthorize("hasAnyRole('MANAGER', 'TECHNICIAN')")
    public DamageView observe(UUID id, @Valid ObserveDamage command) {
        return observed(id, command, Acting.require().name());
    }

    /** The same, told by whoever repairs for this organisation; their right was checked where they said it. */
    @Transactional
    public DamageView observed(UUID id, ObserveDamage command, String by) {
        var damage = find(id);
        var glazing = fleet.glazingOfWindscreen(damage.windscreen());
        var now = clock.instant();
        var kind = Objects.requireNonNullElse(command.kind(), damage.kind());
        var seenAt = OccurredAt.of(command.occurredAt(), now);
        damage.checkNotClosed();
        var newest = newest(List.of(damage)).get(damage.id());
        var said = command.observation();
        if (said.arisenOn() == null && newest != null) {
            said = said.arisenOn(newest.arisenOn());
        }
        var seen = ShapeCheck.sized(glazing, kind, said, seenAt, newest == null ? null : newest.view());
        if (newest == null || !seenAt.isBefore(newest.seenAt())) {
            damage.observed(kind, Objects.requireNonNull(seen.diameterMm()));
            damages.saveAndFlush(damage);
        }
        see(damage, kind, seen, seenAt, now, by);
        judge(glazing);
        history.add("observed", "damage", id, glazing.vehicle().registration());
        return view(find(id), glazing);
    }

    /** It lies where a repair is, and has nothing to do with it. */
    @Transactional
    @PreAuthorize("hasAnyRole('MANAGER', 'TECHNICIAN')")
    public DamageView another(UUID id) {
        var damage = find(id);
        damage.checkNotClosed();
        var before = damage.samePlace();
        damage.isAnother();
        damages.saveAndFlush(damage);
        if (before != null) {
            history.add(
                    "told from the repair below it",
                    "damage",
                    id,
                    "not damage " + find(before).number());
        }
        return view(find(id), fleet.glazingOfWindscreen(damage.windscreen()));
    }

    /** It was no damage, or it was reported twice. */
    @Transactional
    @PreAuthorize("hasRole('MANAGER')")
    public DamageView withdraw(UUID id, String reason) {
        var why = Reason.given(reason);
        var damage = find(id);
        damage.withdraw(clock.instant(), why);
        damages.saveAndFlush(damage);
        var glazing = fleet.glazingOfWindscreen(damage.windscreen());
        judge(glazing);
        history.add("withdrew", "damage", id, why);
        return view(find(id), glazing);
    }

    /**
     * An inspector looked and it is not there any more: repaired or replaced by somebody who told nobody, or it never was
     * a damage. Whoever inspected had the right.
     */
    @Transactional
    public void foundGone(UUID id, ClosedAs how, Instant at, String reason) {
        var damage = find(id);
        damage.gone(how, at, reason);
        damages.saveAndFlush(damage);
        judge(fleet.glazingOfWindscreen(damage.windscreen()));
        history.add("found gone", "damage", id, reason);
    }

    /**
     * An inspector found that its finished repair has failed. Where a job of the fleet's repaired it, a manager asks for
     * that to be made good; where nobody knows who did, it is open again at once. Whoever inspected had the right.
     */
    @Transactional
    public void foundFailed(UUID id, Instant at, String reason) {
        var damage = find(id);
        damage.foundFailed(at, reason);
        if (damage.job() == null) {
            damage.repairFailed();
        }
        damages.saveAndFlush(damage);
        judge(fleet.glazingOfWindscreen(damage.windscreen()));
        history.add("found the repair failed of", "damage", id, reason);
    }

    @Transactional(readOnly = true)
    @PreAuthorize("hasAnyRole('MANAGER', 'DISPATCHER', 'TECHNICIAN', 'DRIVER', 'CAB_CODE')")
    public DamageView damage(UUID id) {
        var damage = visible(id);
        return view(damage, fleet.glazingOfWindscreen(damage.windscreen()));
    }

    /** Asks nobody's right: for work in the name of the organisation. */
    List<DamageView> known(List<UUID> ids) {
        var found = damages.findByTenantIdAndIdIn(organisation(), ids).stream()
                .collect(Collectors.toMap(Damage::id, damage -> damage));
        var views = new HashMap<UUID, DamageView>();
        ids.stream()
                .map(id -> Optional.ofNullable(found.get(id)).orElseThrow(() -> new DamageNotFound(id)))
                .collect(Collectors.groupingBy(Damage::windscreen))
                .forEach((windscreen, all) ->
                        views(all, fleet.glazingOfWindscreen(windscreen)).forEach(view -> views.put(view.id(), view)));
        return ids.stream().map(id -> Objects.requireNonNull(views.get(id))).toList();
    }

    @Transactional(readOnly = true)
    @PreAuthorize(READERS)
    public Slice<DamageRow> list(DamageFilter filter, SliceRequest wanted) {
        var order = filter.sort() == DamageFilter.Sort.WORST_FIRST
                ? WORST_FIRST
                : filter.sort() == DamageFilter.Sort.FIRST_TO_PASS ? FIRST_TO_PASS : NEWEST;
        return filtered(filter).slice(jdbc, order, wanted, this::row);
    }

    /** Up to {@link ListQuery#COUNTED_AT_MOST} + 1. */
    @Transactional(readOnly = true)
    @PreAuthorize(READERS)
    public long count(DamageFilter filter) {
        return filtered(filter).count(jdbc);
    }

    /** How much is open in the whole fleet, by verdict and by how long it has been there; worst first. */
    @Transactional(readOnly = true)
    @PreAuthorize(READERS)
    public List<OpenByAge> openByAge() {
        var now = clock.instant();
        return jdbc.sql("""
            select outcome, count(*) filter (where occurred_at > :week) as week,
                count(*) filter (where occurred_at <= :week and occurred_at > :month) as month,
                count(*) filter (where occurred_at <= :month) as older
            from damage where tenant_id = :organisation and state <> 'CLOSED' group by outcome, rank order by rank\
            """)
                .param("organisation", organisation())
                .param("week", time(now.minus(OpenByAge.WEEK)))
                .param("month", time(now.minus(OpenByAge.MONTH)))
                .query((row, number) -> new OpenByAge(
                        Outcome.valueOf(row.getString("outcome")),
                        row.getLong("week"),
                        row.getLong("month"),
                        row.getLong("older")))
                .list();
    }

    /** All that is open on the glass a vehicle carries now, as the drawing and a job need it. */
    @Transactional(readOnly = true)
    public List<DamageView> onGlass(UUID windscreen) {
        var glazing = fleet.glazingOfWindscreen(windscreen);
        return views(damages.findByTenantIdAndWindscreenIdOrderByNumber(organisation(), windscreen), glazing).stream()
                .filter(view -> view.closedAs() == null || view.closedAs() == ClosedAs.REPAIRED)
                .toList();
    }

    /** All damages that the glass carried which a vehicle carries now, closed ones among them, and all that was seen of each. */
    @Transactional(readOnly = true)
    @PreAuthorize("hasAnyRole('MANAGER', 'DISPATCHER', 'TECHNICIAN')")
    public List<DamageOverTime> overTime(UUID vehicle) {
        var all = damages.findByTenantIdAndWindscreenIdOrderByNumber(
                organisation(), fleet.glazing(vehicle).windscreen());
        var seen = all.isEmpty()
                ? Map.<UUID, List<ObservationView>>of()
                : observations
                        .findByTenantIdAndDamageIdInOrderBySeenAtAscIdAsc(
                                organisation(), all.stream().map(Damage::id).toList())
                        .stream()
                        .collect(Collectors.groupingBy(
                                Observation::damage, Collectors.mapping(Observation::view, Collectors.toList())));
        return all.stream()
                .map(damage -> new DamageOverTime(
                        damage.id(),
                        damage.number(),
                        damage.kind(),
                        damage.state(),
                        damage.closedAs(),
                        damage.outcome(),
                        seen.getOrDefault(damage.id(), List.of())))
                .toList();
    }

    @Transactional(readOnly = true)
    @PreAuthorize(READERS)
    public List<ObservationView> observations(UUID id) {
        visible(id);
        return observations.findByTenantIdAndDamageIdOrderBySeenAtDescIdDesc(organisation(), id).stream()
                .map(Observation::view)
                .toList();
    }

    @Transactional(readOnly = true)
    @PreAuthorize(READERS)
    public List<Verdict> verdicts(UUID id) {
        visible(id);
        return verdicts.of(id).stream().map(Verdicts.Kept::verdict).toList();
    }

    /** The newest 30 of them, each computed again from what it was given on: observations, pattern, sheets and choices of then. */
    @Transactional(readOnly = true)
    @PreAuthorize(READERS)
    public List<VerdictAgain> verdictsAgain(UUID id) {
        visible(id);
        var kept = verdicts.of(id).stream().limit(COMPUTED_AGAIN).toList();
        var seen = observations
                .findByTenantIdAndIdIn(
                        organisation(),
                        kept.stream()
                                .flatMap(each -> each.with() == null ? Stream.of() : each.with().onGlass().stream())
                                .map(JudgedWith.OnGlass::observation)
                                .distinct()
                                .toList())
                .stream()
                .collect(Collectors.toMap(Observation::id, Function.identity()));
        return kept.stream()
                .map(each -> new VerdictAgain(each.verdict(), again(id, each, seen)))
                .toList();
    }

    private VerdictAgain.Again again(UUID damage, Verdicts.Kept kept, Map<UUID, Observation> seen) {
        var with = kept.with();
        var from = kept.verdict().judgedFrom();
        if (with == null) {
            return VerdictAgain.Again.UNKNOWN;
        }
        var facts = with.onGlass().stream()
                .map(each -> Objects.requireNonNull(seen.get(each.observation()), "an observation is never deleted")
                        .facts(each.finishedRepair(), with.zone()))
                .toList();
        List<Sheet> sheets;
        try {
            sheets = from.sheets().stream().map(rulebook::sheet).toList();
        } catch (SheetNotFound e) {
            return VerdictAgain.Again.UNKNOWN;
        }
        var pattern = from.pattern();
        var glazing = new org.quarterlight.eligibility.Glazing(
                patterns.drawn(UUID.fromString(pattern.id()), pattern.version()), pattern, with.vehicle());
        var again = Eligibility.judge(
                        glazing, facts, sheets, with.choices(), kept.verdict().judgedAt())
                .get(damage);
        var abandoned = with.onGlass().stream()
                .filter(each -> each.observation().equals(from.observation()))
                .map(JudgedWith.OnGlass::abandoned)
                .filter(Objects::nonNull)
                .findFirst()
                .orElse(null);
        return again != null
                        && verdicts.same(kept.verdict(), afterTrying(again, abandoned, with.zone(), with.choices()))
                ? VerdictAgain.Again.SAME
                : VerdictAgain.Again.DIFFERENT;
    }

    /** What a driver is told: whether to drive on. */
    @Transactional(readOnly = true)
    @PreAuthorize("hasAnyRole('MANAGER', 'DISPATCHER', 'TECHNICIAN', 'DRIVER', 'CAB_CODE')")
    public String forDriver(UUID id) {
        var damage = visible(id);
        var glazing = fleet.glazingOfWindscreen(damage.windscreen());
        var verdict = view(damage, glazing).verdict();
        var choices = rulebook.choices();
        if (damage.state() != DamageState.CLOSED
                && glazing.fitted()
                && glazing.vehicle().standsDownSince() == null
                && Eligibility.standsDown(verdict, glazing.vehicle().category(), choices)) {
            return "The rules say no, but a manager has let this vehicle be driven and said why. Ask before you drive.";
        }
        return Eligibility.forDriver(verdict, glazing.vehicle().category(), choices);
    }

    // What jobs say. Whoever says it had the right there.

    /** A job is about these damages from now on. */
    @Transactional
    public void takeInHand(Collection<UUID> ids, UUID job) {
        change(ids, damage -> damage.takeInHand(job));
    }

    /** The job came to nothing: its damages are open again. */
    @Transactional
    public void letGo(UUID job) {
        change(
                damages.findByTenantIdAndJobId(organisation(), job).stream()
                        .map(Damage::id)
                        .toList(),
                Damage::letGo);
    }

    /** Its job stands on another day than before, or on none. */
    @Transactional
    public void dayMoved(UUID job) {
        watch.jobMoved(job);
    }

    private static Verdict afterTrying(
            Verdict verdict, @Nullable AbandonedRepair abandoned, ZoneId zone, Choices choices) {
        return abandoned == null
                ? verdict
                : verdict.repairAbandoned(
                        abandoned.words(), abandoned.at().atZone(zone).toLocalDate(), choices);
    }

    /** Whoever tried to repair them could not: a person's finding, which no sheet outweighs. The glass is judged by it. */
    @Transactional
    public void repairAbandoned(Collection<UUID> ids, AbandonedRepair repair) {
        change(ids, damage -> damage.abandoned(repair));
        ids.forEach(id -> history.add("could not be repaired", "damage", id, repair.words()));
    }

    /** Hands the damages of one job to the one that follows it. */
    @Transactional
    public void handOver(UUID job, UUID next) {
        var ids = damages.findByTenantIdAndJobId(organisation(), job).stream()
                .map(Damage::id)
                .toList();
        change(ids, Damage::letGo);
        change(ids, damage -> damage.takeInHand(next));
    }

    /**
     * The damages are repaired; the rules may still count them. What the look over found of each is its last verdict, until
     * somebody says that the repair has failed.
     *
     * @param looked what the acceptance sheets say of each repair; empty where none was asked
     */
    @Transactional
    public void repaired(Collection<UUID> ids, UUID job, Instant at, Map<UUID, Acceptance> looked) {
        // Heard of at any time: whoever reports on the same glass at this moment comes before or after it.
        jdbc.sql("""
            select id from windscreen where tenant_id = :organisation and id in (
                select windscreen_id from damage where tenant_id = :organisation and id in (:ids))
            order by id for update\
            """)
                .param("organisation", organisation())
                .param("ids", ids)
                .query(UUID.class)
                .list();
        change(ids, damage -> damage.repaired(job, at));
        var before = verdicts.newest(ids);
        damages.findByTenantIdAndIdIn(organisation(), ids).stream()
                .filter(damage -> damage.closedAs() == ClosedAs.REPAIRED && job.equals(damage.job()))
                .forEach(damage -> {
                    var acceptance = looked.get(damage.id());
                    var last = before.get(damage.id());
                    if (acceptance != null && last != null && last.answers().acceptable() == null) {
                        verdicts.add(damage.id(), last.looked(acceptance, clock.instant()), null, Optional.of(last));
                        entityManager.lock(damage, LockModeType.PESSIMISTIC_FORCE_INCREMENT);
                    }
                });
    }

    /** The repair of these damages failed: they are open again, and judged. */
    @Transactional
    public void repairFailed(Collection<UUID> ids) {
        change(ids, Damage::repairFailed);
    }

    /** Hearing of new glass: events may be delivered twice; the second time finds nothing open. */
    @ApplicationModuleListener
    void on(WindscreenFitted event) {
        damages.findByTenantIdAndWindscreenIdOrderByNumber(organisation(), event.removed())
                .forEach(damage -> damage.replaced(event.at()));
        damages.flush();
        noteCondition(event.vehicle(), fleet.glazing(event.vehicle()).windscreen());
    }

    @ApplicationModuleListener
    void on(GlassCorrected event) {
        judge(fleet.glazingOfWindscreen(event.windscreen()));
    }

    @ApplicationModuleListener
    void on(VehicleFactsChanged event) {
        event.vehicles().forEach(vehicle -> judge(fleet.glazing(vehicle)));
    }

    /** Judges everything that is not closed by the new choice, some glasses in each transaction. */
    @ApplicationModuleListener
    void on(RulesChosen event) {
        judgeSome(event.version(), FIRST);
    }

    @ApplicationModuleListener
    void on(JudgingGoesOn event) {
        judgeSome(event.version(), event.after());
    }

    private void judgeSome(int version, UUID after) {
        if (rulebook.version() != version) {
            return;
        }
        if (!begins(version, after)) {
            return;
        }
        var some = DamagedGlass.after(jdbc, after, JUDGED_AT_ONCE);
        some.forEach(windscreen -> judge(fleet.glazingOfWindscreen(windscreen), true));
        var goesOn = some.size() == JUDGED_AT_ONCE;
        jdbc.sql("update judging set judged_to = :to where tenant_id = :organisation")
                .param("to", goesOn ? some.getLast() : LAST)
                .param("organisation", organisation())
                .update();
        if (goesOn) {
            events.publishEvent(new JudgingGoesOn(Tenants.require(), version, some.getLast()));
        }
    }

    /**
     * Whether this part is still to be done: told twice, as after a service was stopped, it finds that the row has moved on.
     * The row is locked, so that two who are told the same at once come one after the other.
     */
    private boolean begins(int version, UUID after) {
        jdbc.sql("""
            insert into judging (tenant_id, version, judged_to, begun_at)
            values (:organisation, :version, :after, :now)
            on conflict (tenant_id) do update set version = excluded.version, judged_to = excluded.judged_to,
                begun_at = excluded.begun_at
            where judging.version < excluded.version\
            """)
                .param("organisation", organisation())
                .param("version", version)
                .param("after", after)
                .param("now", clock.instant().atOffset(ZoneOffset.UTC))
                .update();
        return jdbc.sql("""
            select true from judging where tenant_id = :organisation and version = :version and judged_to = :after
            for update\
            """)
                .param("organisation", organisation())
                .param("version", version)
                .param("after", after)
                .query(Boolean.class)
                .optional()
                .isPresent();
    }

    /** How many glasses are still to be judged by rules that were chosen anew; 0 where all are. */
    @Transactional(readOnly = true)
    @PreAuthorize("hasAnyRole('MANAGER', 'DISPATCHER', 'TECHNICIAN')")
    public long leftToJudge() {
        return jdbc.sql("select judged_to from judging where tenant_id = :organisation")
                .param("organisation", organisation())
                .query(UUID.class)
                .optional()
                .map(last -> DamagedGlass.countAfter(jdbc, last))
                .orElse(0L);
    }

    private void change(Collection<UUID> ids, Consumer<Damage> verb) {
        if (ids.isEmpty()) {
            return;
        }
        var found = damages.findByTenantIdAndIdIn(organisation(), ids);
        if (found.size() != ids.stream().distinct().count()) {
            throw new Invalid("damages", "One of these damages is not there");
        }
        found.forEach(verb);
        damages.flush();
        found.stream()
                .map(Damage::windscreen)
                .distinct()
                .forEach(windscreen -> judge(fleet.glazingOfWindscreen(windscreen)));
    }

    /** The finished repair that it lies on or next to, the nearest where there are several. */
    private void lookBelow(Damage damage) {
        var repaired = damages.findByTenantIdAndWindscreenIdOrderByNumber(organisation(), damage.windscreen()).stream()
                .filter(each -> each.closedAs() == ClosedAs.REPAIRED && each.job() != null)
                .filter(each -> each.closedAt() != null && !damage.occurredAt().isBefore(each.closedAt()))
                .toList();
        if (repaired.isEmpty()) {
            return;
        }
        var seen = newest(Stream.concat(Stream.of(damage), repaired.stream()).toList());
        var shape = observation(seen, damage).view().shape();
        var gaps = repaired.stream()
                .collect(Collectors.toMap(
                        Damage::id,
                        each -> Eligibility.gapMm(
                                shape, observation(seen, each).view().shape())));
        gaps.entrySet().stream()
                .filter(gap -> gap.getValue() <= SAME_PLACE_MM)
                .min(Map.Entry.comparingByValue())
                .ifPresent(gap -> {
                    damage.liesOn(gap.getKey());
                    damages.saveAndFlush(damage);
                });
    }

    private void see(Damage damage, DamageKind kind, SeenDamage seen, Instant at, Instant now, String by) {
        observations.saveAndFlush(new Observation(Ids.next(now), damage.id(), kind, seen, at, now, by));
    }

    /** What was seen before the present glass came was seen on another one, and went with it. */
    private static void checkGlass(Glazing glazing, Instant occurredAt) {
        var fitted = glazing.fittedOn();
        if (fitted != null
                && occurredAt.atZone(glazing.depot().zone()).toLocalDate().isBefore(fitted)) {
            throw new Invalid("occurredAt", "The present glass was fitted on " + fitted + ", after this day");
        }
    }

    /** Judges all damages of one glass together: rules may count several as one. */
    private void judge(Glazing glazing) {
        judge(glazing, false);
    }

    /**
     * @param chosenAnew whether it has just been chosen what takes a vehicle off the road; else only a verdict that says
     *     something new does, and a vehicle that somebody has cleared stays on it
     */
    private void judge(Glazing glazing, boolean chosenAnew) {
        var onGlass = counting(glazing.windscreen());
        var open = open(onGlass);
        if (!open.isEmpty()) {
            var seen = newest(onGlass);
            var zone = glazing.depot().zone();
            var facts = facts(onGlass, seen, zone);
            var choices = rulebook.choices();
            var judge = judgeOf(glazing, choices);
            var judged = judge.judge(facts, clock.instant());
            var with = new JudgedWith(
                    glazing.facts().vehicle(),
                    choices,
                    zone,
                    IntStream.range(0, facts.size())
                            .mapToObj(at -> new JudgedWith.OnGlass(
                                    facts.get(at).observation(),
                                    facts.get(at).finishedRepair(),
                                    facts.get(at).finishedRepair()
                                            ? null
                                            : onGlass.get(at).abandoned()))
                            .toList());
            var before = verdicts.newest(judged.keySet());
            for (var damage : open) {
                var verdict =
                        afterTrying(Objects.requireNonNull(judged.get(damage.id())), damage.abandoned(), zone, choices);
                var news = verdicts.add(damage.id(), verdict, with, Optional.ofNullable(before.get(damage.id())));
                damage.judged(
                        verdict,
                        Eligibility.untilMeasured(verdict, glazing.vehicle().category(), choices));
                if (news) {
                    // What is shown has changed, even where no column of the damage did.
                    entityManager.lock(damage, LockModeType.PESSIMISTIC_FORCE_INCREMENT);
                }
                if ((news || chosenAnew)
                        && glazing.fitted()
                        && Eligibility.standsDown(verdict, glazing.vehicle().category(), choices)) {
                    fleet.standDown(
                            glazing.vehicle().id(),
                            "Damage " + damage.number() + ": " + verdict.sentence(),
                            since(observation(seen, damage), before.get(damage.id())));
                }
            }
            watch.follow(open, facts, judge, zone);
            damages.flush();
        }
        if (glazing.fitted()) {
            noteCondition(glazing.vehicle().id(), glazing.windscreen());
        }
    }

    /** Notes when the open damages of a glass pass a limit, and leaves their verdicts as they are. */
    void follow(UUID windscreen) {
        var glazing = fleet.glazingOfWindscreen(windscreen);
        var onGlass = counting(windscreen);
        var zone = glazing.depot().zone();
        watch.follow(open(onGlass), facts(onGlass, newest(onGlass), zone), judgeOf(glazing, rulebook.choices()), zone);
        damages.flush();
    }

    /** What judging reads of a glass: what is open, and finished repairs, which rules may still count. */
    private List<Damage> counting(UUID windscreen) {
        return damages.findByTenantIdAndWindscreenIdOrderByNumber(organisation(), windscreen).stream()
                .filter(damage -> damage.state() != DamageState.CLOSED || damage.closedAs() == ClosedAs.REPAIRED)
                .toList();
    }

    private static List<Damage> open(List<Damage> all) {
        return all.stream()
                .filter(damage -> damage.state() != DamageState.CLOSED)
                .toList();
    }

    private static List<DamageFacts> facts(List<Damage> onGlass, Map<UUID, Observation> seen, ZoneId zone) {
        return onGlass.stream()
                .map(damage -> observation(seen, damage).facts(damage.closedAs() == ClosedAs.REPAIRED, zone))
                .toList();
    }

    private GlassJudge judgeOf(Glazing glazing, Choices choices) {
        var sheets = rulebook.sheetsFor(
                glazing.facts().vehicle(),
                glazing.depot().country(),
                glazing.depot().subdivision());
        return Eligibility.on(glazing.facts(), sheets, choices);
    }

    /** What was seen now takes the vehicle off the road from then on; what rules or facts changed, from now. */
    private Instant since(Observation seen, @Nullable Verdict before) {
        return before != null && before.judgedFrom().observation().equals(seen.id()) ? clock.instant() : seen.seenAt();
    }

    private void noteCondition(UUID vehicle, UUID windscreen) {
        var open = damages.findByTenantIdAndWindscreenIdOrderByNumber(organisation(), windscreen).stream()
                .filter(damage -> damage.state() != DamageState.CLOSED)
                .toList();
        fleet.note(
                vehicle,
                new Condition(
                        open.stream()
                                .map(Damage::outcome)
                                .min(Comparator.naturalOrder())
                                .orElse(null),
                        open.size(),
                        open.stream()
                                .map(Damage::occurredAt)
                                .min(Comparator.naturalOrder())
                                .orElse(null),
                        open.stream()
                                .map(Damage::actBy)
                                .min(Comparator.naturalOrder())
                                .orElse(null),
                        open.stream().anyMatch(Damage::untilMeasured)));
    }

    private Glazing glazing(UUID vehicle) {
        try {
            return fleet.glazing(vehicle);
        } catch (VehicleNotFound e) {
            throw new Invalid("vehicleId", "There is no such vehicle");
        }
    }

    private int nextNumber(UUID windscreen) {
        return jdbc.sql("""
            select coalesce(max(number), 0) + 1 from damage
            where tenant_id = :organisation and windscreen_id = :windscreen\
            """)
                .param("organisation", organisation())
                .param("windscreen", windscreen)
                .query(Integer.class)
                .single();
    }

    private Damage find(UUID id) {
        return damages.findByTenantIdAndId(organisation(), id).orElseThrow(() -> new DamageNotFound(id));
    }

    /** A driver sees their own reports, a cab code what it reported just now. */
    private Damage visible(UUID id) {
        var acting = Acting.require();
        var damage = find(id);
        var all = acting.isAny(Role.MANAGER, Role.DISPATCHER, Role.TECHNICIAN);
        var own = acting.is(Role.DRIVER) && Objects.equals(damage.person(), acting.person());
        var justNow = acting.is(Role.CAB_CODE)
                && Objects.equals(damage.cabCode(), acting.token())
                && damage.occurredAt().isAfter(clock.instant().minus(CAB_CODE_LOOKS_BACK));
        if (!(all || own || justNow)) {
            throw new DamageNotFound(id);
        }
        return damage;
    }

    private ListQuery filtered(DamageFilter filter) {
        var acting = Acting.require();
        var onlyOwn =
                Boolean.TRUE.equals(filter.mine()) || !acting.isAny(Role.MANAGER, Role.DISPATCHER, Role.TECHNICIAN);
        var list = new ListQuery("""
            g.id, g.number, g.vehicle_id, v.registration, v.depot_id, d.name as depot_name, d.zone, g.kind, g.state,
            g.closed_as, g.outcome, g.act_by, g.diameter_mm, g.occurred_at, g.reported_by, g.job_id, g.passes_on,
            g.planned_on, g.planned_by\
            """, """
                damage g
                join vehicle v on v.tenant_id = g.tenant_id and v.id = g.vehicle_id
                join depot d on d.tenant_id = v.tenant_id and d.id = v.depot_id\
                """)
                .where("g.tenant_id = :organisation", "organisation", organisation())
                .whereGiven("g.state = :state", "state", name(filter.state()))
                .whereGiven("g.outcome = :outcome", "outcome", name(filter.outcome()))
                // Says the same, and is what the index of the worst begins with.
                .whereGiven(
                        "g.rank = :rank",
                        "rank",
                        filter.outcome() == null ? null : filter.outcome().ordinal())
                .whereGiven("v.depot_id = :depot", "depot", filter.depot())
                .whereGiven("g.vehicle_id = :vehicle", "vehicle", filter.vehicle())
                .whereGiven("g.kind = :kind", "kind", name(filter.kind()))
                .whereGiven("g.occurred_at >= :from", "from", time(filter.reportedFrom()))
                .whereGiven("g.occurred_at < :to", "to", time(filter.reportedTo()))
                .whereGiven("g.act_by <= :dueBy", "dueBy", filter.dueBy())
                .whereGiven("g.person_id = :person", "person", onlyOwn ? acting.person() : null);
        if (filter.needs() == DamageFilter.Needs.DECISION) {
            list.where("g.state = 'OPEN' and g.outcome <> 'WATCH'");
        } else if (filter.needs() == DamageFilter.Needs.GROWTH) {
            list.where(GrowthWatch.GROWING);
        } else if (filter.needs() == DamageFilter.Needs.WARRANTY) {
            list.where("g.failed_at is not null");
        } else if (filter.sort() == DamageFilter.Sort.FIRST_TO_PASS) {
            list.where("g.passes_on is not null and g.state <> 'CLOSED'");
        } else if (filter.sort() == DamageFilter.Sort.WORST_FIRST && filter.state() == null) {
            list.where("g.state <> 'CLOSED'");
        }
        return list;
    }

    private DamageView view(Damage damage, Glazing glazing) {
        return views(List.of(damage), glazing).getFirst();
    }

    private List<DamageView> views(List<Damage> all, Glazing glazing) {
        var seen = newest(all);
        var judged = verdicts.newest(all.stream().map(Damage::id).toList());
        var below = below(all);
        return all.stream()
                .map(damage -> new DamageView(
                        damage.id(),
                        damage.number(),
                        damage.vehicle(),
                        glazing.vehicle().registration(),
                        damage.windscreen(),
                        damage.kind(),
                        damage.state(),
                        damage.closedAs(),
                        damage.closedAt(),
                        damage.closedBecause(),
                        damage.job(),
                        below.get(damage.id()),
                        damage.failedAt(),
                        damage.failedBecause(),
                        damage.occurredAt(),
                        damage.reportedBy(),
                        damage.actBy(),
                        observation(seen, damage).view(),
                        Objects.requireNonNull(judged.get(damage.id())),
                        damage.version()))
                .toList();
    }

    private Map<UUID, SamePlace> below(List<Damage> all) {
        var ids = all.stream()
                .map(Damage::samePlace)
                .filter(Objects::nonNull)
                .distinct()
                .toList();
        if (ids.isEmpty()) {
            return Map.of();
        }
        var repaired = damages.findByTenantIdAndIdIn(organisation(), ids).stream()
                .collect(Collectors.toMap(
                        Damage::id,
                        each -> new SamePlace(
                                each.id(),
                                each.number(),
                                each.closedAt(),
                                each.closedAs() == ClosedAs.REPAIRED ? each.job() : null)));
        return all.stream()
                .filter(damage -> damage.samePlace() != null)
                .collect(Collectors.toMap(
                        Damage::id,
                        damage -> Objects.requireNonNull(repaired.get(Objects.requireNonNull(damage.samePlace())))));
    }

    private Map<UUID, Observation> newest(List<Damage> all) {
        if (all.isEmpty()) {
            return new HashMap<>();
        }
        return observations.newest(organisation(), all.stream().map(Damage::id).toList()).stream()
                .collect(Collectors.toMap(Observation::damage, observation -> observation));
    }

    private static Observation observation(Map<UUID, Observation> seen, Damage damage) {
        return Objects.requireNonNull(seen.get(damage.id()), "a damage was seen at least once");
    }

    private static UUID organisation() {
        return Tenants.require().value();
    }

    private static @Nullable String name(@Nullable Enum<?> word) {
        return word == null ? null : word.name();
    }

    private static @Nullable OffsetDateTime time(@Nullable Instant instant) {
        return instant == null ? null : instant.atOffset(ZoneOffset.UTC);
    }

    private DamageRow row(ResultSet row, int number) throws SQLException {
        var closedAs = row.getString("closed_as");
        return new DamageRow(
                row.getObject("id", UUID.class),
                row.getInt("number"),
                row.getObject("vehicle_id", UUID.class),
                row.getString("registration"),
                row.getObject("depot_id", UUID.class),
                row.getString("depot_name"),
                ZoneId.of(row.getString("zone")),
                DamageKind.valueOf(row.getString("kind")),
                DamageState.valueOf(row.getString("state")),
                closedAs == null ? null : ClosedAs.valueOf(closedAs),
                Outcome.valueOf(row.getString("outcome")),
                row.getObject("act_by", LocalDate.class),
                row.getBigDecimal("diameter_mm"),
                row.getObject("occurred_at", OffsetDateTime.class).toInstant(),
                row.getString("reported_by"),
                row.getObject("job_id", UUID.class),
                passesFirst(row));
    }

    private DamageRow.@Nullable Growing passesFirst(ResultSet row) throws SQLException {
        var passes = row.getObject("passes_on", LocalDate.class);
        var planned = row.getObject("planned_on", LocalDate.class);
        var by = row.getString("planned_by");
        var missed = planned != null && planned.isBefore(LocalDate.now(clock));
        return passes == null
                        || "CLOSED".equals(row.getString("state"))
                        || planned != null && !missed && passes.isAfter(planned)
                ? null
                : new DamageRow.Growing(passes, planned, by == null ? null : PlannedBy.valueOf(by));
    }
}

package org.quarterlight.damage;

import jakarta.validation.Valid;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Clock;
import java.time.Duration;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.UUID;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.RejectedExecutionException;
import java.util.concurrent.ThreadPoolExecutor;
import java.util.concurrent.TimeUnit;
import org.jspecify.annotations.Nullable;
import org.quarterlight.eligibility.Outcome;
import org.quarterlight.eligibility.Sheet;
import org.quarterlight.eligibility.SheetReference;
import org.quarterlight.eligibility.Sheets;
import org.quarterlight.fleet.GlassPatterns;
import org.quarterlight.glass.DamageKind;
import org.quarterlight.kernel.Busy;
import org.quarterlight.kernel.Ids;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.kernel.Money;
import org.quarterlight.rulebook.OwnSheet;
import org.quarterlight.rulebook.OwnSheets;
import org.quarterlight.rulebook.Rulebook;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.tenancy.TenantId;
import org.quarterlight.tenancy.Tenants;
import org.quarterlight.web.ListQuery;
import org.quarterlight.web.Slice;
import org.quarterlight.web.SliceRequest;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.beans.factory.DisposableBean;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.scheduling.annotation.Scheduled;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Service;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.annotation.Transactional;
import org.springframework.transaction.support.TransactionSynchronization;
import org.springframework.transaction.support.TransactionSynchronizationManager;
import org.springframework.transaction.support.TransactionTemplate;
import org.springframework.validation.annotation.Validated;

/**
 * What another sheet would make of a fleet's open damages, before anybody judges by it. Both sides of the comparison are
 * judged at the same moment, so that nothing but the sheet tells them apart. It goes on by itself, some windscreens a
 * transaction; whoever starts it waits some seconds for its end.
 */
@Service
@Validated
public class SheetPreviews implements DisposableBean {
    /** Asks that a sheet stands beside the others. */
    public static final String BESIDE = "none";

    private static final Duration PATIENCE = Duration.ofSeconds(4);
    private static final int WINDSCREENS_AT_FIRST = 20;
    private static final int WINDSCREENS_AT_A_TIME = 500;
    private static final Duration SHORT_STEP = Duration.ofMillis(300);
    private static final Duration LONG_STEP = Duration.ofSeconds(1);

    private static final Logger LOG = LoggerFactory.getLogger(SheetPreviews.class);
    private static final int AT_WORK = 2;
    private static final int WAITING = 20;
    private static final int KEPT_OF_A_FLEET = 20;
    private static final Duration SILENT_FOR = Duration.ofMinutes(1);
    private static final ListQuery.Order NEWEST_FIRST =
            ListQuery.Order.descending("newest", new ListQuery.Key("p.id", "uuid"));
    private static final ListQuery.Order BY_DAMAGE =
            ListQuery.Order.ascending("damage", new ListQuery.Key("p.damage_id", "uuid"));

    private final JdbcClient jdbc;
    private final ObservationRepository observations;
    private final GlassPatterns patterns;
    private final Rulebook rulebook;
    private final OwnSheets own;
    private final AgreedRates agreed;
    private final Clock clock;
    private final TransactionTemplate transaction;
    private final Map<UUID, TenantId> inHand = new ConcurrentHashMap<>();
    private final ThreadPoolExecutor workers = new ThreadPoolExecutor(
            AT_WORK,
            AT_WORK,
            1,
            TimeUnit.MINUTES,
            new ArrayBlockingQueue<>(WAITING),
            Thread.ofPlatform().name("preview-", 1).daemon().factory());

    SheetPreviews(
            JdbcClient jdbc,
            ObservationRepository observations,
            GlassPatterns patterns,
            Rulebook rulebook,
            OwnSheets own,
            AgreedRates agreed,
            PlatformTransactionManager transactions,
            Clock clock) {
        this.jdbc = jdbc;
        this.observations = observations;
        this.patterns = patterns;
        this.rulebook = rulebook;
        this.own = own;
        this.agreed = agreed;
        this.clock = clock;
        this.transaction = new TransactionTemplate(transactions);
        this.workers.allowCoreThreadTimeOut(true);
    }

    /**
     * Tries a sheet, shipped or one's own; of one's own the newest version, be it a draft. Waits some seconds for its end, so
     * that a small fleet has its answer at once; whatever takes longer goes on by itself.
     */
    @PreAuthorize("hasRole('MANAGER')")
    public PreviewView start(String sheet, @Valid PreviewSheet command) {
        return start(sheet, command, PATIENCE);
    }

    @PreAuthorize("hasRole('MANAGER')")
    PreviewView start(String sheet, PreviewSheet command, Duration patience) {
        var ended = new CountDownLatch(1);
        var id = Objects.requireNonNull(transaction.execute(status -> begin(sheet, command, ended)));
        try {
            if (!ended.await(patience.toMillis(), TimeUnit.MILLISECONDS)) {
                LOG.info("Preview {} goes on by itself", id);
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
        return Objects.requireNonNull(transaction.execute(status -> find(id)));
    }

    private UUID begin(String sheet, PreviewSheet command, CountDownLatch ended) {
        var candidate = candidate(sheet);
        var replaced = replaced(sheet, candidate, command.replaces());
        var now = clock.instant();
        var id = Ids.next(now);
        var total = jdbc.sql("""
            select count(distinct windscreen_id) from damage where tenant_id = :organisation and state <> 'CLOSED'\
            """)
                .param("organisation", organisation())
                .query(Integer.class)
                .single();
        sweep();
        jdbc.sql("""
            insert into sheet_preview (tenant_id, id, sheet_id, sheet_name, sheet_version, replaces, replaces_name, state,
                total, made_by, made_at, touched_at)
            values (:organisation, :id, :sheet, :name, :version, :replaces, :replacesName, 'RUNNING', :total, :by, :now,
                :now)\
            """)
                .param("organisation", organisation())
                .param("id", id)
                .param("sheet", candidate.id())
                .param("name", candidate.name())
                .param("version", candidate.version())
                .param("replaces", replaced == null ? null : replaced.id())
                .param("replacesName", replaced == null ? null : replaced.name())
                .param("total", total)
                .param("by", Acting.require().name())
                .param("now", now.atOffset(ZoneOffset.UTC))
                .update();
        byItself(
                id,
                new WhatIf(
                        jdbc,
                        observations,
                        patterns,
                        rulebook.judging(),
                        rulebook.choices(),
                        candidate,
                        replaced == null ? null : replaced.id(),
                        now),
                ended);
        return id;
    }

    /** The sheet that is tried: shipped, or the newest version of one's own, be it a draft. */
    @PreAuthorize("hasRole('MANAGER')")
    public Sheet candidate(String id) {
        return isShipped(id) ? rulebook.sheet(id) : own.versions(id).getFirst().sheet();
    }

    private static boolean isShipped(String id) {
        return Sheets.shipped().stream().anyMatch(sheet -> sheet.id().equals(id));
    }

    private @Nullable Sheet replaced(String id, Sheet candidate, @Nullable String asked) {
        var replaces = asked == null || asked.isBlank() ? usuallyReplaced(id) : asked;
        if (replaces == null || replaces.equals(BESIDE)) {
            return null;
        }
        var sheet = rulebook.sheets().stream()
                .filter(each -> each.id().equals(replaces))
                .findFirst()
                .orElseThrow(
                        () -> new Invalid("replaces", "There is no rule sheet " + replaces + " that judges already"));
        if (sheet.question() != candidate.question()) {
            throw new Invalid("replaces", sheet.name() + " answers another question than " + candidate.name());
        }
        return sheet;
    }

    /** Its own version that judges already, else what it was copied from; none of a sheet that comes from nowhere. */
    @PreAuthorize("hasRole('MANAGER')")
    public @Nullable String usuallyReplaced(String id) {
        if (isShipped(id)) {
            return null;
        }
        var versions = own.versions(id);
        var now = clock.instant();
        return versions.stream().anyMatch(version -> version.applies(now))
                ? id
                : versions.stream()
                        .map(OwnSheet::startedAs)
                        .filter(Objects::nonNull)
                        .filter(SheetPreviews::isShipped)
                        .findFirst()
                        .orElse(null);
    }

    @Transactional(readOnly = true)
    @PreAuthorize("hasRole('MANAGER')")
    public PreviewView read(UUID id) {
        return find(id);
    }

    /** Newest first, without what is counted of their damages. */
    @Transactional(readOnly = true)
    @PreAuthorize("hasRole('MANAGER')")
    public Slice<PreviewView> list(SliceRequest wanted) {
        return new ListQuery("p.*", "sheet_preview p")
                .where("p.tenant_id = :organisation", "organisation", organisation())
                .slice(jdbc, NEWEST_FIRST, wanted, (row, number) -> view(row, List.of(), null, null));
    }

    /** The damages that go from one outcome to another. */
    @Transactional(readOnly = true)
    @PreAuthorize("hasRole('MANAGER')")
    public Slice<PreviewedDamage> damages(UUID id, @Nullable Outcome from, @Nullable Outcome to, SliceRequest wanted) {
        // Whether it is there and nothing more: what its cells hold is counted where they are shown.
        if (jdbc.sql("select true from sheet_preview where tenant_id = :organisation and id = :id")
                .param("organisation", organisation())
                .param("id", id)
                .query(Boolean.class)
                .optional()
                .isEmpty()) {
            throw new PreviewNotFound(id);
        }
        return new ListQuery(
                        "p.damage_id, p.from_outcome, p.to_outcome, g.vehicle_id, g.number, g.kind, v.registration",
                        """
                        sheet_preview_damage p
                        join damage g on g.tenant_id = p.tenant_id and g.id = p.damage_id
                        join vehicle v on v.tenant_id = g.tenant_id and v.id = g.vehicle_id\
                        """)
                .where("p.tenant_id = :organisation", "organisation", organisation())
                .where("p.preview_id = :id", "id", id)
                .whereGiven("p.from_outcome = :from", "from", from == null ? null : from.name())
                .whereGiven("p.to_outcome = :to", "to", to == null ? null : to.name())
                .slice(
                        jdbc,
                        BY_DAMAGE,
                        wanted,
                        (row, number) -> new PreviewedDamage(
                                row.getObject("damage_id", UUID.class),
                                row.getObject("vehicle_id", UUID.class),
                                row.getString("registration"),
                                row.getInt("number"),
                                DamageKind.valueOf(row.getString("kind")),
                                Outcome.valueOf(row.getString("from_outcome")),
                                Outcome.valueOf(row.getString("to_outcome"))));
    }

    /** Stops one under way; of one that has ended nothing changes. What was judged so far stays to be seen. */
    @Transactional
    @PreAuthorize("hasRole('MANAGER')")
    public PreviewView cancel(UUID id) {
        find(id);
        end(id, PreviewState.CANCELLED);
        return find(id);
    }

    private void byItself(UUID id, WhatIf whatIf, CountDownLatch ended) {
        if (workers.getQueue().remainingCapacity() == 0) {
            throw new Busy("Many previews are under way. Try again in a minute.", Duration.ofMinutes(1));
        }
        var tenant = Tenants.require();
        TransactionSynchronizationManager.registerSynchronization(new TransactionSynchronization() {
            @Override
            public void afterCommit() {
                inHand.put(id, tenant);
                try {
                    workers.execute(() -> {
                        try {
                            Tenants.runAs(tenant, () -> work(id, whatIf));
                        } catch (RuntimeException e) {
                            LOG.error("Preview {} failed", id, e);
                            Tenants.runAs(
                                    tenant,
                                    () -> transaction.executeWithoutResult(status -> end(id, PreviewState.FAILED)));
                        } finally {
                            inHand.remove(id);
                            ended.countDown();
                        }
                    });
                } catch (RejectedExecutionException e) {
                    inHand.remove(id); // found interrupted soon, and may be started again
                    ended.countDown();
                }
            }
        });
    }

    /** As many windscreens a transaction as take about a second: nobody can say beforehand how long a sheet takes on one. */
    private void work(UUID id, WhatIf whatIf) {
        var after = new UUID(0, 0);
        var some = WINDSCREENS_AT_FIRST;
        while (after != null) {
            var from = after;
            var many = some;
            var begun = System.nanoTime();
            after = transaction.execute(status -> step(id, whatIf, from, many));
            var took = Duration.ofNanos(System.nanoTime() - begun);
            if (took.compareTo(SHORT_STEP) < 0) {
                some = Math.min(WINDSCREENS_AT_A_TIME, some * 4);
            } else if (took.compareTo(LONG_STEP) > 0) {
                some = Math.max(1, some / 4);
            }
        }
    }

    /** The windscreen judged last; null at the end, or where somebody has cancelled. */
    private @Nullable UUID step(UUID id, WhatIf whatIf, UUID after, int many) {
        if (!isRunning(id)) {
            return null;
        }
        var some = DamagedGlass.after(jdbc, after, many);
        if (some.isEmpty()) {
            end(id, PreviewState.DONE);
            return null;
        }
        var judged = whatIf.judge(some);
        // Only now, so that whoever cancels does not wait for the judging.
        var goesOn = jdbc.sql("""
            update sheet_preview set done = least(total, done + :some), touched_at = :now
            where tenant_id = :organisation and id = :id and state = 'RUNNING'\
            """)
                        .param("some", some.size())
                        .param("now", clock.instant().atOffset(ZoneOffset.UTC))
                        .param("organisation", organisation())
                        .param("id", id)
                        .update()
                == 1;
        if (!goesOn) {
            return null;
        }
        keep(id, judged);
        if (some.size() < many) {
            end(id, PreviewState.DONE);
            return null;
        }
        return some.getLast();
    }

    private boolean isRunning(UUID id) {
        return jdbc.sql("""
            select exists (select from sheet_preview
                where tenant_id = :organisation and id = :id and state = 'RUNNING')\
            """)
                .param("organisation", organisation())
                .param("id", id)
                .query(Boolean.class)
                .single();
    }

    /** As arrays, in one statement. */
    private void keep(UUID id, List<WhatIf.Judged> judged) {
        jdbc.sql("""
            insert into sheet_preview_damage (tenant_id, preview_id, damage_id, from_outcome, to_outcome)
            select :organisation, :id, * from unnest(cast(:damages as uuid[]), cast(:from as text[]), cast(:to as text[]))\
            """)
                .param("organisation", organisation())
                .param("id", id)
                .param(
                        "damages",
                        judged.stream().map(each -> each.damage().toString()).toArray(String[]::new))
                .param("from", judged.stream().map(each -> each.from().name()).toArray(String[]::new))
                .param("to", judged.stream().map(each -> each.to().name()).toArray(String[]::new))
                .update();
    }

    private void end(UUID id, PreviewState state) {
        jdbc.sql("""
            update sheet_preview set state = :state, ended_at = :now, done = case when :state = 'DONE' then total else done end
            where tenant_id = :organisation and id = :id and state = 'RUNNING'\
            """)
                .param("state", state.name())
                .param("now", clock.instant().atOffset(ZoneOffset.UTC))
                .param("organisation", organisation())
                .param("id", id)
                .update();
    }

    /** Only the newest of a fleet are kept, for each may hold as many rows as it has damages. */
    private void sweep() {
        jdbc.sql("""
            delete from sheet_preview where tenant_id = :organisation and id in (
                select id from sheet_preview where tenant_id = :organisation order by id desc offset :kept)\
            """)
                .param("organisation", organisation())
                .param("kept", KEPT_OF_A_FLEET - 1)
                .update();
    }

    private PreviewView find(UUID id) {
        var rates = Acting.current().isPresent() ? rates() : null;
        var cells = jdbc.sql("""
            select from_outcome, to_outcome, count(*) as damages from sheet_preview_damage
            where tenant_id = :organisation and preview_id = :id group by from_outcome, to_outcome\
            """)
                .param("organisation", organisation())
                .param("id", id)
                .query((row, number) -> new PreviewView.Cell(
                        Outcome.valueOf(row.getString("from_outcome")),
                        Outcome.valueOf(row.getString("to_outcome")),
                        row.getInt("damages")))
                .list();
        var sorted = new ArrayList<>(cells);
        sorted.sort(Comparator.comparing(PreviewView.Cell::from).thenComparing(PreviewView.Cell::to));
        return jdbc.sql("select p.* from sheet_preview p where p.tenant_id = :organisation and p.id = :id")
                .param("organisation", organisation())
                .param("id", id)
                .query((row, number) -> view(row, sorted, standDowns(id), rates))
                .optional()
                .orElseThrow(() -> new PreviewNotFound(id));
    }

    /** A vehicle stands down by any of its damages. */
    private PreviewView.StandDowns standDowns(UUID id) {
        return jdbc.sql("""
            select count(*) filter (where after and not before) as stood_down,
                count(*) filter (where before and not after) as released
            from (select bool_or(p.from_outcome = 'STAND_DOWN') as before, bool_or(p.to_outcome = 'STAND_DOWN') as after
                  from sheet_preview_damage p
                  join damage g on g.tenant_id = p.tenant_id and g.id = p.damage_id
                  where p.tenant_id = :organisation and p.preview_id = :id
                      and (p.from_outcome = 'STAND_DOWN' or p.to_outcome = 'STAND_DOWN')
                  group by g.vehicle_id) each\
            """)
                .param("organisation", organisation())
                .param("id", id)
                .query((row, number) -> new PreviewView.StandDowns(row.getInt("stood_down"), row.getInt("released")))
                .single();
    }

    private PreviewView view(
            ResultSet row,
            List<PreviewView.Cell> cells,
            PreviewView.@Nullable StandDowns standDowns,
            @Nullable Rates rates)
            throws SQLException {
        var replaces = row.getString("replaces");
        var ended = row.getObject("ended_at", OffsetDateTime.class);
        var state = PreviewState.valueOf(row.getString("state"));
        var touched = row.getObject("touched_at", OffsetDateTime.class).toInstant();
        return new PreviewView(
                row.getObject("id", UUID.class),
                new SheetReference(row.getString("sheet_id"), row.getString("sheet_name"), row.getInt("sheet_version")),
                replaces == null ? null : new PreviewView.Replaced(replaces, row.getString("replaces_name")),
                state == PreviewState.RUNNING && touched.plus(SILENT_FOR).isBefore(clock.instant())
                        ? PreviewState.INTERRUPTED
                        : state,
                row.getInt("total"),
                row.getInt("done"),
                cells,
                standDowns,
                cost(cells, rates),
                row.getString("made_by"),
                row.getObject("made_at", OffsetDateTime.class).toInstant(),
                ended == null ? null : ended.toInstant());
    }

    /** @param agreedWith null where they are the fleet's own figures */
    private record Rates(
            Money repair, Money replacement, @Nullable String agreedWith) {}

    /** The fleet's own figures; where it has said none, the prices that it has agreed on. */
    private @Nullable Rates rates() {
        var own = rulebook.costRates();
        if (own.repair() != null && own.replacement() != null) {
            return new Rates(own.repair(), own.replacement(), null);
        }
        return agreed.ofToday()
                .map(each -> new Rates(each.repair(), each.replacement(), each.with()))
                .orElse(null);
    }

    private static PreviewView.@Nullable Cost cost(List<PreviewView.Cell> cells, @Nullable Rates rates) {
        if (rates == null) {
            return null;
        }
        var present = 0L;
        var proposed = 0L;
        for (var cell : cells) {
            present += cell.damages() * cost(cell.from(), rates.repair(), rates.replacement());
            proposed += cell.damages() * cost(cell.to(), rates.repair(), rates.replacement());
        }
        var currency = rates.repair().currency();
        return new PreviewView.Cost(
                new Money(present, currency),
                new Money(proposed, currency),
                new Money(proposed - present, currency),
                rates.agreedWith());
    }

    /** A vehicle that must stand down gets a new windscreen; what is watched or measured again costs nothing yet. */
    private static long cost(Outcome outcome, Money repair, Money replacement) {
        return switch (outcome) {
            case STAND_DOWN, REPLACE -> replacement.amountMinor();
            case REPAIR -> repair.amountMinor();
            case MEASURE_AGAIN, WATCH -> 0;
        };
    }

    /** Tells that this service still works on them, also on those that wait. */
    @Scheduled(fixedDelayString = "PT10S")
    void stillAtWork() {
        inHand.forEach((id, tenant) -> Tenants.runAs(
                tenant,
                () -> transaction.executeWithoutResult(status -> jdbc.sql("""
                    update sheet_preview set touched_at = :now
                    where tenant_id = :organisation and id = :id and state = 'RUNNING'\
                    """)
                        .param("now", clock.instant().atOffset(ZoneOffset.UTC))
                        .param("organisation", tenant.value())
                        .param("id", id)
                        .update())));
    }

    private static UUID organisation() {
        return Tenants.require().value();
    }

    @Override
    public void destroy() {
        workers.shutdownNow();
    }
}

package org.quarterlight.fleet;

import java.io.FilterInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.Iterator;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.UUID;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.RejectedExecutionException;
import java.util.concurrent.ThreadPoolExecutor;
import java.util.concurrent.TimeUnit;
import org.jspecify.annotations.Nullable;
import org.quarterlight.account.Organisations;
import org.quarterlight.fleet.ImportRow.Kind;
import org.quarterlight.fleet.VehicleIntake.Taken;
import org.quarterlight.fleet.list.DateOrder;
import org.quarterlight.fleet.list.ListRefused;
import org.quarterlight.fleet.list.ListSource;
import org.quarterlight.fleet.list.Problem;
import org.quarterlight.fleet.list.Reading;
import org.quarterlight.fleet.list.Row;
import org.quarterlight.fleet.list.Shape;
import org.quarterlight.fleet.list.VehicleList;
import org.quarterlight.fleet.list.VehicleListWriter;
import org.quarterlight.glass.SteeringSide;
import org.quarterlight.glass.VehicleCategory;
import org.quarterlight.history.History;
import org.quarterlight.kernel.Ids;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.kernel.Refused;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.tenancy.TenantId;
import org.quarterlight.tenancy.Tenants;
import org.quarterlight.web.CsvFile;
import org.quarterlight.web.ListQuery;
import org.quarterlight.web.Slice;
import org.quarterlight.web.SliceRequest;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.beans.factory.DisposableBean;
import org.springframework.beans.factory.annotation.Value;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.scheduling.annotation.Scheduled;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.security.core.context.SecurityContextHolder;
import org.springframework.stereotype.Service;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.TransactionDefinition;
import org.springframework.transaction.annotation.Transactional;
import org.springframework.transaction.support.TransactionSynchronization;
import org.springframework.transaction.support.TransactionSynchronizationManager;
import org.springframework.transaction.support.TransactionTemplate;
import tools.jackson.core.type.TypeReference;
import tools.jackson.databind.json.JsonMapper;

/**
 * Takes whole lists of vehicles into the fleet. A small list is gone through at once, in the transaction of the request; a
 * large one by itself, some rows a transaction, so that what was told as done is there whenever the power goes. Sending a
 * list twice changes nothing the second time.
 */
@Service
public class VehicleImports implements DisposableBean {
    /** A larger file is refused. */
    public static final long LARGEST_BYTES = 60L << 20;

    private static final Logger LOG = LoggerFactory.getLogger(VehicleImports.class);
    private static final long AT_ONCE_BYTES = 2L << 20;
    private static final int ROWS_AT_A_TIME = 1000;
    private static final int AT_WORK = 2;
    private static final int WAITING = 20;
    /** Of what is only good to know, not all is kept. */
    private static final int TOLD_AT_MOST = 500;

    /** So many new vehicles make the planner's picture of the tables wrong. */
    private static final int COUNTED_ANEW_BEYOND = 5_000;

    private static final Duration SILENT_FOR = Duration.ofSeconds(30);
    private static final Duration FILES_KEPT = Duration.ofDays(2);
    private static final Duration ROWS_KEPT = Duration.ofDays(30);
    private static final String COLUMNS = """
        i.id, i.state, i.mode, i.file_name, i.file_id, i.depot_id, i.category, i.steering_side, i.shape, i.total, i.done,
        i.added, i.changed, i.same, i.bad, i.doubtful, i.problem, i.made_by, i.made_at, i.touched_at, i.ended_at\
        """;
    private static final ListQuery.Order NEWEST_FIRST =
            ListQuery.Order.descending("newest", new ListQuery.Key("i.id", "uuid"));
    private static final ListQuery.Order BY_NUMBER =
            ListQuery.Order.ascending("number", new ListQuery.Key("r.number", "int"));

    private final JdbcClient jdbc;
    private final JsonMapper json;
    private final VehicleIntake intake;
    private final Depots depots;
    private final Organisations organisations;
    private final History history;
    private final Clock clock;
    private final Path root;
    private final TransactionTemplate transaction;
    private final TransactionTemplate ownTransaction;
    private final ThreadPoolExecutor workers = new ThreadPoolExecutor(
            AT_WORK,
            AT_WORK,
            1,
            TimeUnit.MINUTES,
            new ArrayBlockingQueue<>(WAITING),
            Thread.ofPlatform().name("import-", 1).daemon().factory());
    private final Map<UUID, TenantId> inHand = new ConcurrentHashMap<>();

    VehicleImports(
            JdbcClient jdbc,
            JsonMapper json,
            VehicleIntake intake,
            Depots depots,
            Organisations organisations,
            History history,
            PlatformTransactionManager transactions,
            Clock clock,
            @Value("${quarterlight.data}") Path data) {
        this.jdbc = jdbc;
        this.json = json;
        this.intake = intake;
        this.depots = depots;
        this.organisations = organisations;
        this.history = history;
        this.clock = clock;
        this.root = data.resolve("imports");
        this.transaction = new TransactionTemplate(transactions);
        this.ownTransaction = new TransactionTemplate(transactions);
        this.ownTransaction.setPropagationBehavior(TransactionDefinition.PROPAGATION_REQUIRES_NEW);
        this.workers.allowCoreThreadTimeOut(true);
    }

    private record Kept(ImportView view, UUID file) {}

    /**
     * Takes a list as it was sent. Throws {@link ListRefused} where a small one cannot be read at all; of a large one that
     * is told in its state.
     */
    @PreAuthorize("hasRole('MANAGER')")
    public ImportView take(ImportMode mode, ImportDefaults defaults, String fileName, InputStream content)
            throws IOException {
        var file = Ids.next(clock.instant());
        var path = file(Tenants.require(), file);
        Files.createDirectories(path.getParent());
        var arriving = Files.createTempFile(path.getParent(), "arriving-", ".tmp");
        try {
            // One byte more than is taken, so that the reader refuses with its own sentence.
            Files.copy(new Limited(content, LARGEST_BYTES + 1), arriving, StandardCopyOption.REPLACE_EXISTING);
            Files.move(arriving, path, StandardCopyOption.ATOMIC_MOVE);
        } finally {
            Files.deleteIfExists(arriving);
        }
        return start(mode, defaults, fileName.isBlank() ? "vehicles.csv" : fileName, file);
    }

    /** Takes the same list again, as it was previewed. */
    @PreAuthorize("hasRole('MANAGER')")
    public ImportView again(UUID id, ImportMode mode) throws IOException {
        var before = Objects.requireNonNull(transaction.execute(status -> find(id)));
        if (before.view().mode() != ImportMode.PREVIEW && before.view().state() == ImportState.DONE) {
            throw new Invalid("mode", "This list was taken already: what was changed since would be as it was then");
        }
        return start(mode, before.view().defaults(), before.view().fileName(), before.file());
    }

    @Transactional
    @PreAuthorize("hasRole('MANAGER')")
    public ImportView read(UUID id) {
        return find(id).view();
    }

    /** Newest first. */
    @Transactional(readOnly = true)
    @PreAuthorize("hasRole('MANAGER')")
    public Slice<ImportView> list(SliceRequest wanted) {
        return new ListQuery(COLUMNS, "vehicle_import i")
                .where(
                        "i.tenant_id = :organisation",
                        "organisation",
                        Tenants.require().value())
                .slice(jdbc, NEWEST_FIRST, wanted, (row, number) -> kept(row).view());
    }

    /** The rows worth telling about, of one kind, as they stand in the list. */
    @Transactional(readOnly = true)
    @PreAuthorize("hasRole('MANAGER')")
    public Slice<ImportRow> rows(UUID id, Kind kind, SliceRequest wanted) {
        find(id);
        return new ListQuery("r.number, r.kind, r.registration, r.problems", "vehicle_import_row r")
                .where(
                        "r.tenant_id = :organisation",
                        "organisation",
                        Tenants.require().value())
                .where("r.import_id = :id", "id", id)
                .where("r.kind = :kind", "kind", kind.name())
                .slice(
                        jdbc,
                        BY_NUMBER,
                        wanted,
                        (row, number) -> new ImportRow(
                                row.getInt("number"),
                                Kind.valueOf(row.getString("kind")),
                                row.getString("registration"),
                                problems(row)));
    }

    /** Writes the rows that were kept out, each with its reason, to be put right and sent again. */
    @Transactional(readOnly = true)
    @PreAuthorize("hasRole('MANAGER')")
    public void writeRejected(UUID id, CsvFile.Destination destination) throws IOException {
        var reading = find(id).view().reading();
        if (reading == null) {
            throw new ImportNotFound(id);
        }
        try (var list = new VehicleListWriter.Rejected(destination.open(), reading.separator(), shape(reading))) {
            jdbc
                    .sql("""
                        select number, problems, cells from vehicle_import_row
                        where tenant_id = :organisation and import_id = :id and kind = 'BAD' order by number\
                        """)
                    .withFetchSize(ROWS_AT_A_TIME)
                    .param("organisation", Tenants.require().value())
                    .param("id", id)
                    .query((row, at) -> new Row.Bad(
                            row.getInt("number"),
                            problems(row),
                            json.readValue(row.getString("cells"), new TypeReference<List<String>>() {})))
                    .stream()
                    .forEach(list::write);
        }
    }

    private ImportView start(ImportMode mode, ImportDefaults defaults, String fileName, UUID file) throws IOException {
        var path = file(Tenants.require(), file);
        long bytes;
        try {
            bytes = Files.size(path);
        } catch (NoSuchFileException e) {
            throw new ImportFileGone(fileName);
        }
        var now = clock.instant();
        var id = Ids.next(now);
        var work = new Work(id, mode, defaults, path, bytes > AT_ONCE_BYTES);
        return Objects.requireNonNull(transaction.execute(status -> {
            jdbc.sql("""
                insert into vehicle_import (tenant_id, id, state, mode, file_name, file_id, depot_id, category,
                    steering_side, made_by, made_at, touched_at)
                values (:organisation, :id, 'WAITING', :mode, :fileName, :file, :depot, :category, :side, :by, :now,
                    :now)\
                """)
                    .param("organisation", Tenants.require().value())
                    .param("id", id)
                    .param("mode", mode.name())
                    .param("fileName", fileName.length() > 200 ? fileName.substring(0, 200) : fileName)
                    .param("file", file)
                    .param("depot", defaults.depot())
                    .param(
                            "category",
                            defaults.category() == null
                                    ? null
                                    : defaults.category().name())
                    .param(
                            "side",
                            defaults.steeringSide() == null
                                    ? null
                                    : defaults.steeringSide().name())
                    .param("by", Acting.current().map(Acting::name).orElse("Quarterlight"))
                    .param("now", now.atOffset(ZoneOffset.UTC))
                    .update();
            if (work.large) {
                afterCommit(work);
            } else {
                work.atOnce();
            }
            return find(id).view();
        }));
    }

    private void afterCommit(Work work) {
        if (workers.getQueue().remainingCapacity() == 0) {
            throw new ImportsBusy();
        }
        var tenant = Tenants.require();
        var context = SecurityContextHolder.getContext();
        TransactionSynchronizationManager.registerSynchronization(new TransactionSynchronization() {
            @Override
            public void afterCommit() {
                inHand.put(work.id, tenant);
                try {
                    workers.execute(() -> {
                        SecurityContextHolder.setContext(context);
                        try {
                            Tenants.runAs(tenant, work::byItself);
                        } finally {
                            SecurityContextHolder.clearContext();
                            inHand.remove(work.id);
                        }
                    });
                } catch (RejectedExecutionException e) {
                    inHand.remove(work.id); // found interrupted soon, and may be sent again
                }
            }
        });
    }

    /** One list on its way. */
    private final class Work {
        private final UUID id;
        private final ImportMode mode;
        private final ImportDefaults defaults;
        private final Path path;
        private final boolean large;
        private int done;
        private int added;
        private int changed;
        private int same;
        private int bad;
        private int doubtful;
        private int changesTold;

        Work(UUID id, ImportMode mode, ImportDefaults defaults, Path path, boolean large) {
            this.id = id;
            this.mode = mode;
            this.defaults = defaults;
            this.path = path;
            this.large = large;
        }

        /** In the transaction of whoever sent it. */
        void atOnce() {
            try {
                go();
            } catch (IOException e) {
                throw new UncheckedIOException(e);
            }
        }

        void byItself() {
            try {
                go();
                if (added > COUNTED_ANEW_BEYOND) {
                    transaction.executeWithoutResult(
                            status -> jdbc.sql("analyze vehicle, windscreen, vehicle_condition")
                                    .update());
                }
            } catch (Refused e) {
                transaction.executeWithoutResult(status -> end(ImportState.REFUSED, String.valueOf(e.getMessage())));
            } catch (IOException | RuntimeException e) {
                LOG.error("Import {} failed", id, e);
                transaction.executeWithoutResult(status -> end(
                        ImportState.INTERRUPTED,
                        "Something failed on our side. What is counted here was done; send the list again."));
            }
        }

        private void go() throws IOException {
            var list = VehicleList.open(
                    ListSource.of(path),
                    new Reading(
                            LARGEST_BYTES,
                            DateOrder.habitOf(transaction.execute(
                                    status -> organisations.present().country())),
                            today()));
            transaction.executeWithoutResult(status -> begin(list.shape()));
            switch (mode) {
                case PREVIEW -> {
                    pass(list, false, 1, true);
                    transaction.executeWithoutResult(status -> end(ImportState.DONE, ""));
                }
                case GOOD_ROWS -> {
                    pass(list, true, 1, true);
                    transaction.executeWithoutResult(status -> end(ImportState.DONE, ""));
                }
                case ALL_OR_NOTHING -> {
                    pass(list, false, 0.5, true);
                    if (bad > 0) {
                        added = 0;
                        changed = 0;
                        transaction.executeWithoutResult(status -> end(
                                ImportState.REFUSED,
                                bad == 1
                                        ? "One row is bad, so nothing was taken."
                                        : bad + " rows are bad, so nothing was taken."));
                    } else {
                        transaction.executeWithoutResult(status -> writeAll(list));
                    }
                }
            }
        }

        /** The latest day that has begun at any depot. */
        private LocalDate today() {
            var now = clock.instant();
            return Objects.requireNonNull(transaction.execute(status -> depots.all())).stream()
                    .map(depot -> LocalDate.ofInstant(now, depot.zone()))
                    .max(Comparator.naturalOrder())
                    .orElseGet(() -> LocalDate.ofInstant(now, ZoneOffset.UTC));
        }

        private void writeAll(VehicleList list) {
            var found = bad;
            added = 0;
            changed = 0;
            same = 0;
            doubtful = 0;
            try {
                pass(list, true, 0.5, false);
            } catch (IOException e) {
                throw new UncheckedIOException(e);
            }
            if (bad > found) {
                throw new FleetChanged();
            }
            end(ImportState.DONE, "");
        }

        /** Goes through the list, some rows in each transaction; a caller's transaction is joined. */
        private void pass(VehicleList list, boolean write, double share, boolean tell) throws IOException {
            var run = intake.run(defaults, list.shape());
            var before = done;
            var gone = 0;
            try (var rows = list.rows()) {
                var each = rows.iterator();
                while (each.hasNext()) {
                    var some = next(each);
                    gone += some.size();
                    var now = before + (int) (gone * share);
                    transaction.executeWithoutResult(status -> {
                        var taken = run.take(some, write);
                        taken.forEach(this::count);
                        if (tell) {
                            tell(taken, list.shape());
                        }
                        done = now;
                        if (large && tell) {
                            note();
                        }
                    });
                    if (large && !tell) {
                        // The rows are not there before the last one is, but people may see how far it is.
                        ownTransaction.executeWithoutResult(status -> noteProgress());
                    }
                }
            }
        }

        private static List<Row> next(Iterator<Row> rows) {
            var some = new ArrayList<Row>(ROWS_AT_A_TIME);
            while (rows.hasNext() && some.size() < ROWS_AT_A_TIME) {
                some.add(rows.next());
            }
            return some;
        }

        private void count(Taken taken) {
            switch (taken) {
                case Taken.Added each -> added++;
                case Taken.Changed each -> changed++;
                case Taken.Same each -> same++;
                case Taken.Bad each -> bad++;
            }
            if (!(taken instanceof Taken.Bad)
                    && taken.row() instanceof Row.Good good
                    && !good.warnings().isEmpty()) {
                doubtful++;
            }
        }

        private void tell(List<Taken> taken, Shape shape) {
            record Line(Kind kind, int number, String registration, List<Problem> problems, List<String> cells) {}
            var lines = new ArrayList<Line>();
            for (var each : taken) {
                if (each instanceof Taken.Bad(var row)) {
                    lines.add(new Line(
                            Kind.BAD, row.number(), shape.registrationIn(row.cells()), row.problems(), row.cells()));
                }
                if (each instanceof Taken.Changed(var row, var changes) && changesTold < TOLD_AT_MOST) {
                    changesTold++;
                    lines.add(new Line(
                            Kind.CHANGED,
                            row.number(),
                            row.line().registration().shown(),
                            changes,
                            List.of()));
                }
                if (!(each instanceof Taken.Bad)
                        && each.row() instanceof Row.Good good
                        && !good.warnings().isEmpty()
                        && doubtful <= TOLD_AT_MOST) {
                    lines.add(new Line(
                            Kind.DOUBTFUL,
                            good.number(),
                            good.line().registration().shown(),
                            good.warnings(),
                            List.of()));
                }
            }
            if (lines.isEmpty()) {
                return;
            }
            record Document(String kind, int number, String registration, List<Problem> problems, List<String> cells) {}
            jdbc.sql("""
                insert into vehicle_import_row (tenant_id, import_id, kind, number, registration, problems, cells)
                select :organisation, :id, kind, number, registration, problems, cells
                from jsonb_to_recordset(cast(:document as jsonb)) as r (kind text, number int, registration text,
                    problems jsonb, cells jsonb)\
                """)
                    .param("organisation", Tenants.require().value())
                    .param("id", id)
                    .param(
                            "document",
                            withoutNul(json.writeValueAsString(lines.stream()
                                    .map(line -> new Document(
                                            line.kind().name(),
                                            line.number(),
                                            line.registration(),
                                            line.problems(),
                                            line.cells()))
                                    .toList())))
                    .update();
        }

        private void begin(Shape shape) {
            jdbc.sql("""
                update vehicle_import set state = 'RUNNING', shape = cast(:shape as jsonb), total = :total,
                    touched_at = :now
                where tenant_id = :organisation and id = :id\
                """)
                    .param("shape", withoutNul(json.writeValueAsString(ListReading.of(shape))))
                    .param("total", shape.rows())
                    .param("now", clock.instant().atOffset(ZoneOffset.UTC))
                    .param("organisation", Tenants.require().value())
                    .param("id", id)
                    .update();
        }

        private void note() {
            jdbc.sql("""
                update vehicle_import set done = :done, added = :added, changed = :changed, same = :same, bad = :bad,
                    doubtful = :doubtful, touched_at = :now
                where tenant_id = :organisation and id = :id\
                """)
                    .param("done", done)
                    .param("added", added)
                    .param("changed", changed)
                    .param("same", same)
                    .param("bad", bad)
                    .param("doubtful", doubtful)
                    .param("now", clock.instant().atOffset(ZoneOffset.UTC))
                    .param("organisation", Tenants.require().value())
                    .param("id", id)
                    .update();
        }

        private void noteProgress() {
            jdbc.sql("update vehicle_import set done = :done, touched_at = :now where tenant_id = :organisation"
                            + " and id = :id")
                    .param("done", done)
                    .param("now", clock.instant().atOffset(ZoneOffset.UTC))
                    .param("organisation", Tenants.require().value())
                    .param("id", id)
                    .update();
        }

        private void end(ImportState state, String problem) {
            if (state != ImportState.INTERRUPTED) {
                note();
            }
            jdbc.sql("""
                update vehicle_import set state = :state, problem = :problem, ended_at = :now,
                    done = case when :state = 'DONE' then total else done end
                where tenant_id = :organisation and id = :id\
                """)
                    .param("state", state.name())
                    .param("problem", problem)
                    .param("now", clock.instant().atOffset(ZoneOffset.UTC))
                    .param("organisation", Tenants.require().value())
                    .param("id", id)
                    .update();
            if (state == ImportState.DONE && mode != ImportMode.PREVIEW) {
                history.add("imported", "vehicles", id, added + " new, " + changed + " changed, " + bad + " kept out");
            }
        }
    }

    /** JSON in the database knows no NUL. */
    private static String withoutNul(String document) {
        return document.contains("\\u0000") ? document.replace("\\u0000", "\\ufffd") : document;
    }

    private Kept find(UUID id) {
        var found = jdbc.sql(
                        "select " + COLUMNS + " from vehicle_import i where i.tenant_id = :organisation and i.id = :id")
                .param("organisation", Tenants.require().value())
                .param("id", id)
                .query((row, number) -> kept(row))
                .optional();
        return found.orElseThrow(() -> new ImportNotFound(id));
    }

    /** Where nothing moved for a while, the service that worked on it is gone. */
    private Kept kept(ResultSet row) throws SQLException {
        var state = ImportState.valueOf(row.getString("state"));
        var touched = row.getObject("touched_at", OffsetDateTime.class).toInstant();
        var silent = !state.ended() && touched.plus(SILENT_FOR).isBefore(clock.instant());
        var ended = row.getObject("ended_at", OffsetDateTime.class);
        var shape = row.getString("shape");
        var category = row.getString("category");
        var side = row.getString("steering_side");
        return new Kept(
                new ImportView(
                        row.getObject("id", UUID.class),
                        silent ? ImportState.INTERRUPTED : state,
                        ImportMode.valueOf(row.getString("mode")),
                        row.getString("file_name"),
                        new ImportDefaults(
                                row.getObject("depot_id", UUID.class),
                                category == null ? null : VehicleCategory.valueOf(category),
                                side == null ? null : SteeringSide.valueOf(side)),
                        shape == null ? null : json.readValue(shape, ListReading.class),
                        row.getInt("total"),
                        row.getInt("done"),
                        row.getInt("added"),
                        row.getInt("changed"),
                        row.getInt("same"),
                        row.getInt("bad"),
                        row.getInt("doubtful"),
                        silent
                                ? "The service stopped while it worked on this. What is counted here was done; send"
                                        + " the list again."
                                : row.getString("problem"),
                        row.getString("made_by"),
                        row.getObject("made_at", OffsetDateTime.class).toInstant(),
                        silent ? touched : instant(ended)),
                row.getObject("file_id", UUID.class));
    }

    private static @Nullable Instant instant(@Nullable OffsetDateTime time) {
        return time == null ? null : time.toInstant();
    }

    private List<Problem> problems(ResultSet row) throws SQLException {
        return json.readValue(row.getString("problems"), new TypeReference<List<Problem>>() {});
    }

    /** As much of the list's shape as writing rows out again needs. */
    private static Shape shape(ListReading reading) {
        var beyond = reading.widest() > reading.headings().size()
                ? List.of(new Shape.PassedOver(reading.widest() - 1, "", ""))
                : List.<Shape.PassedOver>of();
        return new Shape(
                StandardCharsets.UTF_8,
                reading.separator(),
                '"',
                reading.headingRow(),
                reading.headings(),
                List.of(),
                beyond,
                0,
                List.of());
    }

    private Path file(TenantId owner, UUID file) {
        return root.resolve(owner.toString()).resolve(file + ".csv");
    }

    /** Tells that this service still works on them, however long a single step takes. */
    @Scheduled(fixedDelayString = "PT5S")
    void stillAtWork() {
        inHand.forEach((id, tenant) -> Tenants.runAs(
                tenant,
                () -> transaction.executeWithoutResult(status -> jdbc.sql("""
                    update vehicle_import set touched_at = :now
                    where tenant_id = :organisation and id = :id and ended_at is null\
                    """)
                        .param("now", clock.instant().atOffset(ZoneOffset.UTC))
                        .param("organisation", tenant.value())
                        .param("id", id)
                        .update())));
    }

    /** Lists are not kept for ever, and neither is what was said of their rows. */
    @Scheduled(cron = "0 41 3 * * *")
    void sweep() {
        try (var owners = Files.list(root)) {
            for (var folder : owners.filter(Files::isDirectory).toList()) {
                sweep(new TenantId(UUID.fromString(folder.getFileName().toString())), folder);
            }
        } catch (NoSuchFileException e) {
            // nobody has sent a list yet
        } catch (IOException e) {
            LOG.warn("Lists could not be swept: {}", e.getMessage());
        }
    }

    private void sweep(TenantId owner, Path folder) throws IOException {
        var now = clock.instant();
        try (var files = Files.list(folder)) {
            for (var file : files.toList()) {
                if (Files.getLastModifiedTime(file).toInstant().plus(FILES_KEPT).isBefore(now)) {
                    Files.deleteIfExists(file);
                }
            }
        }
        Tenants.runAs(
                owner,
                () -> transaction.executeWithoutResult(status -> jdbc.sql("""
                    delete from vehicle_import_row r using vehicle_import i
                    where r.tenant_id = :organisation and i.tenant_id = r.tenant_id and i.id = r.import_id
                        and i.made_at < :oldest\
                    """)
                        .param("organisation", owner.value())
                        .param("oldest", now.minus(ROWS_KEPT).atOffset(ZoneOffset.UTC))
                        .update()));
    }

    @Override
    public void destroy() {
        workers.shutdownNow();
    }

    /** Reads no more than this. */
    private static final class Limited extends FilterInputStream {
        private long left;

        Limited(InputStream in, long most) {
            super(in);
            this.left = most;
        }

        @Override
        public int read() throws IOException {
            if (left <= 0) {
                return -1;
            }
            var read = super.read();
            left--;
            return read;
        }

        @Override
        public int read(byte[] bytes, int offset, int length) throws IOException {
            if (left <= 0) {
                return -1;
            }
            var read = super.read(bytes, offset, (int) Math.min(length, left));
            left -= Math.max(0, read);
            return read;
        }
    }
}

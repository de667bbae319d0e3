package org.quarterlight.dispatch;

import jakarta.validation.Valid;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Clock;
import java.time.DateTimeException;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.quarterlight.account.Member;
import org.quarterlight.account.People;
import org.quarterlight.dispatch.routing.Place;
import org.quarterlight.dispatch.routing.Timetable;
import org.quarterlight.history.History;
import org.quarterlight.kernel.Ids;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.kernel.Stale;
import org.quarterlight.repair.JobLeftPlan;
import org.quarterlight.repair.JobState;
import org.quarterlight.repair.PlannedJob;
import org.quarterlight.repair.RepairJobs;
import org.quarterlight.repair.Work;
import org.quarterlight.tenancy.Locks;
import org.quarterlight.tenancy.Tenants;
import org.quarterlight.web.HomeZone;
import org.quarterlight.web.ListQuery;
import org.quarterlight.web.Slice;
import org.quarterlight.web.SliceRequest;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.dao.DuplicateKeyException;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.modulith.events.ApplicationModuleListener;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;
import org.springframework.validation.annotation.Validated;

/** Vans and the order of their days. Times are computed when a day is looked at; only the order is kept. */
@Service
@Validated
public class Dispatching implements HomeZone {
    private static final int REPAIR_MINUTES = 45;
    private static final int FURTHER_DAMAGE_MINUTES = 20;
    private static final int REPLACEMENT_MINUTES = 150;
    private static final int MOST_STOPS = 40;

    /** Ours, for the expected place of the cure: what follows it, finish and look over, takes about this long. */
    private static final Duration AFTER_CURE = Duration.ofMinutes(5);

    private static final LocalTime USUAL_START = LocalTime.of(8, 0);
    private static final LocalTime USUAL_END = LocalTime.of(17, 0);
    private static final ListQuery.Order BY_NAME =
            ListQuery.Order.ascending("name", new ListQuery.Key("v.name", "text"), new ListQuery.Key("v.id", "uuid"));
    private static final String VAN = """
        v.id, v.name, v.base, v.latitude, v.longitude, v.zone, v.technician_id, v.technician_name, v.starts_at,
        v.ends_at, v.version\
        """;

    private final JdbcClient jdbc;
    private final Shifts shifts;
    private final RepairJobs jobs;
    private final People people;
    private final History history;
    private final ApplicationEventPublisher events;
    private final Clock clock;

    Dispatching(
            JdbcClient jdbc,
            Shifts shifts,
            RepairJobs jobs,
            People people,
            History history,
            ApplicationEventPublisher events,
            Clock clock) {
        this.jdbc = jdbc;
        this.shifts = shifts;
        this.jobs = jobs;
        this.people = people;
        this.history = history;
        this.events = events;
        this.clock = clock;
    }

    private record Planned(UUID van, UUID job, int minutes) {}

    // Vans

    @Transactional(readOnly = true)
    @PreAuthorize("hasAnyRole('DISPATCHER', 'TECHNICIAN')")
    public Slice<VanView> vans(SliceRequest wanted) {
        return new ListQuery(VAN, "van v")
                .where("v.tenant_id = :organisation", "organisation", organisation())
                .where("v.retired_at is null")
                .slice(jdbc, BY_NAME, wanted, Dispatching::van);
    }

    @Transactional(readOnly = true)
    @PreAuthorize("hasAnyRole('DISPATCHER', 'TECHNICIAN')")
    public VanView van(UUID id) {
        return jdbc.sql("select " + VAN + " from van v where v.tenant_id = :organisation and v.id = :id")
                .param("organisation", organisation())
                .param("id", id)
                .query(Dispatching::van)
                .optional()
                .orElseThrow(() -> new VanNotFound(id));
    }

    @Transactional
    @PreAuthorize("hasRole('DISPATCHER')")
    public VanView create(@Valid SaveVan command) {
        var id = Ids.next(clock.instant());
        write("""
            insert into van (tenant_id, id, name, base, latitude, longitude, zone, technician_id, technician_name,
                starts_at, ends_at, version)
            values (:organisation, :id, :name, :base, :latitude, :longitude, :zone, :technician, :technicianName,
                :starts, :ends, 0)\
            """, id, command);
        history.add("made", "van", id, command.name().trim());
        return van(id);
    }

    @Transactional
    @PreAuthorize("hasRole('DISPATCHER')")
    public VanView change(UUID id, @Valid SaveVan command, int version) {
        oneAtATime();
        Stale.check("The van", version, inUse(id).version());
        write("""
            update van set name = :name, base = :base, latitude = :latitude, longitude = :longitude, zone = :zone,
                technician_id = :technician, technician_name = :technicianName, starts_at = :starts,
                ends_at = :ends, version = version + 1
            where tenant_id = :organisation and id = :id\
            """, id, command);
        history.add("changed", "van", id, command.name().trim());
        return van(id);
    }

    /** Takes a van out of use; what stands on its days from today on is not placed any more. */
    @Transactional
    @PreAuthorize("hasRole('DISPATCHER')")
    public void retire(UUID id, int version) {
        oneAtATime();
        var van = van(id);
        Stale.check("The van", version, van.version());
        var today = clock.instant().atZone(van.zone()).toLocalDate();
        jdbc.sql("select job_id from stop where tenant_id = :organisation and van_id = :van and day >= :today")
                .param("organisation", organisation())
                .param("van", id)
                .param("today", today)
                .query(UUID.class)
                .list()
                .forEach(this::takeOff);
        jdbc.sql("""
            update van set retired_at = coalesce(retired_at, :now), version = version + 1
            where tenant_id = :organisation and id = :id\
            """)
                .param("now", clock.instant().atOffset(ZoneOffset.UTC))
                .param("organisation", organisation())
                .param("id", id)
                .update();
        history.add("retired", "van", id, van.name());
    }

    // Days

    @Transactional(readOnly = true)
    @PreAuthorize("hasAnyRole('DISPATCHER', 'TECHNICIAN')")
    public DayView day(UUID van, LocalDate date) {
        return days(List.of(van(van)), date).getFirst();
    }

    /** All vans on one day, in the order of their names. */
    @Transactional(readOnly = true)
    @PreAuthorize("hasAnyRole('DISPATCHER', 'TECHNICIAN')")
    public List<DayView> board(LocalDate date) {
        return days(vans(SliceRequest.most()).items(), date);
    }

    /**
     * The days of the vans of one part of the list; with late only those that run later than their plan, than a gate or
     * than the shift, so that a part may be short or empty and still have a next.
     */
    @Transactional(readOnly = true)
    @PreAuthorize("hasAnyRole('DISPATCHER', 'TECHNICIAN')")
    public Slice<DayView> days(LocalDate date, boolean late, SliceRequest wanted) {
        var vans = vans(wanted);
        var days = days(vans.items(), date).stream()
                .filter(day -> !late || day.runsLate())
                .toList();
        return new Slice<>(days, vans.next());
    }

    /** The clock of a whole board; UTC without any van. */
    @Transactional(readOnly = true)
    @PreAuthorize("hasAnyRole('DISPATCHER', 'TECHNICIAN')")
    public ZoneId zone() {
        return homeZone().orElse(ZoneOffset.UTC);
    }

    /** Puts exactly these jobs on the van's day, in this order. Jobs left out are not placed any more. */
    @Transactional
    @PreAuthorize("hasRole('DISPATCHER')")
    public DayView replace(UUID van, LocalDate date, List<@Valid PlanStop> stops, int version) {
        oneAtATime();
        var found = inUse(van);
        if (stops.size() > MOST_STOPS) {
            throw new Invalid("stops", "A day has up to " + MOST_STOPS + " stops");
        }
        Stale.check("The day", version, lockedDay(van, date));
        var ids = stops.stream().map(PlanStop::job).toList();
        if (new HashSet<>(ids).size() != ids.size()) {
            throw new Invalid("stops", "A job stands in a day once");
        }
        var known = jobs(ids);
        var before = planned(date).stream()
                .filter(stop -> stop.van().equals(van))
                .collect(Collectors.toMap(Planned::job, Function.identity()));
        before.keySet().stream().filter(job -> !ids.contains(job)).forEach(this::removeStop);
        var technician = technician(found, shifts.on(date).get(van));
        var position = 0;
        for (var stop : stops) {
            position++;
            var job = Objects.requireNonNull(known.get(stop.job()));
            var minutes = stop.minutes() != null
                    ? stop.minutes()
                    : before.containsKey(stop.job()) ? before.get(stop.job()).minutes() : usualMinutes(job);
            put(found, technician, date, job, position, minutes);
        }
        bump(van, date);
        history.add("ordered the day of", "van", van, date.toString());
        return day(van, date);
    }

    /** Puts a job at the end of a van's day, from wherever it stood. */
    @Transactional
    @PreAuthorize("hasRole('DISPATCHER')")
    public DayView place(UUID job, UUID van, LocalDate date) {
        return placed(job, van, date, MOST_STOPS);
    }

    /** Puts a job at a position of a van's day, from 1, from wherever it stood; what follows moves on. */
    @Transactional
    @PreAuthorize("hasRole('DISPATCHER')")
    public DayView place(UUID job, UUID van, LocalDate date, int position) {
        return placed(job, van, date, position);
    }

    private DayView placed(UUID job, UUID van, LocalDate date, int position) {
        oneAtATime();
        var found = inUse(van);
        lockedDay(van, date);
        var known = Objects.requireNonNull(jobs(List.of(job)).get(job));
        var minutes = minutes(job);
        var others = planned(date).stream()
                .filter(stop -> stop.van().equals(van) && !stop.job().equals(job))
                .map(Planned::job)
                .toList();
        if (others.size() >= MOST_STOPS) {
            throw new Invalid("stops", "A day has up to " + MOST_STOPS + " stops");
        }
        var at = Math.clamp(position, 1, others.size() + 1);
        put(
                found,
                technician(found, shifts.on(date).get(van)),
                date,
                known,
                at,
                minutes == null ? usualMinutes(known) : minutes);
        for (int i = 0; i < others.size(); i++) {
            jdbc.sql("update stop set position = :position where tenant_id = :organisation and job_id = :job")
                    .param("position", i + 1 < at ? i + 1 : i + 2)
                    .param("organisation", organisation())
                    .param("job", others.get(i))
                    .update();
        }
        bump(van, date);
        history.add("put on a day", "job", job, found.name() + ", " + date);
        return day(van, date);
    }

    private @Nullable Integer minutes(UUID job) {
        return jdbc.sql("select minutes from stop where tenant_id = :organisation and job_id = :job")
                .param("organisation", organisation())
                .param("job", job)
                .query(Integer.class)
                .optional()
                .orElse(null);
    }

    /** Takes a job off the day it stands on. */
    @Transactional
    @PreAuthorize("hasRole('DISPATCHER')")
    public void takeOff(UUID job) {
        oneAtATime();
        if (removeStop(job)) {
            history.add("took off a day", "job", job, "");
        }
    }

    /** Hearing that a planned job will not be done: its stop goes; the second time there is none. */
    @ApplicationModuleListener
    void on(JobLeftPlan event) {
        if (!jobs.isPlanned(event.job())) {
            deleteStop(event.job());
        }
        if (event.next() != null) {
            events.publishEvent(event.next());
        }
    }

    /** The zone that most vans start in. */
    @Override
    @Transactional(readOnly = true)
    public Optional<ZoneId> homeZone() {
        return jdbc.sql("""
            select zone from van where tenant_id = :organisation and retired_at is null
            group by zone order by count(*) desc, zone limit 1\
            """)
                .param("organisation", organisation())
                .query((row, number) -> ZoneId.of(row.getString("zone")))
                .optional();
    }

    private Map<UUID, PlannedJob> jobs(List<UUID> ids) {
        var found = jobs.performed(ids).stream().collect(Collectors.toMap(PlannedJob::id, Function.identity()));
        if (found.size() != ids.size()) {
            throw new Invalid("stops", "One of these jobs is not yours to plan");
        }
        return found;
    }

    /**
     * Changes of an organisation's days come one after the other. A job goes from day to day, and two dispatchers who move
     * two jobs crosswise would wait for each other for ever.
     */
    private void oneAtATime() {
        Locks.work(jdbc, "days");
    }

    private VanView inUse(UUID id) {
        var van = van(id);
        var retired = jdbc.sql("""
            select from van where tenant_id = :organisation and id = :id and retired_at is not null\
            """)
                .param("organisation", organisation())
                .param("id", id)
                .query((row, number) -> true)
                .optional();
        if (retired.isPresent()) {
            throw new Invalid("van", van.name() + " is out of use");
        }
        return van;
    }

    private boolean stands(UUID job, UUID van, LocalDate date) {
        return jdbc.sql("""
            select from stop where tenant_id = :organisation and job_id = :job and van_id = :van and day = :day\
            """)
                .param("organisation", organisation())
                .param("job", job)
                .param("van", van)
                .param("day", date)
                .query((row, number) -> true)
                .optional()
                .isPresent();
    }

    private void put(
            VanView van, @Nullable UUID technician, LocalDate date, PlannedJob job, int position, int minutes) {
        if (job.state() == JobState.APPROVED || job.state() == JobState.PLANNED) {
            jobs.plan(job.id(), date, technician);
        } else if (job.state() == JobState.REQUESTED || job.state() == JobState.DECLINED) {
            throw new Invalid("stops", "Job " + job.number() + " is not approved");
        } else if (!stands(job.id(), van.id(), date)) {
            throw new Invalid("stops", "Job " + job.number() + " has begun, so it stays on its day");
        }
        deleteStop(job.id());
        jdbc.sql("""
            insert into stop (tenant_id, id, van_id, day, position, job_id, minutes)
            values (:organisation, :id, :van, :day, :position, :job, :minutes)\
            """)
                .param("organisation", organisation())
                .param("id", Ids.next(clock.instant()))
                .param("van", van.id())
                .param("day", date)
                .param("position", position)
                .param("job", job.id())
                .param("minutes", minutes)
                .update();
    }

    private boolean removeStop(UUID job) {
        var removed = deleteStop(job);
        if (removed) {
            jobs.takeOff(job);
        }
        return removed;
    }

    private boolean deleteStop(UUID job) {
        jdbc.sql("""
            update van_day d set version = version + 1 from stop s
            where s.tenant_id = :organisation and s.job_id = :job
                and d.tenant_id = s.tenant_id and d.van_id = s.van_id and d.day = s.day\
            """).param("organisation", organisation()).param("job", job).update();
        return jdbc.sql("delete from stop where tenant_id = :organisation and job_id = :job")
                        .param("organisation", organisation())
                        .param("job", job)
                        .update()
                > 0;
    }

    /** The day's version; the row is there from now on, and locked. */
    private int lockedDay(UUID van, LocalDate date) {
        jdbc.sql("""
            insert into van_day (tenant_id, van_id, day, version) values (:organisation, :van, :day, 0)
            on conflict do nothing\
            """)
                .param("organisation", organisation())
                .param("van", van)
                .param("day", date)
                .update();
        return jdbc.sql("""
            select version from van_day
            where tenant_id = :organisation and van_id = :van and day = :day for update\
            """)
                .param("organisation", organisation())
                .param("van", van)
                .param("day", date)
                .query(Integer.class)
                .single();
    }

    private void bump(UUID van, LocalDate date) {
        jdbc.sql("""
            update van_day set version = version + 1
            where tenant_id = :organisation and van_id = :van and day = :day\
            """)
                .param("organisation", organisation())
                .param("van", van)
                .param("day", date)
                .update();
    }

    private List<Planned> planned(LocalDate date) {
        return jdbc.sql("""
            select s.van_id, s.job_id, s.minutes from stop s
            where s.tenant_id = :organisation and s.day = :day order by s.van_id, s.position, s.id\
            """)
                .param("organisation", organisation())
                .param("day", date)
                .query((row, number) -> new Planned(
                        row.getObject("van_id", UUID.class),
                        row.getObject("job_id", UUID.class),
                        row.getInt("minutes")))
                .list();
    }

    /** A handful of queries for a whole board: the stops, the jobs with their cures, the versions, the shifts. */
    private List<DayView> days(List<VanView> vans, LocalDate date) {
        var planned = planned(date);
        var known = jobs.performed(planned.stream().map(Planned::job).toList()).stream()
                .collect(Collectors.toMap(PlannedJob::id, Function.identity()));
        var versions = new HashMap<UUID, Integer>();
        jdbc.sql("select van_id, version from van_day where tenant_id = :organisation and day = :day")
                .param("organisation", organisation())
                .param("day", date)
                .query((row, number) -> versions.put(row.getObject("van_id", UUID.class), row.getInt("version")))
                .list();
        var shift = shifts.on(date);
        var days = new ArrayList<DayView>();
        for (var van : vans) {
            var own = planned.stream()
                    .filter(stop -> stop.van().equals(van.id()) && known.containsKey(stop.job()))
                    .toList();
            days.add(day(van, shift.get(van.id()), date, own, known, versions.getOrDefault(van.id(), 0)));
        }
        return days;
    }

    private DayView day(
            VanView van,
            @Nullable ShiftView shift,
            LocalDate date,
            List<Planned> own,
            Map<UUID, PlannedJob> known,
            int version) {
        var now = clock.instant();
        var base = new Place(van.latitude().doubleValue(), van.longitude().doubleValue());
        var starts = shift == null ? van.startsAt() : shift.startsAt();
        var ends = shift == null ? van.endsAt() : shift.endsAt();
        var made = own.stream()
                .map(stop -> stop(Objects.requireNonNull(known.get(stop.job())), date, stop.minutes()))
                .toList();
        var plan = Timetable.of(date, van.zone(), starts, ends, base, made);
        var present = Timetable.asOf(now, date, van.zone(), starts, ends, base, made);
        var visits = present.visits().stream().collect(Collectors.toMap(Timetable.Visit::job, Function.identity()));
        var over = date.isBefore(now.atZone(van.zone()).toLocalDate());
        var stops = new ArrayList<StopView>();
        for (int i = 0; i < own.size(); i++) {
            var job = Objects.requireNonNull(known.get(own.get(i).job()));
            stops.add(view(
                    job, made.get(i), plan.visits().get(i), Objects.requireNonNull(visits.get(job.id())), now, over));
        }
        var overtime = own.isEmpty() ? 0 : (int) present.overruns().toMinutes();
        return new DayView(
                van,
                date,
                shift == null ? null : shift.id(),
                technician(van, shift),
                shift == null ? van.technicianName() : shift.technicianName(),
                starts,
                ends,
                stops,
                own.isEmpty() ? 0 : present.km(),
                own.isEmpty() ? 0 : (int) present.driving().toMinutes(),
                own.isEmpty() ? null : present.leaves().toInstant(),
                own.isEmpty() ? null : present.back().toInstant(),
                overtime,
                stops.stream().mapToInt(StopView::lateMinutes).max().orElse(0),
                overtime > 0
                        ? "Back at " + present.back().toLocalTime().truncatedTo(ChronoUnit.MINUTES)
                                + ", the shift ends at " + ends
                        : null,
                version);
    }

    private static Timetable.Stop stop(PlannedJob job, LocalDate date, int minutes) {
        var depot = job.brief().depot();
        var hours = depot.openingHours().get(date.getDayOfWeek());
        return new Timetable.Stop(
                job.id(),
                new Place(depot.latitude().doubleValue(), depot.longitude().doubleValue()),
                depot.zone(),
                hours == null ? null : hours.opens(),
                hours == null ? null : hours.closes(),
                Duration.ofMinutes(minutes),
                job.startedAt() == null ? null : new Timetable.Actual(job.startedAt(), job.endedAt()));
    }

    private static StopView view(
            PlannedJob job,
            Timetable.Stop stop,
            Timetable.Visit planned,
            Timetable.Visit visit,
            Instant now,
            boolean over) {
        var depot = job.brief().depot();
        var done = job.endedAt() != null;
        return new StopView(
                job.id(),
                job.number(),
                job.work(),
                job.state(),
                job.brief().registration(),
                job.brief().fleet(),
                depot.name(),
                depot.address(),
                depot.contact(),
                depot.zone(),
                stop.opens(),
                stop.closes(),
                visit.km(),
                (int) visit.travel().toMinutes(),
                visit.departs().toInstant(),
                visit.arrives().toInstant(),
                visit.begins().toInstant(),
                visit.ends().toInstant(),
                planned.begins().toInstant(),
                planned.ends().toInstant(),
                (int) stop.work().toMinutes(),
                cures(job, visit, now),
                done ? 0 : (int) visit.lateAgainst(planned).toMinutes(),
                flag(depot.name(), visit.gate(), over && job.startedAt() == null));
    }

    private static @Nullable String flag(String depot, Timetable.Gate gate, boolean missed) {
        if (missed) {
            return "Nobody began it that day";
        }
        return switch (gate) {
            case OPEN -> null;
            case CLOSED_THAT_DAY -> depot + " is closed that day";
            case CLOSED_BY_THEN -> depot + " is closed by then";
            case CLOSES_DURING_WORK -> depot + " closes during the work";
        };
    }

    private static List<StopView.CureView> cures(PlannedJob job, Timetable.Visit visit, Instant now) {
        if (!job.cures().isEmpty()) {
            return job.cures().stream()
                    .map(cure -> new StopView.CureView(
                            cure.startedAt(),
                            cure.endedAt() != null
                                    ? cure.endedAt()
                                    : latest(now, cure.startedAt().plus(RepairJobs.LEAST_CURE)),
                            true))
                    .toList();
        }
        var ends = visit.ends().toInstant().minus(AFTER_CURE);
        var begins = ends.minus(RepairJobs.LEAST_CURE);
        return job.work() == Work.REPLACEMENT
                        || job.endedAt() != null
                        || begins.isBefore(visit.begins().toInstant())
                ? List.of()
                : List.of(new StopView.CureView(begins, ends, false));
    }

    private static Instant latest(Instant one, Instant other) {
        return one.isAfter(other) ? one : other;
    }

    /** Whoever the shift names, where there is one, else whoever usually is out with the van. */
    private static @Nullable UUID technician(VanView van, @Nullable ShiftView shift) {
        return shift == null ? van.technician() : shift.technician();
    }

    private static int usualMinutes(PlannedJob job) {
        return job.work() == Work.REPLACEMENT
                ? REPLACEMENT_MINUTES
                : REPAIR_MINUTES
                        + FURTHER_DAMAGE_MINUTES * (job.brief().damages().size() - 1);
    }

    private void write(String sql, UUID id, SaveVan command) {
        try {
            ZoneId.of(command.zone().trim());
        } catch (DateTimeException e) {
            throw new Invalid("zone", "is not a time zone such as Europe/London");
        }
        var starts = Objects.requireNonNullElse(command.startsAt(), USUAL_START);
        var ends = Objects.requireNonNullElse(command.endsAt(), USUAL_END);
        if (!ends.isAfter(starts)) {
            throw new Invalid("endsAt", "The shift ends after it starts");
        }
        if (nameTaken(id, command.name().trim())) {
            throw new Invalid("name", "There is a van with this name already");
        }
        try {
            jdbc.sql(sql)
                    .param("organisation", organisation())
                    .param("id", id)
                    .param("name", command.name().trim())
                    .param(
                            "base",
                            Objects.requireNonNullElse(command.base(), "").trim())
                    .param("latitude", command.latitude())
                    .param("longitude", command.longitude())
                    .param("zone", command.zone().trim())
                    .param("technician", command.technician())
                    .param("technicianName", command.technician() == null ? null : name(command.technician()))
                    .param("starts", starts)
                    .param("ends", ends)
                    .update();
        } catch (DuplicateKeyException e) {
            throw new Invalid("name", "There is a van with this name already");
        }
    }

    /** Looked for before, since a failed insert would end the transaction that the page is still to be read in. */
    private boolean nameTaken(UUID id, String name) {
        return jdbc.sql("""
            select from van where tenant_id = :organisation and name = :name and id <> :id and retired_at is null\
            """)
                .param("organisation", organisation())
                .param("name", name)
                .param("id", id)
                .query((row, number) -> true)
                .optional()
                .isPresent();
    }

    private String name(UUID technician) {
        return people.technician(technician)
                .map(Member::name)
                .orElseThrow(() -> new Invalid("technician", "This is none of your technicians"));
    }

    private static UUID organisation() {
        return Tenants.require().value();
    }

    private static VanView van(ResultSet row, int number) throws SQLException {
        return new VanView(
                row.getObject("id", UUID.class),
                row.getString("name"),
                row.getString("base"),
                row.getBigDecimal("latitude"),
                row.getBigDecimal("longitude"),
                ZoneId.of(row.getString("zone")),
                row.getObject("technician_id", UUID.class),
                row.getString("technician_name"),
                row.getObject("starts_at", LocalTime.class),
                row.getObject("ends_at", LocalTime.class),
                row.getInt("version"));
    }
}

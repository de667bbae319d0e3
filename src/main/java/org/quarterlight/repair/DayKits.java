package org.quarterlight.repair;

import java.time.Clock;
import java.time.LocalDate;
import java.util.Arrays;
import java.util.List;
import java.util.Objects;
import java.util.stream.IntStream;
import org.quarterlight.bench.Method;
import org.quarterlight.bench.Pane;
import org.quarterlight.bench.PhaseKind;
import org.quarterlight.bench.Sun;
import org.quarterlight.bench.SunWindow;
import org.quarterlight.glass.GlassDrawing;
import org.quarterlight.repair.DayKit.JobKit;
import org.quarterlight.repair.DayKit.LotNeed;
import org.quarterlight.repair.DayKit.SunOnGlass;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.web.SliceRequest;
import org.quarterlight.web.Today;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Packs what a technician needs to work where there is no network. */
@Service
public class DayKits {
    /** North, north-east and so on: where a vehicle's front points, as somebody without a compass can say it. */
    public static final int DEGREES_BETWEEN_POINTS = 45;

    private static final int FULL_CIRCLE = 360;

    /** A device that is away over a night, or a week's end, knows the sun still. */
    private static final int DAYS_OF_SUN = 3;

    /** More than anybody repairs in a day. */
    private static final SliceRequest MOST_JOBS = new SliceRequest(20, null);

    private final RepairJobs jobs;
    private final Bench bench;
    private final Materials materials;
    private final Stock stock;
    private final Lamps lamps;
    private final Methods methods;
    private final KeptOffline offline;
    private final Today today;
    private final Clock clock;

    DayKits(
            RepairJobs jobs,
            Bench bench,
            Materials materials,
            Stock stock,
            Lamps lamps,
            Methods methods,
            KeptOffline offline,
            Today today,
            Clock clock) {
        this.jobs = jobs;
        this.bench = bench;
        this.materials = materials;
        this.stock = stock;
        this.lamps = lamps;
        this.methods = methods;
        this.offline = offline;
        this.today = today;
        this.clock = clock;
    }

    /**
     * For whoever asks: their jobs that are planned for today, are left from before, or stand on no day. That they have taken
     * them along is written down, for what they tell late is believed by it.
     */
    @Transactional
    @PreAuthorize("hasRole('TECHNICIAN')")
    public DayKit today() {
        var day = today.here();
        var all = SliceRequest.most();
        var rows = rows(day);
        offline.taken(
                Objects.requireNonNull(Acting.require().person()),
                rows.stream().map(JobRow::id).toList(),
                clock.instant());
        return new DayKit(
                day,
                rows.stream().map(row -> kit(jobs.job(row.id()))).toList(),
                materials.lots(all).items().stream()
                        .filter(lot -> lot.blocked(day).isEmpty())
                        .toList(),
                Arrays.stream(LotKind.values())
                        .map(kind -> new LotNeed(
                                kind,
                                Arrays.stream(Work.values())
                                        .filter(kind::goesInto)
                                        .toList(),
                                Arrays.stream(PhaseKind.values())
                                        .filter(kind::isFor)
                                        .toList()))
                        .toList(),
                stock.places(all).items(),
                lamps.list(all).items(),
                methods.list(all).items());
    }

    /** The same jobs in a line each. */
    @Transactional(readOnly = true)
    @PreAuthorize("hasRole('TECHNICIAN')")
    public List<JobRow> jobs() {
        return rows(today.here());
    }

    private List<JobRow> rows(LocalDate day) {
        var me = Objects.requireNonNull(Acting.require().person());
        return jobs.list(JobFilter.ofTechnician(me, true), MOST_JOBS).items().stream()
                .filter(row -> row.plannedOn() == null || !row.plannedOn().isAfter(day))
                .toList();
    }

    private JobKit kit(JobView job) {
        return new JobKit(
                job,
                job.method() == null ? Method.GENERIC : job.method().method(),
                JobDrawing.forPage(job.brief(), GlassDrawing.Size.S),
                Bench.cautions(job),
                bench.missing(job.id()),
                materials.usedIn(job.id()),
                IntStream.range(0, FULL_CIRCLE / DEGREES_BETWEEN_POINTS)
                        .map(point -> point * DEGREES_BETWEEN_POINTS)
                        .mapToObj(bearing -> new SunOnGlass(
                                bearing,
                                windows(
                                        job,
                                        new Pane(bearing, job.brief().glass().rakeDegrees()))))
                        .toList(),
                // Level glass is lit while the sun is up.
                windows(job, new Pane(0, 0)),
                known(job));
    }

    private SunWindow known(JobView job) {
        var today = LocalDate.now(clock.withZone(job.zone()));
        return new SunWindow(
                today.atStartOfDay(job.zone()).toInstant(),
                today.plusDays(DAYS_OF_SUN).atStartOfDay(job.zone()).toInstant());
    }

    private List<SunWindow> windows(JobView job, Pane pane) {
        var depot = job.brief().depot();
        return LocalDate.now(clock.withZone(job.zone()))
                .datesUntil(LocalDate.now(clock.withZone(job.zone())).plusDays(DAYS_OF_SUN))
                .flatMap(day -> Sun.windows(
                        day,
                        job.zone(),
                        depot.latitude().doubleValue(),
                        depot.longitude().doubleValue(),
                        pane)
                        .stream())
                .toList();
    }
}

package org.quarterlight.repair.web;

import java.io.IOException;
import java.math.BigDecimal;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.IntStream;
import org.jspecify.annotations.Nullable;
import org.quarterlight.bench.CureTime;
import org.quarterlight.bench.Departure;
import org.quarterlight.bench.DonePhase;
import org.quarterlight.bench.EyeLimit;
import org.quarterlight.bench.Light;
import org.quarterlight.bench.Method;
import org.quarterlight.bench.MethodCheck;
import org.quarterlight.bench.MethodCheck.Shortfall;
import org.quarterlight.bench.PhaseKind;
import org.quarterlight.glass.GlassDrawing;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.repair.Bench;
import org.quarterlight.repair.CalibrateCamera;
import org.quarterlight.repair.Calibration;
import org.quarterlight.repair.CloseJob;
import org.quarterlight.repair.ClosingBlocked;
import org.quarterlight.repair.ClosingGap;
import org.quarterlight.repair.DayKits;
import org.quarterlight.repair.EndPhase;
import org.quarterlight.repair.Gap;
import org.quarterlight.repair.JobDrawing;
import org.quarterlight.repair.JobNote;
import org.quarterlight.repair.JobPhase;
import org.quarterlight.repair.JobReading;
import org.quarterlight.repair.JobState;
import org.quarterlight.repair.JobView;
import org.quarterlight.repair.JobsOverlap;
import org.quarterlight.repair.Lamps;
import org.quarterlight.repair.LotKind;
import org.quarterlight.repair.LotView;
import org.quarterlight.repair.Materials;
import org.quarterlight.repair.PhotoShows;
import org.quarterlight.repair.ReadConditions;
import org.quarterlight.repair.RecordPhase;
import org.quarterlight.repair.RepairJobs;
import org.quarterlight.repair.Result;
import org.quarterlight.repair.Stock;
import org.quarterlight.repair.UseLot;
import org.quarterlight.repair.Work;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.web.DoneAt;
import org.quarterlight.web.Notice;
import org.quarterlight.web.PlateHeader;
import org.quarterlight.web.ShownOn;
import org.quarterlight.web.SliceRequest;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.ui.ExtendedModelMap;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.multipart.MultipartFile;
import org.springframework.web.servlet.ModelAndView;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** The page that leads through the work, one phase at a time, in the yard. */
@Controller
class RunPages {
    /** Where a vehicle's front points, in words that need no compass. */
    static final List<String> POINTS =
            List.of("north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west");

    private final RepairJobs jobs;
    private final Bench bench;
    private final Lamps lamps;
    private final Materials materials;
    private final Stock stock;
    private final Clock clock;

    RunPages(RepairJobs jobs, Bench bench, Lamps lamps, Materials materials, Stock stock, Clock clock) {
        this.jobs = jobs;
        this.bench = bench;
        this.lamps = lamps;
        this.materials = materials;
        this.stock = stock;
        this.clock = clock;
    }

    /** One phase in the list: how long it took, and what is worth knowing of it. */
    record Line(
            JobPhase phase,
            String length,
            @Nullable String mark,
            @Nullable String tooShort,
            List<String> notes,
            long photos) {}

    /** What the last phase lacks, in words. */
    record Lacks(PhaseKind kind, String sentence, boolean addsUp) {}

    /** How long the resin rests still. */
    record Rest(Instant now, Instant until, String left) {}

    /** The running phase's rule: a bar as long as it has run, and a tall one at its least time. Widths in px of 320. */
    record TimeRule(int leastX, int runPx, long totalSeconds) {}

    @GetMapping("/jobs/{id}/run")
    String run(@PathVariable UUID id, Model model) {
        var job = jobs.job(id);
        if (job.state() != JobState.UNDER_WAY && job.state() != JobState.INSPECTED) {
            return "redirect:/jobs/" + id;
        }
        show(job, model);
        return "repair/run";
    }

    @PostMapping("/jobs/{id}/phases")
    @ShownOn("/jobs/{id}/run")
    String phase(
            @PathVariable UUID id,
            @RequestParam PhaseKind kind,
            @RequestParam(required = false) @Nullable String reason,
            @RequestParam(required = false) @Nullable UUID lamp,
            @RequestParam(required = false) @Nullable BigDecimal lampDistanceMm,
            @RequestParam(required = false) CureTime.@Nullable Side side,
            @RequestParam(required = false) @Nullable Boolean goggles,
            @RequestParam(required = false) @Nullable UUID phase,
            DoneAt done,
            RedirectAttributes after) {
        try {
            jobs.recordPhase(
                    id,
                    new RecordPhase(
                            kind,
                            done.deviceTime(),
                            null,
                            null,
                            done.deviceClock(clock.instant()),
                            reason,
                            null,
                            lamp,
                            lampDistanceMm,
                            side,
                            goggles,
                            phase,
                            null));
        } catch (JobsOverlap e) {
            // What a device kept is told to the device, or it would be lost.
            if (done.deviceTime() != null) {
                throw e;
            }
            after.addFlashAttribute(
                    "notice",
                    Notice.failed(String.valueOf(e.getMessage()))
                            .leadingTo("Go to job " + e.otherNumber(), "/jobs/" + e.other() + "/run"));
        }
        return back(id);
    }

    @PostMapping("/jobs/{id}/phases/{phase}/end")
    @ShownOn("/jobs/{id}/run")
    String endPhase(
            @PathVariable UUID id,
            @PathVariable UUID phase,
            @RequestParam(required = false) @Nullable String reading,
            @RequestParam(required = false) @Nullable Boolean clearOfAir,
            DoneAt done) {
        jobs.endPhase(
                id, phase, new EndPhase(reading, clearOfAir, done.deviceTime(), done.deviceClock(clock.instant())));
        return back(id);
    }

    @PostMapping("/jobs/{id}/conditions")
    @ShownOn("/jobs/{id}/run")
    String conditions(
            @PathVariable UUID id,
            @RequestParam(required = false) @Nullable BigDecimal airCelsius,
            @RequestParam(required = false) @Nullable BigDecimal glassCelsius,
            @RequestParam(required = false) @Nullable BigDecimal relativeHumidityPercent,
            @RequestParam Light light,
            @RequestParam(defaultValue = "false") boolean rain,
            @RequestParam(defaultValue = "false") boolean glassDry,
            @RequestParam(required = false) @Nullable BigDecimal bearingDegrees,
            DoneAt done) {
        if (airCelsius == null || glassCelsius == null || relativeHumidityPercent == null) {
            throw new Invalid(
                    airCelsius == null
                            ? "airCelsius"
                            : glassCelsius == null ? "glassCelsius" : "relativeHumidityPercent",
                    "Give a number");
        }
        bench.read(
                id,
                new ReadConditions(
                        airCelsius,
                        glassCelsius,
                        relativeHumidityPercent,
                        light,
                        rain,
                        glassDry,
                        bearingDegrees,
                        done.deviceTime(),
                        done.deviceClock(clock.instant())));
        return "redirect:/jobs/" + id + "/run#conditions";
    }

    @PostMapping("/jobs/{id}/materials")
    @ShownOn("/jobs/{id}/run")
    String material(
            @PathVariable UUID id,
            @RequestParam(required = false) @Nullable UUID lot,
            @RequestParam(required = false) @Nullable String amount,
            @RequestParam(required = false) @Nullable UUID place,
            @RequestParam(required = false) @Nullable BigDecimal quantity,
            DoneAt done,
            RedirectAttributes after) {
        if (lot == null) {
            throw new Invalid("lot", "Choose the lot first");
        }
        bench.use(id, new UseLot(lot, amount, done.deviceTime(), place, quantity, done.deviceClock(clock.instant())));
        after.addFlashAttribute("notice", Notice.done("The lot is in the record."));
        return back(id);
    }

    @PostMapping("/jobs/{id}/calibrate")
    @ShownOn("/jobs/{id}/run")
    String calibrate(
            @PathVariable UUID id,
            @RequestParam(required = false) @Nullable Boolean passed,
            @RequestParam(required = false) Calibration.@Nullable Manner manner,
            @RequestParam(defaultValue = "") String tool,
            @RequestParam(defaultValue = "") String words,
            DoneAt done,
            RedirectAttributes after) {
        if (manner == null) {
            throw new Invalid("manner", "Say how it was done");
        }
        if (tool.isBlank()) {
            throw new Invalid("tool", "Name the tool, or the firm that did it");
        }
        if (passed == null) {
            throw new Invalid("passed", "Say whether it passed");
        }
        bench.calibrate(
                id,
                new CalibrateCamera(passed, manner, tool, words, done.deviceTime(), done.deviceClock(clock.instant())));
        after.addFlashAttribute(
                "notice",
                passed
                        ? Notice.done("The calibration is in the record.")
                        : Notice.info("It is in the record. The vehicle stays until one has passed."));
        return back(id);
    }

    @PostMapping("/jobs/{id}/notes")
    @ShownOn("/jobs/{id}/run")
    String note(
            @PathVariable UUID id,
            @RequestParam(defaultValue = "") String text,
            @RequestParam(required = false) @Nullable UUID duringPhase,
            DoneAt done,
            RedirectAttributes after) {
        jobs.addNote(id, text, duringPhase, done.at());
        after.addFlashAttribute("notice", Notice.done("Noted."));
        return back(id);
    }

    @PostMapping("/jobs/{id}/photos")
    @ShownOn("/jobs/{id}/run")
    String photo(
            @PathVariable UUID id,
            @RequestParam PhotoShows shows,
            @RequestParam MultipartFile photo,
            @RequestParam(required = false) @Nullable UUID duringPhase,
            DoneAt done,
            RedirectAttributes after) {
        try (var content = photo.getInputStream()) {
            jobs.addPhoto(id, shows, content, duringPhase, done.deviceTime(), done.deviceClock(clock.instant()));
        } catch (IOException e) {
            throw new Invalid("photo", "The photo did not arrive whole");
        }
        after.addFlashAttribute("notice", Notice.done("Photo added."));
        return back(id);
    }

    /** A refused form of this page is shown at its own address; loaded again, it leads back to the work. */
    @GetMapping({
        "/jobs/{id}/close",
        "/jobs/{id}/phases",
        "/jobs/{id}/conditions",
        "/jobs/{id}/materials",
        "/jobs/{id}/calibrate",
        "/jobs/{id}/notes",
        "/jobs/{id}/photos",
        "/jobs/{id}/inspect",
        "/jobs/{id}/abandon",
        "/jobs/{id}/measurements"
    })
    String closing(@PathVariable UUID id) {
        return back(id);
    }

    /** What was typed stays where the record has gaps. */
    @PostMapping("/jobs/{id}/close")
    @ShownOn("/jobs/{id}/run")
    ModelAndView close(
            @PathVariable UUID id,
            @RequestParam(required = false) @Nullable Result result,
            @RequestParam(defaultValue = "") String notes,
            @RequestParam(required = false) @Nullable UUID resinLot,
            @RequestParam(required = false) @Nullable String glassMarking,
            DoneAt done,
            RedirectAttributes after) {
        List<ClosingGap> gaps;
        try {
            var job = jobs.close(
                    id,
                    new CloseJob(
                            result,
                            notes,
                            resinLot,
                            glassMarking,
                            done.deviceTime(),
                            done.deviceClock(clock.instant())));
            after.addFlashAttribute("notice", Notice.done("Job " + job.number() + " is closed."));
            return new ModelAndView("redirect:/jobs/" + id);
        } catch (ClosingBlocked e) {
            gaps = e.gaps();
        } catch (Invalid e) {
            gaps = List.of(gap(id, e.problem()));
        }
        var page = new ModelAndView("repair/run", HttpStatus.UNPROCESSABLE_CONTENT);
        var model = new ExtendedModelMap();
        show(jobs.job(id), model);
        page.addAllObjects(model);
        page.addObject("gaps", gaps);
        page.addObject("typedNotes", notes);
        page.addObject("typedMarking", glassMarking);
        page.addObject("typedResult", result);
        page.addObject("typedLot", resinLot);
        return page;
    }

    /** What the closing's own form lacks. */
    private static ClosingGap gap(UUID id, String sentence) {
        return new ClosingGap(Gap.RESULT, sentence, "/jobs/" + id + "/run#close", false);
    }

    private void show(JobView job, Model model) {
        var method = job.method() == null ? Method.GENERIC : job.method().method();
        var done = job.phases().stream().map(JobPhase::done).toList();
        var running = job.phases().stream()
                .filter(phase -> phase.endedAt() == null)
                .reduce((first, second) -> second)
                .orElse(null);
        var nextPlace = running == null && job.state() == JobState.UNDER_WAY ? nextPlace(job, method, done) : null;
        var step = nextPlace == null ? null : method.steps().get(nextPlace);
        var next = step == null ? null : step.kind();
        var repairs = job.work() == Work.REPAIR;
        var places = MethodCheck.places(method, done);
        var place = running == null
                ? nextPlace
                : Integer.valueOf(places.get(job.phases().indexOf(running)));
        model.addAttribute("job", job);
        model.addAttribute("method", repairs ? method : null);
        model.addAttribute("running", running);
        model.addAttribute("next", next);
        model.addAttribute("nextIsOptional", step != null && !step.required());
        model.addAttribute(
                "afterNext", nextPlace == null || step == null || step.required() ? null : after(method, nextPlace));
        model.addAttribute("place", place == null || place < 0 || !repairs ? null : place + 1);
        model.addAttribute("stations", method.steps().size());
        var shortfall = repairs && running == null ? MethodCheck.shortfall(method, done) : Optional.<Shortfall>empty();
        model.addAttribute("shortfall", shortfall.map(RunPages::lacks).orElse(null));
        model.addAttribute("afterShort", shortfall.isEmpty() || nextPlace == null ? null : after(method, nextPlace));
        model.addAttribute("rest", repairs && next != null ? rest(method, job, next) : null);
        if (running != null) {
            var least = repairs && place != null ? leastSeconds(method, place, running, done) : 0;
            model.addAttribute("ran", minutesAndSeconds(Duration.between(running.startedAt(), clock.instant())));
            model.addAttribute("leastSeconds", least);
            model.addAttribute("least", least == 0 ? null : minutesAndSeconds(Duration.ofSeconds(least)));
            model.addAttribute("rule", least == 0 ? null : timeRule(running, least));
        }
        model.addAttribute("serverNow", clock.instant());
        model.addAttribute("readingHoldsSeconds", Bench.readingHolds().toSeconds());
        model.addAttribute(
                "lines",
                IntStream.range(0, job.phases().size())
                        .mapToObj(at -> line(
                                method,
                                repairs ? places.get(at) : -1,
                                job,
                                job.phases().get(at)))
                        .toList());
        // What is written or shown now is about the phase that runs, or that was done last.
        model.addAttribute(
                "during",
                running != null
                        ? running.id()
                        : job.phases().isEmpty() ? null : job.phases().getLast().id());
        model.addAttribute("kinds", PhaseKind.values());
        var speaksAgainst = conditions(job, model);
        model.addAttribute(
                "heldBack", speaksAgainst && next != null && job.work() == Work.REPAIR && Bench.needsConditions(next));
        var lots = usable(job);
        var shown = running == null ? next : running.kind();
        model.addAttribute("lots", lots);
        model.addAttribute("phaseShown", shown);
        model.addAttribute(
                "lotsForPhase",
                lots.stream().filter(lot -> lot.kind().isFor(shown)).toList());
        model.addAttribute(
                "resins",
                lots.stream().filter(lot -> lot.kind() == LotKind.RESIN).toList());
        model.addAttribute("places", stock.places(SliceRequest.most()).items());
        model.addAttribute("used", materials.usedIn(job.id()));
        model.addAttribute("lamps", lamps.list(SliceRequest.most()).items());
        model.addAttribute("gogglesMark", EyeLimit.GOGGLES_MARK);
        model.addAttribute("curveFromNm", EyeLimit.ASK_FOR_THE_CURVE_FROM_NM);
        model.addAttribute("laminateRefusal", TodayPages.refusalThroughLaminate());
        model.addAttribute("cautions", Bench.cautions(job));
        var missing = bench.missing(job.id());
        model.addAttribute("missing", missing);
        // Where somebody has answered for a phase that was left out, it is no gap any more.
        var answeredFor = missing.stream().noneMatch(gap -> gap.gap() == Gap.PHASES);
        model.addAttribute("comesFirst", repairs && !answeredFor ? comesFirst(method, done) : List.of());
        model.addAttribute("drawing", JobDrawing.forPage(job.brief(), GlassDrawing.Size.S));
        model.addAttribute("look", "outdoor");
        model.addAttribute(
                "plateHeader",
                PlateHeader.ofJob(
                        Acting.require().pattern(),
                        job.registration(),
                        job.work() == Work.REPAIR ? "Repair, job " + job.number() : "New glass, job " + job.number(),
                        job.brief().fleet()));
    }

    /** Whether the last reading speaks against the work, and nobody has answered for it. */
    private boolean conditions(JobView job, Model model) {
        var reading = job.readings().isEmpty() ? null : job.readings().getLast();
        var answered = reading != null
                && job.overrides().stream()
                        .anyMatch(override -> override.gap() == Gap.CONDITIONS
                                && !override.madeAt().isBefore(reading.arrivedAt()));
        model.addAttribute("reading", reading);
        model.addAttribute("answered", answered);
        var age = reading == null ? Duration.ZERO : Duration.between(reading.readAt(), clock.instant());
        var fresh = reading != null && age.compareTo(Bench.readingHolds()) <= 0;
        model.addAttribute("fresh", fresh);
        model.addAttribute("age", age.toMinutes() < 1 ? "just now" : ago(age));
        var allowed = reading != null && (reading.outcome() == JobReading.Outcome.GO || answered);
        var mayFill = fresh && allowed;
        model.addAttribute("mayFill", mayFill);
        model.addAttribute("lights", Light.values());
        model.addAttribute("points", POINTS);
        model.addAttribute("degreesBetween", DayKits.DEGREES_BETWEEN_POINTS);
        var bearing = reading == null ? null : reading.conditions().bearingDegrees();
        model.addAttribute("sun", bearing == null ? List.of() : bench.sun(job.id(), bearing, null));
        return reading != null && !allowed;
    }

    private static String ago(Duration age) {
        return age.toHours() < 1
                ? age.toMinutes() + " min ago"
                : age.toHours() + " h " + age.toMinutesPart() + " min ago";
    }

    /** What may go into this job today. */
    private List<LotView> usable(JobView job) {
        var today = LocalDate.now(clock.withZone(job.zone()));
        return materials.lots(SliceRequest.most()).items().stream()
                .filter(lot ->
                        lot.kind().goesInto(job.work()) && lot.blocked(today).isEmpty())
                .toList();
    }

    /** Under the lamp several times add up: what is left of it. */
    private static long leastSeconds(Method method, int place, JobPhase phase, List<DonePhase> done) {
        var before = done.stream().filter(each -> each.endedAt() != null).toList();
        var left = phase.kind() == PhaseKind.CURE
                ? MethodCheck.shortfall(method, before)
                        .filter(shortfall -> shortfall.kind() == PhaseKind.CURE)
                        .map(shortfall -> shortfall.missing().toSeconds())
                : Optional.<Long>empty();
        return left.orElseGet(() ->
                Math.max(method.leastAt(place).toSeconds(), Objects.requireNonNullElse(phase.requiredSeconds(), 0)));
    }

    /** "8:10 of 10:00: 1:50 are missing". */
    private static Lacks lacks(Shortfall shortfall) {
        return new Lacks(
                shortfall.kind(),
                "%s of %s: %s are missing"
                        .formatted(
                                minutesAndSeconds(shortfall.done()),
                                minutesAndSeconds(shortfall.required()),
                                minutesAndSeconds(shortfall.missing())),
                shortfall.addsUp());
    }

    /** What is left of the rest between pressure and vacuum, or back. */
    private @Nullable Rest rest(Method method, JobView job, PhaseKind next) {
        var last = job.phases().isEmpty() ? null : job.phases().getLast();
        if (last == null || last.endedAt() == null) {
            return null;
        }
        var turns = last.kind() == PhaseKind.PRESSURE && next == PhaseKind.VACUUM
                || last.kind() == PhaseKind.VACUUM && next == PhaseKind.PRESSURE;
        if (!turns) {
            return null;
        }
        var until = last.endedAt().plusSeconds(method.restSeconds());
        var now = clock.instant();
        return until.isAfter(now)
                ? new Rest(
                        now,
                        until,
                        minutesAndSeconds(Duration.between(now, until).plusMillis(999)))
                : null;
    }

    private static List<PhaseKind> comesFirst(Method method, List<DonePhase> done) {
        return MethodCheck.departures(method, done).stream()
                .filter(departure -> departure.what() == Departure.What.MISSING)
                .map(Departure::phase)
                .distinct()
                .toList();
    }

    private TimeRule timeRule(JobPhase running, long leastSeconds) {
        var total = Math.max(60, leastSeconds * 8 / 5);
        var ran = Duration.between(running.startedAt(), clock.instant()).toSeconds();
        return new TimeRule((int) (320 * leastSeconds / total), (int) Math.min(320, 320 * ran / total), total);
    }

    private static Line line(Method method, int place, JobView job, JobPhase phase) {
        var length = phase.endedAt() == null
                ? "running"
                : minutesAndSeconds(Duration.between(phase.startedAt(), phase.endedAt()));
        var offset = phase.deviceOffsetSeconds();
        var missing = MethodCheck.missing(method, place, phase.done());
        return new Line(
                phase,
                length,
                offset == null ? null : measuredAlone(offset),
                missing.isZero() ? null : "too short: " + minutesAndSeconds(missing) + " missing",
                job.notes().stream()
                        .filter(note -> phase.id().equals(note.phase()))
                        .map(JobNote::text)
                        .toList(),
                job.photos().stream()
                        .filter(photo -> phase.id().equals(photo.phase()))
                        .count());
    }

    /** A second is what a network takes, and no fault of a clock. */
    private static String measuredAlone(int offsetSeconds) {
        return Math.abs(offsetSeconds) < 2
                ? "Measured without a network."
                : "Measured without a network; that clock was "
                        + minutesAndSeconds(Duration.ofSeconds(Math.abs(offsetSeconds)))
                        + (offsetSeconds < 0 ? " behind" : " ahead") + " and is corrected.";
    }

    private static String minutesAndSeconds(Duration time) {
        return "%02d:%02d".formatted(time.toMinutes(), time.toSecondsPart());
    }

    private static @Nullable Integer nextPlace(JobView job, Method method, List<DonePhase> done) {
        if (job.work() == Work.REPAIR) {
            return MethodCheck.nextPlace(method, done).orElse(null);
        }
        return done.isEmpty() ? Integer.valueOf(0) : null;
    }

    private static @Nullable PhaseKind after(Method method, int place) {
        return place + 1 < method.steps().size() ? method.steps().get(place + 1).kind() : null;
    }

    private static String back(UUID id) {
        return "redirect:/jobs/" + id + "/run";
    }
}

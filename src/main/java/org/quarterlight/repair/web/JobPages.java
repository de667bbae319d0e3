package org.quarterlight.repair.web;

import java.time.Clock;
import java.time.LocalDate;
import java.util.EnumSet;
import java.util.List;
import java.util.Objects;
import java.util.Set;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.account.People;
import org.quarterlight.glass.GlassDrawing;
import org.quarterlight.repair.Bench;
import org.quarterlight.repair.Gap;
import org.quarterlight.repair.JobDrawing;
import org.quarterlight.repair.JobFilter;
import org.quarterlight.repair.JobState;
import org.quarterlight.repair.JobView;
import org.quarterlight.repair.Materials;
import org.quarterlight.repair.Methods;
import org.quarterlight.repair.RepairJobs;
import org.quarterlight.repair.RequestJob;
import org.quarterlight.repair.Work;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.tenancy.Role;
import org.quarterlight.web.DoneAt;
import org.quarterlight.web.Flag;
import org.quarterlight.web.Notice;
import org.quarterlight.web.ShownOn;
import org.quarterlight.web.SliceRequest;
import org.springframework.format.annotation.DateTimeFormat;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** A job seen by its fleet and by whoever performs it. */
@Controller
class JobPages {
    /** What may be answered for while the work goes on; the rest may still be mended by it. */
    private static final Set<Gap> BEFORE_IT_PASSED =
            EnumSet.of(Gap.CONDITIONS, Gap.PHASES, Gap.LOT_RECALLED, Gap.LATE, Gap.PHOTO_ORDER);

    private final RepairJobs jobs;
    private final Bench bench;
    private final Methods methods;
    private final Materials materials;
    private final People people;
    private final Clock clock;

    JobPages(RepairJobs jobs, Bench bench, Methods methods, Materials materials, People people, Clock clock) {
        this.jobs = jobs;
        this.bench = bench;
        this.methods = methods;
        this.materials = materials;
        this.people = people;
        this.clock = clock;
    }

    @GetMapping("/jobs")
    String list(
            @RequestParam(required = false) @Nullable String state,
            @RequestParam(required = false) @Nullable UUID performer,
            @RequestParam(required = false) @Nullable UUID technician,
            @RequestParam(required = false) @Nullable Flag mine,
            @RequestParam(required = false) @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) @Nullable LocalDate date,
            @RequestParam(required = false) @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) @Nullable LocalDate dueBy,
            @RequestParam(required = false) @Nullable UUID vehicle,
            @RequestParam(required = false) @Nullable String q,
            @RequestParam(required = false) JobFilter.@Nullable Sort sort,
            SliceRequest wanted,
            Model model) {
        var acting = Acting.require();
        if (performer == null && "approved".equals(state) && !acting.is(Role.MANAGER)) {
            performer = acting.organisation().value(); // what others perform is not theirs to place
        }
        var filter = JobFilters.of(state, performer, technician, mine, date, dueBy, vehicle, q, sort);
        model.addAttribute("state", state);
        model.addAttribute("mine", Flag.on(mine));
        model.addAttribute("q", q);
        model.addAttribute("date", date);
        model.addAttribute("dueBy", dueBy);
        model.addAttribute("jobs", jobs.list(filter, wanted));
        model.addAttribute("counted", jobs.count(filter));
        return "repair/list";
    }

    /** From a damage's page: the manager decides what is done and approves it in the same breath. */
    @PostMapping("/jobs")
    String request(@RequestParam List<UUID> damage, @RequestParam Work work, RedirectAttributes after) {
        var job = jobs.request(new RequestJob(work, damage, true, null, null));
        after.addFlashAttribute("notice", Notice.done("Job " + job.number() + " is approved. Say who does it."));
        return "redirect:/jobs/" + job.id();
    }

    /** From a closed job's page: the repair has failed, and is asked for again without charge. */
    @PostMapping("/jobs/{id}/warranty")
    @ShownOn("/jobs/{id}")
    String warranty(
            @PathVariable UUID id,
            @RequestParam(defaultValue = "") List<UUID> damage,
            @RequestParam(defaultValue = "repair") Work work,
            RedirectAttributes after) {
        var job = jobs.request(new RequestJob(work, damage, true, id, null));
        after.addFlashAttribute(
                "notice",
                Notice.done("Job " + job.number()
                        + (job.warrantyEnded() == null
                                ? " follows under warranty. Its damages are open again: say who does it."
                                : " follows. Its damages are open again. The warranty has ended, so it is charged as"
                                        + " agreed.")));
        return "redirect:/jobs/" + job.id();
    }

    @PostMapping("/jobs/{id}/contest")
    @ShownOn("/jobs/{id}")
    String contest(@PathVariable UUID id, @RequestParam(defaultValue = "") String reason, RedirectAttributes after) {
        jobs.contest(id, reason);
        after.addFlashAttribute("notice", Notice.done("Kept. The fleet reads it too."));
        return "redirect:/jobs/" + id;
    }

    /** The job that whoever looks is at, or the day's list where they are at none. */
    @GetMapping("/jobs/run")
    String thisJob(RedirectAttributes after) {
        var present = jobs.atWork(Objects.requireNonNull(Acting.require().person()));
        if (present.isEmpty()) {
            after.addFlashAttribute("notice", Notice.info("No job of yours is under way. Start the next one."));
        }
        return present.map(id -> "redirect:/jobs/" + id + "/run").orElse("redirect:/");
    }

    @GetMapping("/jobs/{id}")
    String job(@PathVariable UUID id, Model model) {
        var acting = Acting.require();
        var job = jobs.job(id);
        var performs = job.performer().equals(acting.organisation().value());
        show(job, model);
        model.addAttribute("performs", performs);
        model.addAttribute("owns", job.fleet().equals(acting.organisation().value()));
        if (acting.is(Role.MANAGER) && job.state() == JobState.APPROVED) {
            model.addAttribute("choices", jobs.choices(id));
        }
        if (acting.is(Role.DISPATCHER)
                && performs
                && (job.state() == JobState.APPROVED || job.state() == JobState.PLANNED)) {
            model.addAttribute(
                    "technicians", people.technicians(SliceRequest.most()).items());
        }
        if (acting.is(Role.TECHNICIAN)
                && performs
                && (job.state() == JobState.APPROVED || job.state() == JobState.PLANNED)) {
            model.addAttribute("methods", methods.list(SliceRequest.most()).items());
        }
        model.addAttribute("materials", performs ? materials.usedIn(id) : List.of());
        var missing = bench.missing(id);
        model.addAttribute("missing", missing);
        model.addAttribute(
                "answerable",
                missing.stream()
                        .filter(gap -> performs && acting.isAny(Role.DISPATCHER, Role.MANAGER))
                        .filter(gap -> gap.overridable()
                                && (job.state() == JobState.INSPECTED || BEFORE_IT_PASSED.contains(gap.gap())))
                        .toList());
        return "repair/show";
    }

    /** From a job's page: whoever may answers for what blocks it. */
    @PostMapping("/jobs/{id}/overrides")
    @ShownOn("/jobs/{id}")
    String override(
            @PathVariable UUID id,
            @RequestParam Gap gap,
            @RequestParam(defaultValue = "") String reason,
            RedirectAttributes after) {
        bench.override(id, gap, reason);
        return back(id, "Written down with your name.", after);
    }

    @PostMapping("/jobs/{id}/approve")
    @ShownOn("/jobs/{id}")
    String approve(@PathVariable UUID id, RedirectAttributes after) {
        jobs.approve(id, null);
        return back(id, "Approved.", after);
    }

    @PostMapping("/jobs/{id}/decline")
    @ShownOn("/jobs/{id}")
    String decline(@PathVariable UUID id, @RequestParam(defaultValue = "") String reason, RedirectAttributes after) {
        jobs.decline(id, reason, null);
        return back(id, "Declined. Its damages are open again.", after);
    }

    @PostMapping("/jobs/{id}/withdraw")
    @ShownOn("/jobs/{id}")
    String withdraw(@PathVariable UUID id, @RequestParam(defaultValue = "") String reason, RedirectAttributes after) {
        jobs.withdraw(id, reason, null);
        return back(id, "Withdrawn. Its damages are open again.", after);
    }

    @PostMapping("/jobs/{id}/share")
    @ShownOn("/jobs/{id}")
    String share(@PathVariable UUID id, @RequestParam UUID partner, RedirectAttributes after) {
        var job = jobs.share(id, partner);
        return back(id, job.performerName() + " can see it now.", after);
    }

    @PostMapping("/jobs/{id}/assign")
    @ShownOn("/jobs/{id}")
    String assign(
            @PathVariable UUID id,
            @RequestParam(required = false) @Nullable UUID technician,
            RedirectAttributes after) {
        jobs.assign(id, technician);
        return back(id, "Assigned.", after);
    }

    @PostMapping("/jobs/{id}/hand-back")
    @ShownOn("/jobs/{id}")
    String handBack(@PathVariable UUID id, @RequestParam(defaultValue = "") String reason, RedirectAttributes after) {
        var job = jobs.handBack(id, reason);
        after.addFlashAttribute("notice", Notice.done("Job " + job.number() + " goes back to its fleet."));
        return "redirect:/jobs?state=open";
    }

    @PostMapping("/jobs/{id}/start")
    @ShownOn("/jobs/{id}")
    String start(@PathVariable UUID id, @RequestParam(required = false) @Nullable UUID method, DoneAt done) {
        jobs.start(id, method, done.deviceTime(), done.deviceClock(clock.instant()));
        return "redirect:/jobs/" + id + "/run";
    }

    @PostMapping("/jobs/{id}/abandon")
    @ShownOn("/jobs/{id}/run")
    String abandon(
            @PathVariable UUID id,
            @RequestParam(defaultValue = "") String reason,
            DoneAt done,
            RedirectAttributes after) {
        jobs.abandon(id, reason, done.at());
        return back(id, "Abandoned. The fleet gets a request for new glass.", after);
    }

    private void show(JobView job, Model model) {
        model.addAttribute("job", job);
        model.addAttribute("drawing", JobDrawing.forPage(job.brief(), GlassDrawing.Size.L));
        model.addAttribute("small", JobDrawing.forPage(job.brief(), GlassDrawing.Size.S));
    }

    private static String back(UUID id, String sentence, RedirectAttributes after) {
        after.addFlashAttribute("notice", Notice.done(sentence));
        return "redirect:/jobs/" + id;
    }
}

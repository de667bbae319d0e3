package org.quarterlight.repair.web;

import java.io.IOException;
import java.time.Clock;
import java.time.Duration;
import java.time.LocalDate;
import java.util.List;
import java.util.Objects;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.account.PartnerState;
import org.quarterlight.account.Partners;
import org.quarterlight.account.People;
import org.quarterlight.bench.PhaseKind;
import org.quarterlight.glass.GlassDrawing;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.repair.CloseJob;
import org.quarterlight.repair.ClosingBlocked;
import org.quarterlight.repair.JobDrawing;
import org.quarterlight.repair.JobFilter;
import org.quarterlight.repair.JobPhase;
import org.quarterlight.repair.JobState;
import org.quarterlight.repair.JobView;
import org.quarterlight.repair.Materials;
import org.quarterlight.repair.PhotoShows;
import org.quarterlight.repair.RecordPhase;
import org.quarterlight.repair.RepairJobs;
import org.quarterlight.repair.RequestJob;
import org.quarterlight.repair.Result;
import org.quarterlight.repair.Work;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.tenancy.Role;
import org.quarterlight.web.Flag;
import org.quarterlight.web.Notice;
import org.quarterlight.web.PlateHeader;
import org.quarterlight.web.SliceRequest;
import org.springframework.format.annotation.DateTimeFormat;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.multipart.MultipartFile;
import org.springframework.web.servlet.ModelAndView;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** A job seen by its fleet and by whoever performs it, and the page that leads through the work. */
@Controller
class JobPages {
    private final RepairJobs jobs;
    private final Materials materials;
    private final Partners partners;
    private final People people;
    private final Clock clock;

    JobPages(RepairJobs jobs, Materials materials, Partners partners, People people, Clock clock) {
        this.jobs = jobs;
        this.materials = materials;
        this.partners = partners;
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
    String warranty(
            @PathVariable UUID id,
            @RequestParam(defaultValue = "") List<UUID> damage,
            @RequestParam(defaultValue = "repair") Work work,
            RedirectAttributes after) {
        var job = jobs.request(new RequestJob(work, damage, true, id, null));
        after.addFlashAttribute(
                "notice",
                Notice.done("Job " + job.number()
                        + " follows under warranty. Its damages are open again: say who does it."));
        return "redirect:/jobs/" + job.id();
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
            model.addAttribute(
                    "partners", partners.list(PartnerState.ACTIVE, all()).items());
        }
        if (acting.is(Role.DISPATCHER)
                && performs
                && (job.state() == JobState.APPROVED || job.state() == JobState.PLANNED)) {
            model.addAttribute("technicians", people.technicians(all()).items());
        }
        return "repair/show";
    }

    @PostMapping("/jobs/{id}/approve")
    String approve(@PathVariable UUID id, RedirectAttributes after) {
        jobs.approve(id, null);
        return back(id, "Approved.", after);
    }

    @PostMapping("/jobs/{id}/decline")
    String decline(@PathVariable UUID id, @RequestParam(defaultValue = "") String reason, RedirectAttributes after) {
        jobs.decline(id, reason, null);
        return back(id, "Declined. Its damages are open again.", after);
    }

    @PostMapping("/jobs/{id}/withdraw")
    String withdraw(@PathVariable UUID id, @RequestParam(defaultValue = "") String reason, RedirectAttributes after) {
        jobs.withdraw(id, reason, null);
        return back(id, "Withdrawn. Its damages are open again.", after);
    }

    @PostMapping("/jobs/{id}/share")
    String share(@PathVariable UUID id, @RequestParam UUID partner, RedirectAttributes after) {
        var job = jobs.share(id, partner);
        return back(id, job.performerName() + " can see it now.", after);
    }

    @PostMapping("/jobs/{id}/assign")
    String assign(
            @PathVariable UUID id,
            @RequestParam(required = false) @Nullable UUID technician,
            RedirectAttributes after) {
        jobs.assign(id, technician);
        return back(id, "Assigned.", after);
    }

    @PostMapping("/jobs/{id}/hand-back")
    String handBack(@PathVariable UUID id, @RequestParam(defaultValue = "") String reason, RedirectAttributes after) {
        var job = jobs.handBack(id, reason);
        after.addFlashAttribute("notice", Notice.done("Job " + job.number() + " goes back to its fleet."));
        return "redirect:/jobs?state=open";
    }

    @PostMapping("/jobs/{id}/start")
    String start(@PathVariable UUID id) {
        jobs.start(id, null);
        return "redirect:/jobs/" + id + "/run";
    }

    @GetMapping("/jobs/{id}/run")
    String run(@PathVariable UUID id, Model model) {
        var job = jobs.job(id);
        if (job.state() != JobState.UNDER_WAY && job.state() != JobState.INSPECTED) {
            return "redirect:/jobs/" + id;
        }
        showRunner(job, model);
        return "repair/run";
    }

    @PostMapping("/jobs/{id}/phases")
    String phase(@PathVariable UUID id, @RequestParam PhaseKind kind) {
        jobs.recordPhase(id, new RecordPhase(kind, null, null, null));
        return "redirect:/jobs/" + id + "/run";
    }

    @PostMapping("/jobs/{id}/phases/{phase}/end")
    String endPhase(@PathVariable UUID id, @PathVariable UUID phase) {
        jobs.endPhase(id, phase, null);
        return "redirect:/jobs/" + id + "/run";
    }

    @PostMapping("/jobs/{id}/notes")
    String note(@PathVariable UUID id, @RequestParam(defaultValue = "") String text, RedirectAttributes after) {
        jobs.addNote(id, text, null);
        after.addFlashAttribute("notice", Notice.done("Noted."));
        return "redirect:/jobs/" + id + "/run";
    }

    @PostMapping("/jobs/{id}/photos")
    String photo(
            @PathVariable UUID id,
            @RequestParam PhotoShows shows,
            @RequestParam MultipartFile photo,
            RedirectAttributes after) {
        try (var content = photo.getInputStream()) {
            jobs.addPhoto(id, shows, content, null);
        } catch (IOException e) {
            throw new Invalid("photo", "The photo did not arrive whole");
        }
        after.addFlashAttribute("notice", Notice.done("Photo added."));
        return "redirect:/jobs/" + id + "/run";
    }

    @PostMapping("/jobs/{id}/inspect")
    String inspect(
            @PathVariable UUID id,
            @RequestParam boolean passed,
            @RequestParam(required = false) @Nullable String reason,
            RedirectAttributes after) {
        jobs.inspect(id, passed, reason, null);
        after.addFlashAttribute(
                "notice",
                passed ? Notice.done("Passed. Close the job now.") : Notice.info("Failed. The work goes on."));
        return "redirect:/jobs/" + id + "/run";
    }

    @PostMapping("/jobs/{id}/abandon")
    String abandon(@PathVariable UUID id, @RequestParam(defaultValue = "") String reason, RedirectAttributes after) {
        jobs.abandon(id, reason, null);
        return back(id, "Abandoned. The fleet gets a request for new glass.", after);
    }

    /** A refused closing is shown at this address; loaded again, it leads back to the work. */
    @GetMapping("/jobs/{id}/close")
    String closing(@PathVariable UUID id) {
        return "redirect:/jobs/" + id + "/run";
    }

    /** What was typed stays where the record has gaps. */
    @PostMapping("/jobs/{id}/close")
    ModelAndView close(
            @PathVariable UUID id,
            @RequestParam(required = false) @Nullable Result result,
            @RequestParam(defaultValue = "") String notes,
            @RequestParam(required = false) @Nullable UUID resinLot,
            @RequestParam(required = false) @Nullable String glassMarking,
            RedirectAttributes after) {
        List<String> gaps;
        if (result == null) {
            gaps = List.of("Say how it came out.");
        } else if (notes.isBlank()) {
            gaps = List.of("Notes are missing: what was done, in a sentence or two.");
        } else {
            try {
                var job = jobs.close(id, new CloseJob(result, notes, resinLot, glassMarking, null));
                after.addFlashAttribute("notice", Notice.done("Job " + job.number() + " is closed."));
                return new ModelAndView("redirect:/jobs/" + id);
            } catch (ClosingBlocked e) {
                gaps = e.gaps();
            } catch (Invalid e) {
                gaps = List.of(e.problem());
            }
        }
        var page = new ModelAndView("repair/run", HttpStatus.UNPROCESSABLE_CONTENT);
        var model = new org.springframework.ui.ExtendedModelMap();
        showRunner(jobs.job(id), model);
        page.addAllObjects(model);
        page.addObject("gaps", gaps);
        page.addObject("typedNotes", notes);
        page.addObject("typedMarking", glassMarking);
        page.addObject("typedResult", result);
        page.addObject("typedLot", resinLot);
        return page;
    }

    private void show(JobView job, Model model) {
        model.addAttribute("job", job);
        model.addAttribute("drawing", JobDrawing.forPage(job.brief(), GlassDrawing.Size.L));
        model.addAttribute("small", JobDrawing.forPage(job.brief(), GlassDrawing.Size.S));
    }

    private void showRunner(JobView job, Model model) {
        var running = job.phases().stream()
                .filter(phase -> phase.endedAt() == null)
                .reduce((first, second) -> second)
                .orElse(null);
        model.addAttribute("job", job);
        model.addAttribute("running", running);
        model.addAttribute("ran", running == null ? null : clock(running));
        model.addAttribute("next", next(job, running));
        model.addAttribute("kinds", PhaseKind.values());
        var today = LocalDate.now(clock.withZone(job.zone()));
        model.addAttribute(
                "lots",
                materials.lots(all()).items().stream()
                        .filter(lot -> !lot.expiresOn().isBefore(today))
                        .toList());
        model.addAttribute("leastCure", RepairJobs.LEAST_CURE.toMinutes());
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

    /** Minutes and seconds since the phase began, as the server counts them. */
    private String clock(JobPhase phase) {
        var ran = Duration.between(phase.startedAt(), clock.instant());
        return "%02d:%02d".formatted(ran.toMinutes(), ran.toSecondsPart());
    }

    private static @Nullable PhaseKind next(JobView job, @Nullable JobPhase running) {
        if (running != null || job.state() != JobState.UNDER_WAY) {
            return null;
        }
        if (job.phases().isEmpty()) {
            return PhaseKind.PREPARE;
        }
        var last = job.phases().getLast().kind();
        return last.ordinal() + 1 < PhaseKind.values().length ? PhaseKind.values()[last.ordinal() + 1] : null;
    }

    private static SliceRequest all() {
        return new SliceRequest(SliceRequest.MOST, null);
    }

    private static String back(UUID id, String sentence, RedirectAttributes after) {
        after.addFlashAttribute("notice", Notice.done(sentence));
        return "redirect:/jobs/" + id;
    }
}

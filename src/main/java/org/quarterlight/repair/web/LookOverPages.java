package org.quarterlight.repair.web;

import java.math.BigDecimal;
import java.time.Clock;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.eligibility.Condition;
import org.quarterlight.eligibility.Grade;
import org.quarterlight.eligibility.Layers;
import org.quarterlight.eligibility.Seen;
import org.quarterlight.repair.FinishedRepair;
import org.quarterlight.repair.InspectJob;
import org.quarterlight.repair.JobState;
import org.quarterlight.repair.RepairJobs;
import org.quarterlight.web.DoneAt;
import org.quarterlight.web.Notice;
import org.quarterlight.web.ShownOn;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.WebDataBinder;
import org.springframework.web.bind.annotation.InitBinder;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** The look over of finished work, from the page of the work. */
@Controller
class LookOverPages {
    private final RepairJobs jobs;
    private final Clock clock;

    LookOverPages(RepairJobs jobs, Clock clock) {
        this.jobs = jobs;
        this.clock = clock;
    }

    /** As the fields of the form are named; a field that the sheets do not ask for is not there. */
    static class LookOver {
        boolean passed;

        @Nullable
        String reason;

        List<Found> found = new ArrayList<>();
    }

    static class Found {
        @Nullable
        UUID damage;

        @Nullable
        BigDecimal pitMm;

        @Nullable
        BigDecimal lengthMm;

        @Nullable
        BigDecimal acrossMm;

        @Nullable
        Seen source;

        @Nullable
        BigDecimal standardUncertaintyMm;

        @Nullable
        Grade view;

        @Nullable
        Boolean level;

        @Nullable
        Boolean clearOutside;

        @Nullable
        Boolean clearInside;

        @Nullable
        Layers layers;

        @Nullable
        Condition condition;

        @Nullable
        BigDecimal xMm;

        @Nullable
        BigDecimal yMm;

        FinishedRepair repair() {
            return new FinishedRepair(
                    Objects.requireNonNull(damage),
                    pitMm,
                    lengthMm,
                    acrossMm,
                    source,
                    standardUncertaintyMm,
                    view,
                    level,
                    clearOutside,
                    clearInside,
                    layers,
                    condition,
                    xMm,
                    yMm);
        }
    }

    @InitBinder("lookOver")
    void bindFields(WebDataBinder binder) {
        binder.initDirectFieldAccess();
    }

    @PostMapping("/jobs/{id}/inspect")
    @ShownOn("/jobs/{id}/run")
    String inspect(
            @PathVariable UUID id, @ModelAttribute("lookOver") LookOver form, DoneAt done, RedirectAttributes after) {
        // Whoever fails it says why in words; what the sheets would say of unfinished work is nobody's concern.
        var found = form.passed
                ? form.found.stream()
                        .filter(each -> each.damage != null)
                        .map(Found::repair)
                        .toList()
                : List.<FinishedRepair>of();
        var job = jobs.inspect(
                id,
                new InspectJob(form.passed, form.reason, found, done.deviceTime(), done.deviceClock(clock.instant())));
        after.addFlashAttribute(
                "notice",
                job.state() == JobState.INSPECTED
                        ? Notice.done("Passed. Close the job now.")
                        : form.passed
                                ? Notice.info("Not passed, and the work goes on. " + job.reason())
                                : Notice.info("Failed. The work goes on."));
        return "redirect:/jobs/" + id + "/run";
    }
}

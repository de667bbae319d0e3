package org.quarterlight.repair.web;

import java.time.Duration;
import java.util.Arrays;
import java.util.List;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.bench.CureTime;
import org.quarterlight.bench.EyeLimit;
import org.quarterlight.bench.PhaseKind;
import org.quarterlight.eligibility.FinishedAsks;
import org.quarterlight.repair.AskedOfFinished;
import org.quarterlight.repair.DayKits;
import org.quarterlight.repair.JobBrief;
import org.quarterlight.repair.Work;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;

/** The day's jobs, and the parts that a device without a network makes the page of each job from. */
@Controller
class TodayPages {
    /** Stands in addresses until the device puts in the job that it shows. */
    private static final UUID ANY_JOB = new UUID(0, 0);

    private static final UUID ANY_PHASE = new UUID(0, 1);

    /** The device takes away what a job's sheets do not read. */
    private static final FinishedAsks EVERY_ASK =
            new FinishedAsks(true, true, true, true, true, true, true, true, true, true);

    private final DayKits kits;

    TodayPages(DayKits kits) {
        this.kits = kits;
    }

    /** As much of a job as its forms ask for. */
    record AnyJob(
            UUID id,
            Work work,
            List<UUID> photos,
            List<AskedOfFinished> asked,
            @Nullable JobBrief brief) {
        AnyJob(UUID id, Work work) {
            this(id, work, List.of(), List.of(), null);
        }
    }

    /** One that asks all that any asks. */
    record AnyPhase(UUID id, PhaseKind kind) {}

    @GetMapping("/jobs/today")
    String today(Model model) {
        model.addAttribute("jobs", kits.jobs());
        model.addAttribute("job", new AnyJob(ANY_JOB, Work.REPAIR));
        model.addAttribute("newGlass", new AnyJob(ANY_JOB, Work.REPLACEMENT));
        model.addAttribute("running", new AnyPhase(ANY_PHASE, PhaseKind.VACUUM));
        model.addAttribute("everyAsk", EVERY_ASK);
        model.addAttribute("used", List.of());
        model.addAttribute("resins", List.of());
        model.addAttribute("kinds", Arrays.asList(PhaseKind.values()));
        model.addAttribute("points", RunPages.POINTS);
        model.addAttribute("degreesBetween", DayKits.DEGREES_BETWEEN_POINTS);
        model.addAttribute("gogglesMark", EyeLimit.GOGGLES_MARK);
        model.addAttribute("laminateRefusal", refusalThroughLaminate());
        model.addAttribute("doseIsNotCure", CureTime.DOSE_IS_NOT_CURE);
        model.addAttribute("look", "outdoor");
        model.addAttribute("pageName", "Today");
        return "repair/today";
    }

    static String refusalThroughLaminate() {
        return CureTime.of(Duration.ZERO, null, null, 1, CureTime.Side.INSIDE) instanceof CureTime.Refused refused
                ? refused.reason()
                : "";
    }
}

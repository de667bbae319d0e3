package org.quarterlight.dispatch.web;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.dispatch.Dispatching;
import org.quarterlight.dispatch.PlanStop;
import org.quarterlight.repair.JobFilter;
import org.quarterlight.repair.RepairJobs;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.web.Notice;
import org.quarterlight.web.SliceRequest;
import org.quarterlight.web.Today;
import org.springframework.format.annotation.DateTimeFormat;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** The board of one day: each van's stops in order, with times, and what is not placed yet. */
@Controller
class DayPages {
    private final Dispatching dispatching;
    private final RepairJobs jobs;
    private final Today today;

    DayPages(Dispatching dispatching, RepairJobs jobs, Today today) {
        this.dispatching = dispatching;
        this.jobs = jobs;
        this.today = today;
    }

    @GetMapping("/days/today")
    String today() {
        return "redirect:/days/" + today.here();
    }

    @GetMapping("/days/{date}")
    String board(@PathVariable @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) LocalDate date, Model model) {
        model.addAttribute("date", date);
        model.addAttribute("days", dispatching.board(date));
        model.addAttribute(
                "waiting",
                jobs.list(JobFilter.notPlaced(Acting.require().organisation().value()), new SliceRequest(50, null)));
        return "dispatch/board";
    }

    @PostMapping("/days/{date}/place")
    String place(
            @PathVariable @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) LocalDate date,
            @RequestParam UUID job,
            @RequestParam UUID van,
            RedirectAttributes after) {
        var day = dispatching.place(job, van, date);
        after.addFlashAttribute("notice", Notice.done("Placed on " + day.van().name() + "."));
        return "redirect:/days/" + date;
    }

    @PostMapping("/days/{date}/take-off")
    String takeOff(
            @PathVariable @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) LocalDate date,
            @RequestParam UUID job,
            RedirectAttributes after) {
        dispatching.takeOff(job);
        after.addFlashAttribute("notice", Notice.done("Taken off. It waits among those not placed."));
        return "redirect:/days/" + date;
    }

    /** The order as the rows stand; without JavaScript a row's button moves it by one. */
    @PostMapping("/vans/{van}/days/{date}")
    String order(
            @PathVariable UUID van,
            @PathVariable @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) LocalDate date,
            @RequestParam(defaultValue = "") List<UUID> stop,
            @RequestParam(required = false) @Nullable UUID up,
            @RequestParam(required = false) @Nullable UUID down,
            @RequestParam int version,
            RedirectAttributes after) {
        var order = new ArrayList<>(stop);
        move(order, up, -1);
        move(order, down, 1);
        dispatching.replace(
                van, date, order.stream().map(job -> new PlanStop(job, null)).toList(), version);
        after.addFlashAttribute("notice", Notice.done("The order is kept."));
        return "redirect:/days/" + date;
    }

    private static void move(List<UUID> order, @Nullable UUID job, int step) {
        var from = job == null ? -1 : order.indexOf(job);
        var to = from + step;
        if (from >= 0 && to >= 0 && to < order.size()) {
            Collections.swap(order, from, to);
        }
    }
}

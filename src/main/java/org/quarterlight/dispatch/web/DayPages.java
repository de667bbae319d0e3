package org.quarterlight.dispatch.web;

import java.time.Clock;
import java.time.LocalDate;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Locale;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.dispatch.DayView;
import org.quarterlight.dispatch.Dispatching;
import org.quarterlight.dispatch.PlanStop;
import org.quarterlight.dispatch.StopView;
import org.quarterlight.kernel.Invalid;
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
import org.springframework.web.util.UriComponentsBuilder;

/** The board of one day: each van's stops in order, with times, and what is not placed yet. */
@Controller
class DayPages {
    private static final DateTimeFormatter DAY = DateTimeFormatter.ofPattern("EEEE d MMMM", Locale.ENGLISH);

    private final Dispatching dispatching;
    private final RepairJobs jobs;
    private final Today today;
    private final Clock clock;

    DayPages(Dispatching dispatching, RepairJobs jobs, Today today, Clock clock) {
        this.dispatching = dispatching;
        this.jobs = jobs;
        this.today = today;
        this.clock = clock;
    }

    /** The whole day in figures; late says of each van that is so. */
    public record Sum(
            int stops,
            int vans,
            int done,
            int underWay,
            int toCome,
            double km,
            int drivingMinutes,
            List<String> late) {}

    /**
     * The stop that the page is about, and where the next gestures would put it.
     *
     * @param position from 1, on its van
     * @param vanBefore the van above, with the position there that fits its time
     */
    public record Selected(
            DayView day,
            StopView stop,
            int position,
            @Nullable Target vanBefore,
            @Nullable Target vanAfter) {}

    /** A place on a van's day. */
    public record Target(UUID van, String name, int position) {}

    @GetMapping("/days/today")
    String today(@RequestParam(required = false) @Nullable String late) {
        return "redirect:" + address(today.here(), late != null, null);
    }

    @GetMapping("/days")
    String chosen(
            @RequestParam(required = false) @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) @Nullable LocalDate date,
            @RequestParam(required = false) @Nullable String late) {
        return "redirect:" + address(date == null ? today.here() : date, late != null, null);
    }

    @GetMapping("/days/{date}")
    String board(
            @PathVariable @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) LocalDate date,
            @RequestParam(required = false) @Nullable String late,
            @RequestParam(required = false) @Nullable UUID stop,
            @RequestParam(required = false) @Nullable UUID place,
            Model model) {
        var zone = dispatching.zone();
        var all = dispatching.board(date);
        var days = late == null ? all : all.stream().filter(DayView::runsLate).toList();
        model.addAttribute("date", date);
        model.addAttribute("dayName", DAY.format(date));
        model.addAttribute("today", today.here());
        model.addAttribute("late", late != null);
        model.addAttribute("all", all);
        model.addAttribute("days", days);
        model.addAttribute("sum", sum(all));
        model.addAttribute("board", BoardDrawing.of(date, zone, days, clock.instant(), stop));
        model.addAttribute("selected", selected(all, stop));
        model.addAttribute("chosenJob", place);
        model.addAttribute(
                "waiting",
                jobs.list(JobFilter.notPlaced(Acting.require().organisation().value()), new SliceRequest(50, null)));
        return "dispatch/board";
    }

    /** Where is a van's id, or that and a position joined by a colon. */
    @PostMapping("/days/{date}/place")
    String place(
            @PathVariable @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) LocalDate date,
            @RequestParam UUID job,
            @RequestParam String van,
            @RequestParam(required = false) @Nullable Integer position,
            @RequestParam(required = false) @Nullable String late,
            RedirectAttributes after) {
        var words = van.split(":", 2);
        var id = uuid(words[0]);
        var at = words.length == 2 ? Integer.valueOf(number(words[1])) : position;
        var day = at == null ? dispatching.place(job, id, date) : dispatching.place(job, id, date, at);
        var number = day.stops().stream().map(StopView::job).toList().indexOf(job) + 1;
        after.addFlashAttribute(
                "notice",
                Notice.done("On " + day.van().name() + ", stop " + number + " of "
                        + day.stops().size() + "."));
        return "redirect:" + address(date, late != null, job);
    }

    @PostMapping("/days/{date}/take-off")
    String takeOff(
            @PathVariable @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) LocalDate date,
            @RequestParam UUID job,
            @RequestParam(required = false) @Nullable String late,
            RedirectAttributes after) {
        var stood = selected(dispatching.board(date), job);
        dispatching.takeOff(job);
        var notice = Notice.done("Taken off. It waits among those not placed.");
        after.addFlashAttribute(
                "notice",
                stood == null
                        ? notice
                        : notice.offering(
                                "Undo",
                                UriComponentsBuilder.fromPath("/days/{date}/place")
                                        .queryParam("job", job)
                                        .queryParam("van", stood.day().van().id())
                                        .queryParam("position", stood.position())
                                        .build(date)
                                        .toString()));
        return "redirect:" + address(date, late != null, null);
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

    /** With the panel of the stop in focus, where its keys are heard. */
    private static String address(LocalDate date, boolean late, @Nullable UUID stop) {
        var query = new ArrayList<String>();
        if (late) {
            query.add("late");
        }
        if (stop != null) {
            query.add("stop=" + stop);
        }
        return "/days/" + date + (query.isEmpty() ? "" : "?" + String.join("&", query)) + (stop == null ? "" : "#stop");
    }

    private static UUID uuid(String text) {
        try {
            return UUID.fromString(text);
        } catch (IllegalArgumentException e) {
            throw new Invalid("van", "Choose a van");
        }
    }

    private static int number(String text) {
        try {
            return Integer.parseInt(text);
        } catch (NumberFormatException e) {
            throw new Invalid("van", "Choose a van and a place on its day");
        }
    }

    private static Sum sum(List<DayView> days) {
        var stops = days.stream().flatMap(day -> day.stops().stream()).toList();
        return new Sum(
                stops.size(),
                (int) days.stream().filter(day -> !day.stops().isEmpty()).count(),
                (int) stops.stream().filter(StopView::done).count(),
                (int) stops.stream().filter(StopView::underWay).count(),
                (int) stops.stream().filter(StopView::movable).count(),
                days.stream().mapToDouble(DayView::km).sum(),
                days.stream().mapToInt(DayView::drivingMinutes).sum(),
                days.stream()
                        .filter(DayView::runsLate)
                        .map(day -> day.lateMinutes() > 0
                                ? day.van().name() + " is " + Minutes.words(day.lateMinutes()) + " late"
                                : day.van().name() + " does not keep its hours")
                        .toList());
    }

    private static @Nullable Selected selected(List<DayView> days, @Nullable UUID job) {
        for (int i = 0; i < days.size(); i++) {
            var day = days.get(i);
            for (int at = 0; at < day.stops().size(); at++) {
                var stop = day.stops().get(at);
                if (stop.job().equals(job)) {
                    return new Selected(
                            day,
                            stop,
                            at + 1,
                            i == 0 ? null : target(days.get(i - 1), stop),
                            i + 1 == days.size() ? null : target(days.get(i + 1), stop));
                }
            }
        }
        return null;
    }

    /** Before the first stop of the other van that would begin later. */
    private static Target target(DayView day, StopView stop) {
        var earlier = day.stops().stream()
                .takeWhile(other -> !other.movable() || other.begins().isBefore(stop.begins()))
                .count();
        return new Target(day.van().id(), day.van().name(), (int) earlier + 1);
    }

    private static void move(List<UUID> order, @Nullable UUID job, int step) {
        var from = job == null ? -1 : order.indexOf(job);
        var to = from + step;
        if (from >= 0 && to >= 0 && to < order.size()) {
            Collections.swap(order, from, to);
        }
    }
}

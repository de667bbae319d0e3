package org.quarterlight.overview;

import java.time.Clock;
import java.time.LocalDate;
import java.util.EnumMap;
import java.util.Map;
import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.quarterlight.damage.DamageFilter;
import org.quarterlight.damage.DamageReporting;
import org.quarterlight.dispatch.Dispatching;
import org.quarterlight.eligibility.Outcome;
import org.quarterlight.fleet.Fleet;
import org.quarterlight.fleet.VehicleFilter;
import org.quarterlight.repair.JobFilter;
import org.quarterlight.repair.JobState;
import org.quarterlight.repair.RepairJobs;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.tenancy.OrganisationKind;
import org.quarterlight.tenancy.Role;
import org.quarterlight.web.SliceRequest;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** What needs doing now, for whoever looks. */
@Controller
class OverviewPages {
    private static final SliceRequest FEW = new SliceRequest(12, null);

    private final Fleet fleet;
    private final DamageReporting damages;
    private final RepairJobs jobs;
    private final Dispatching dispatching;
    private final Clock clock;

    OverviewPages(Fleet fleet, DamageReporting damages, RepairJobs jobs, Dispatching dispatching, Clock clock) {
        this.fleet = fleet;
        this.damages = damages;
        this.jobs = jobs;
        this.dispatching = dispatching;
        this.clock = clock;
    }

    @GetMapping("/")
    String start(Model model) {
        var acting = Acting.require();
        if (acting.is(Role.OPERATOR)) {
            return "redirect:/operator/organisations";
        }
        var today = LocalDate.now(clock);
        model.addAttribute("today", today);
        if (acting.is(Role.MANAGER)) {
            manager(model);
        }
        if (acting.is(Role.DISPATCHER)) {
            model.addAttribute("board", dispatching.board(today));
            model.addAttribute("waiting", jobs.list(JobFilter.inState(JobState.APPROVED), FEW));
        }
        if (acting.is(Role.TECHNICIAN)) {
            var me = Objects.requireNonNull(acting.person());
            model.addAttribute("myJobs", jobs.list(JobFilter.ofTechnician(me, true), FEW));
            model.addAttribute(
                    "myDay",
                    dispatching.board(today).stream()
                            .filter(day -> me.equals(day.technician()))
                            .toList());
        }
        if (acting.roles().equals(java.util.Set.of(Role.DRIVER))) {
            return "redirect:/report";
        }
        if (acting.roles().equals(java.util.Set.of(Role.ADMINISTRATOR))) {
            return "redirect:/settings/people";
        }
        return "overview/start";
    }

    @GetMapping("/search")
    String search(@RequestParam(defaultValue = "") String q, Model model) {
        var acting = Acting.require();
        var words = q.trim();
        model.addAttribute("q", words);
        if (!words.isEmpty()) {
            if (acting.kind() == OrganisationKind.FLEET
                    && !acting.roles().equals(java.util.Set.of(Role.ADMINISTRATOR))) {
                model.addAttribute(
                        "vehicles", fleet.vehicles(new VehicleFilter(words, null, null, null, null, null), FEW));
            }
            if (acting.is(Role.MANAGER) || acting.is(Role.DISPATCHER) || acting.is(Role.TECHNICIAN)) {
                model.addAttribute("jobs", jobs.list(matching(words), FEW));
            }
        }
        return "overview/search";
    }

    private void manager(Model model) {
        model.addAttribute(
                "standing", fleet.vehicles(new VehicleFilter(null, null, null, true, Outcome.STAND_DOWN, null), FEW));
        model.addAttribute("toDecide", damages.list(DamageFilter.toDecide(), FEW));
        model.addAttribute("inHand", jobs.list(JobFilter.allOpen(), FEW));
        Map<Outcome, Long> open = new EnumMap<>(Outcome.class);
        for (var outcome : Outcome.values()) {
            open.put(
                    outcome,
                    damages.count(new DamageFilter(
                            null, outcome, null, null, null, null, null, null, null, DamageFilter.Sort.WORST_FIRST)));
        }
        model.addAttribute("open", open);
        model.addAttribute(
                "overdue",
                jobs.list(JobFilter.allOpen(), FEW).items().stream()
                        .filter(job -> job.actBy().isBefore(LocalDate.now(clock)))
                        .toList());
    }

    private static JobFilter matching(@Nullable String words) {
        return new JobFilter(null, false, null, null, null, words, null, JobFilter.Sort.NEWEST);
    }
}

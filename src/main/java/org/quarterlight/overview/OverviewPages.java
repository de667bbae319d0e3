package org.quarterlight.overview;

import java.time.LocalDate;
import java.util.HashSet;
import java.util.Objects;
import java.util.Set;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.agreement.PriceAgreements;
import org.quarterlight.damage.DamageFilter;
import org.quarterlight.damage.DamageReporting;
import org.quarterlight.dispatch.Dispatching;
import org.quarterlight.dispatch.StopView;
import org.quarterlight.fleet.Fleet;
import org.quarterlight.fleet.SmallGlasses;
import org.quarterlight.fleet.VehicleFilter;
import org.quarterlight.inspection.Inspections;
import org.quarterlight.repair.JobFilter;
import org.quarterlight.repair.JobState;
import org.quarterlight.repair.RepairJobs;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.tenancy.OrganisationKind;
import org.quarterlight.tenancy.Role;
import org.quarterlight.web.SliceRequest;
import org.quarterlight.web.Today;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** What needs doing now, for whoever looks. */
@Controller
class OverviewPages {
    private static final int DAYS_AHEAD = 7;
    private static final SliceRequest FEW = new SliceRequest(6, null);

    private final Fleet fleet;
    private final DamageReporting damages;
    private final Inspections inspections;
    private final RepairJobs jobs;
    private final Dispatching dispatching;
    private final PriceAgreements prices;
    private final SmallGlasses glasses;
    private final Today today;

    OverviewPages(
            Fleet fleet,
            DamageReporting damages,
            Inspections inspections,
            RepairJobs jobs,
            Dispatching dispatching,
            PriceAgreements prices,
            SmallGlasses glasses,
            Today today) {
        this.fleet = fleet;
        this.damages = damages;
        this.inspections = inspections;
        this.jobs = jobs;
        this.dispatching = dispatching;
        this.prices = prices;
        this.glasses = glasses;
        this.today = today;
    }

    @GetMapping("/")
    String start(Model model) {
        var acting = Acting.require();
        if (acting.is(Role.OPERATOR)) {
            return "redirect:/operator/organisations";
        }
        var day = today.here();
        model.addAttribute("today", day);
        if (acting.isAny(Role.MANAGER, Role.DISPATCHER)) {
            model.addAttribute("waitingPrices", prices.waiting());
        }
        if (acting.is(Role.MANAGER)) {
            manager(model, day);
        }
        if (acting.kind() == OrganisationKind.FLEET && acting.isAny(Role.MANAGER, Role.TECHNICIAN)) {
            var inspectionsDue = inspections.dueAtDepots(day.plusDays(DAYS_AHEAD));
            model.addAttribute(
                    "inspectionsDue", inspectionsDue.stream().limit(FEW.limit()).toList());
            model.addAttribute("inspectionDepots", inspectionsDue.size());
        }
        if (acting.is(Role.DISPATCHER)) {
            model.addAttribute("board", dispatching.board(day));
            model.addAttribute(
                    "waiting",
                    jobs.list(JobFilter.notPlaced(acting.organisation().value()), FEW));
        }
        if (acting.is(Role.TECHNICIAN)) {
            var me = Objects.requireNonNull(acting.person());
            model.addAttribute("myJobs", jobs.list(JobFilter.ofTechnician(me, true), FEW));
            var myDay = dispatching.board(day).stream()
                    .filter(each -> me.equals(each.technician()))
                    .toList();
            model.addAttribute("myDay", myDay);
            model.addAttribute(
                    "next",
                    myDay.stream()
                            .flatMap(each -> each.stops().stream())
                            .filter(stop -> !stop.state().isEnd())
                            .map(StopView::job)
                            .findFirst()
                            .orElse(null));
        }
        if (acting.roles().equals(Set.of(Role.DRIVER))) {
            return "redirect:/report";
        }
        if (acting.roles().equals(Set.of(Role.ADMINISTRATOR))) {
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
            if (acting.kind() == OrganisationKind.FLEET && !acting.roles().equals(Set.of(Role.ADMINISTRATOR))) {
                model.addAttribute("vehicles", fleet.vehicles(VehicleFilter.beginning(words), FEW));
            }
            if (acting.isAny(Role.MANAGER, Role.DISPATCHER, Role.TECHNICIAN)) {
                model.addAttribute("jobs", jobs.list(matching(words), FEW));
            }
        }
        return "overview/search";
    }

    private void manager(Model model, LocalDate day) {
        var week = day.plusDays(DAYS_AHEAD);
        var shown = new HashSet<UUID>();
        var standing = fleet.vehicles(VehicleFilter.offTheRoad(), FEW);
        var toDecide = damages.list(DamageFilter.toDecide(), FEW);
        var due = WorkAtHand.of(
                damages.list(DamageFilter.lookAgain(week), FEW).items(),
                jobs.list(JobFilter.openDueBy(week), FEW).items(),
                FEW.limit());
        var notPlaced = jobs.list(JobFilter.inState(JobState.APPROVED), FEW);
        model.addAttribute("standing", standing);
        model.addAttribute("standingCount", fleet.count(VehicleFilter.offTheRoad()));
        model.addAttribute("toDecide", toDecide);
        model.addAttribute("toDecideCount", damages.count(DamageFilter.toDecide()));
        var growing = damages.list(DamageFilter.growing(), FEW);
        model.addAttribute("growing", growing);
        model.addAttribute("growingCount", damages.count(DamageFilter.growing()));
        var failed = damages.list(DamageFilter.failedRepairs(), FEW);
        model.addAttribute("failed", failed);
        failed.items().forEach(damage -> shown.add(damage.vehicle()));
        model.addAttribute("due", due);
        model.addAttribute("notPlaced", notPlaced);
        model.addAttribute("notPlacedCount", jobs.count(JobFilter.inState(JobState.APPROVED)));
        model.addAttribute("yesterday", day.minusDays(1).toString());
        model.addAttribute("overdue", jobs.count(JobFilter.openDueBy(day.minusDays(1))));
        model.addAttribute("fleet", fleet.condition());
        model.addAttribute("open", damages.openByAge());
        standing.items().forEach(vehicle -> shown.add(vehicle.id()));
        growing.items().forEach(damage -> shown.add(damage.vehicle()));
        toDecide.items().forEach(damage -> shown.add(damage.vehicle()));
        notPlaced.items().forEach(job -> shown.add(job.vehicle()));
        due.forEach(each -> shown.add(
                each.damage() != null
                        ? each.damage().vehicle()
                        : Objects.requireNonNull(each.job()).vehicle()));
        model.addAttribute("glasses", glasses.of(shown));
    }

    private static JobFilter matching(@Nullable String words) {
        return new JobFilter(null, false, null, null, null, null, words, null, JobFilter.Sort.NEWEST);
    }
}

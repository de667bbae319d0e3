package org.quarterlight.inspection.web;

import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.fleet.Depots;
import org.quarterlight.fleet.Fleet;
import org.quarterlight.fleet.SmallGlasses;
import org.quarterlight.inspection.InspectionFilter;
import org.quarterlight.inspection.InspectionRow;
import org.quarterlight.inspection.InspectionState;
import org.quarterlight.inspection.Inspections;
import org.quarterlight.web.SliceRequest;
import org.quarterlight.web.Today;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** What is to be looked at, what should have been, and what was. */
@Controller
class InspectionPages {
    private static final int DAYS_AHEAD = 30;

    private final Inspections inspections;
    private final Fleet fleet;
    private final Depots depots;
    private final SmallGlasses glasses;
    private final Today today;

    InspectionPages(Inspections inspections, Fleet fleet, Depots depots, SmallGlasses glasses, Today today) {
        this.inspections = inspections;
        this.fleet = fleet;
        this.depots = depots;
        this.glasses = glasses;
        this.today = today;
    }

    /** @param days how far ahead the list of what is due looks; 0 is without end */
    @GetMapping("/inspections")
    String list(
            @RequestParam(required = false) @Nullable InspectionState state,
            @RequestParam(required = false) @Nullable UUID depot,
            @RequestParam(required = false) @Nullable UUID vehicle,
            @RequestParam(required = false) @Nullable Integer days,
            SliceRequest wanted,
            Model model) {
        var shown = state == null ? InspectionState.DUE : state;
        var ahead = days == null ? DAYS_AHEAD : Math.clamp(days, 0, 3650);
        var filter = new InspectionFilter(
                shown,
                depot,
                vehicle,
                shown == InspectionState.DUE && ahead > 0 && vehicle == null
                        ? today.here().plusDays(ahead)
                        : null);
        var rows = inspections.list(filter, wanted);
        model.addAttribute("filter", filter);
        model.addAttribute("days", ahead);
        model.addAttribute("inspections", rows);
        model.addAttribute("counted", inspections.count(filter));
        model.addAttribute(
                "overdue", inspections.count(new InspectionFilter(InspectionState.OVERDUE, depot, vehicle, null)));
        model.addAttribute("depots", depots.all());
        model.addAttribute("vehicle", vehicle == null ? null : fleet.read(vehicle));
        model.addAttribute(
                "glasses",
                glasses.of(rows.items().stream()
                        .map(InspectionRow::vehicle)
                        .distinct()
                        .toList()));
        return "inspection/list";
    }
}

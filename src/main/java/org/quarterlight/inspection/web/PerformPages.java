package org.quarterlight.inspection.web;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.validation.Valid;
import java.time.Clock;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.quarterlight.damage.DamageReporting;
import org.quarterlight.damage.DamageState;
import org.quarterlight.damage.DamageView;
import org.quarterlight.damage.GlassPicture;
import org.quarterlight.eligibility.Seen;
import org.quarterlight.fleet.CabCodes;
import org.quarterlight.fleet.Depots;
import org.quarterlight.fleet.Fleet;
import org.quarterlight.fleet.VehicleNotFound;
import org.quarterlight.fleet.VehicleView;
import org.quarterlight.glass.GlassDrawing;
import org.quarterlight.inspection.AskInspection;
import org.quarterlight.inspection.InspectionFilter;
import org.quarterlight.inspection.InspectionRow;
import org.quarterlight.inspection.InspectionState;
import org.quarterlight.inspection.Inspections;
import org.quarterlight.inspection.RecordInspection;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.kernel.Refused;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.tenancy.Role;
import org.quarterlight.web.Notice;
import org.quarterlight.web.SliceRequest;
import org.quarterlight.web.Today;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.WebDataBinder;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.InitBinder;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/**
 * Looking at glass: one vehicle, or those of a yard one after the other. A round swaps its middle for the next vehicle
 * where the browser can, and is a row of plain pages where it cannot.
 */
@Controller
class PerformPages {
    private static final int DAYS_AHEAD_IN_A_ROUND = 7;
    private static final int NEXT_SHOWN = 8;
    private static final Duration JUST_NOW = Duration.ofHours(2);

    private final Inspections inspections;
    private final DamageReporting reporting;
    private final GlassPicture picture;
    private final Fleet fleet;
    private final CabCodes cabCodes;
    private final Depots depots;
    private final Today today;
    private final Clock clock;

    PerformPages(
            Inspections inspections,
            DamageReporting reporting,
            GlassPicture picture,
            Fleet fleet,
            CabCodes cabCodes,
            Depots depots,
            Today today,
            Clock clock) {
        this.inspections = inspections;
        this.reporting = reporting;
        this.picture = picture;
        this.fleet = fleet;
        this.cabCodes = cabCodes;
        this.depots = depots;
        this.today = today;
        this.clock = clock;
    }

    @InitBinder("form")
    void bindFields(WebDataBinder binder) {
        binder.initDirectFieldAccess();
        binder.setAutoGrowCollectionLimit(200);
    }

    /** Looks at a vehicle now: at what waits for it, or at what is asked for with this. */
    @PostMapping("/inspections")
    @PreAuthorize("hasAnyRole('MANAGER', 'TECHNICIAN')")
    String now(
            @RequestParam UUID vehicle,
            @RequestParam(required = false) @Nullable UUID round,
            @RequestParam(required = false) @Nullable UUID past,
            HttpServletRequest request,
            Model model) {
        var waiting = waiting(vehicle);
        var id = waiting != null
                ? waiting.id()
                : inspections.ask(new AskInspection(vehicle, null)).id();
        if (round != null && swaps(request)) {
            var form = new InspectionForm();
            form.round = round;
            form.past = past;
            model.addAttribute("form", form);
            return show(id, form, request, model);
        }
        return "redirect:/inspections/" + id
                + (round == null ? "" : "?round=" + round + (past == null ? "" : "&past=" + past));
    }

    @GetMapping("/inspections/{id}")
    String inspection(
            @PathVariable UUID id,
            @ModelAttribute("form") InspectionForm form,
            BindingResult errors,
            HttpServletRequest request,
            Model model) {
        return show(id, form, request, model);
    }

    @PostMapping("/inspections/{id}")
    @PreAuthorize("hasAnyRole('MANAGER', 'TECHNICIAN')")
    String record(
            @PathVariable UUID id,
            @Valid @ModelAttribute("form") InspectionForm form,
            BindingResult errors,
            HttpServletRequest request,
            Model model,
            RedirectAttributes after) {
        if (!errors.hasErrors()) {
            try {
                var inspection = inspections.inspection(id);
                var known = onGlass(inspection.vehicle()).stream()
                        .collect(Collectors.toMap(DamageView::id, Function.identity()));
                inspections.record(id, form.command(known, usualSource()));
                return done(id, form.round, form.past, request, model, after);
            } catch (Invalid e) {
                errors.reject("invalid", e.problem());
            } catch (Refused e) {
                errors.reject("refused", String.valueOf(e.getMessage()));
            }
        }
        return show(id, form, request, model);
    }

    /** The big button: everything is as it was. */
    @PostMapping("/inspections/{id}/nothing-new")
    @PreAuthorize("hasAnyRole('MANAGER', 'TECHNICIAN')")
    String nothingNew(
            @PathVariable UUID id,
            @RequestParam(required = false) @Nullable UUID round,
            @RequestParam(required = false) @Nullable UUID past,
            HttpServletRequest request,
            Model model,
            RedirectAttributes after) {
        inspections.record(id, RecordInspection.nothingNew(null));
        return done(id, round, past, request, model, after);
    }

    /**
     * A yard, one vehicle after the other.
     *
     * @param past the inspection that was done last or is left for later: the round goes on behind it
     * @param plate of the vehicle in front of the inspector, where it is another one; or what a scanner read of its cab code
     */
    @GetMapping("/inspections/round")
    @PreAuthorize("hasAnyRole('MANAGER', 'TECHNICIAN')")
    String round(
            @RequestParam(required = false) @Nullable UUID depot,
            @RequestParam(required = false) @Nullable UUID past,
            @RequestParam(required = false) @Nullable String plate,
            HttpServletRequest request,
            Model model) {
        if (depot == null) {
            model.addAttribute("depots", depots.all());
            model.addAttribute(
                    "due",
                    inspections.dueAtDepots(today.here().plusDays(DAYS_AHEAD_IN_A_ROUND)).stream()
                            .collect(Collectors.toMap(each -> each.depot(), Function.identity())));
            return "inspection/yards";
        }
        model.addAttribute("turn", turn(depot, past, plate));
        return swaps(request) ? "inspection/round :: turn" : "inspection/round";
    }

    private String done(
            UUID id,
            @Nullable UUID round,
            @Nullable UUID past,
            HttpServletRequest request,
            Model model,
            RedirectAttributes after) {
        var inspection = inspections.inspection(id);
        var vehicle = fleet.vehicle(inspection.vehicle());
        var notice = vehicle.standsDownSince() == null
                ? Notice.done(inspection.registration() + " is inspected.")
                : Notice.info(inspection.registration() + " is inspected, and must not be driven.");
        if (round == null) {
            after.addFlashAttribute("notice", notice);
            return "redirect:/inspections/" + id;
        }
        if (swaps(request)) {
            model.addAttribute("said", notice);
            model.addAttribute("turn", turn(round, past, null));
            return "inspection/round :: turn";
        }
        after.addFlashAttribute("notice", notice);
        return "redirect:/inspections/round?depot=" + round + (past == null ? "" : "&past=" + past);
    }

    private Turn turn(UUID depot, @Nullable UUID past, @Nullable String plate) {
        var yard = depots.read(depot);
        var dueBy = today.here().plusDays(DAYS_AHEAD_IN_A_ROUND);
        var rows = inspections.round(depot, dueBy, past, NEXT_SHOWN + 1);
        InspectionRow present = null;
        VehicleView vehicle = null;
        String problem = null;
        if (plate != null && !plate.isBlank()) {
            try {
                vehicle = cabCodes.vehicleOf(plate)
                        .map(fleet::vehicle)
                        .orElseGet(() -> fleet.byRegistration(plate.trim()));
                present = waiting(vehicle.id());
            } catch (VehicleNotFound e) {
                problem = plate.contains("/r/")
                        ? "This cab code is not in force, or not one of your fleet's"
                        : "No vehicle of yours has the plate " + plate.trim();
            }
        }
        // Whoever looks at a vehicle out of turn goes on afterwards where they were.
        var inTurn = vehicle == null && !rows.isEmpty();
        if (inTurn) {
            present = rows.getFirst();
        }
        if (present != null) {
            vehicle = fleet.vehicle(present.vehicle());
        }
        var shown = present;
        return new Turn(
                yard,
                present,
                vehicle,
                vehicle == null ? List.of() : open(vehicle.id()),
                vehicle == null
                        ? ""
                        : picture.ofVehicle(vehicle.id(), GlassDrawing.Size.S, true)
                                .svg(),
                rows.stream()
                        .filter(row -> shown == null || !row.id().equals(shown.id()))
                        .limit(NEXT_SHOWN)
                        .toList(),
                inspections.count(InspectionFilter.waitingAt(depot, dueBy)),
                inTurn && shown != null ? shown.id() : past,
                problem);
    }

    private @Nullable InspectionRow waiting(UUID vehicle) {
        return inspections
                .list(new InspectionFilter(null, null, vehicle, null), new SliceRequest(1, null))
                .items()
                .stream()
                .findFirst()
                .orElse(null);
    }

    private String show(UUID id, InspectionForm form, HttpServletRequest request, Model model) {
        var inspection = inspections.inspection(id);
        var acting = Acting.require();
        var vehicle = fleet.vehicle(inspection.vehicle());
        model.addAttribute("inspection", inspection);
        model.addAttribute("vehicle", vehicle);
        model.addAttribute("round", form.round);
        model.addAttribute("past", form.past);
        model.addAttribute("inspects", acting.isAny(Role.MANAGER, Role.TECHNICIAN));
        model.addAttribute("pageName", "Inspect");
        if (inspection.state() != InspectionState.DONE) {
            model.addAttribute(
                    "drawing",
                    picture.ofVehicle(vehicle.id(), GlassDrawing.Size.M, true).svg());
            model.addAttribute("lines", lines(vehicle.id(), form, acting));
            model.addAttribute("grade", form.grade == null ? "" : form.grade.word());
        }
        return swaps(request) ? "inspection/show :: form" : "inspection/show";
    }

    private List<AnswerLine> lines(UUID vehicle, InspectionForm form, Acting acting) {
        var lines = new ArrayList<AnswerLine>();
        for (var damage : onGlass(vehicle)) {
            var justReported = damage.state() != DamageState.CLOSED
                    && damage.reportedBy().equals(acting.name())
                    && damage.occurredAt().isAfter(clock.instant().minus(JUST_NOW));
            var seen = damage.observation();
            var drawnAnew = !justReported
                    && damage.state() != DamageState.CLOSED
                    && seen.seenBy().equals(acting.name())
                    && seen.seenAt().isAfter(clock.instant().minus(JUST_NOW))
                    && !"Seen, unchanged".equals(seen.note());
            var typed = form.damages.stream()
                    .filter(line -> damage.id().equals(line.damage))
                    .findFirst()
                    .orElseGet(() -> InspectionForm.Line.of(damage, justReported, drawnAnew));
            lines.add(new AnswerLine(damage, typed, justReported));
        }
        // In the order in which the page names them, so that a mistake is told beside its own line.
        form.damages = lines.stream().map(AnswerLine::typed).collect(Collectors.toCollection(ArrayList::new));
        return lines;
    }

    /** What is open, and finished repairs, of which one may have failed. */
    private List<DamageView> onGlass(UUID vehicle) {
        return reporting.onGlass(fleet.glazing(vehicle).windscreen());
    }

    private List<DamageView> open(UUID vehicle) {
        return onGlass(vehicle).stream()
                .filter(damage -> damage.state() != DamageState.CLOSED)
                .toList();
    }

    private static Seen usualSource() {
        return Acting.require().is(Role.TECHNICIAN) ? Seen.GAUGE : Seen.EYE;
    }

    private static boolean swaps(HttpServletRequest request) {
        return request.getHeader("HX-Request") != null;
    }
}

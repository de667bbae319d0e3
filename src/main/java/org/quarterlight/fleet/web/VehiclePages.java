package org.quarterlight.fleet.web;

import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.eligibility.Outcome;
import org.quarterlight.fleet.CabCodeNotFound;
import org.quarterlight.fleet.CabCodeView;
import org.quarterlight.fleet.CabCodes;
import org.quarterlight.fleet.Depots;
import org.quarterlight.fleet.FitWindscreen;
import org.quarterlight.fleet.Fleet;
import org.quarterlight.fleet.GlassPatterns;
import org.quarterlight.fleet.SmallGlasses;
import org.quarterlight.fleet.VehicleFilter;
import org.quarterlight.glass.GlassDrawing;
import org.quarterlight.glass.VehicleCategory;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.tenancy.Role;
import org.quarterlight.web.Notice;
import org.quarterlight.web.SliceRequest;
import org.springframework.format.annotation.DateTimeFormat;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** The fleet as a list, and one vehicle with its glass, its cab code and what may be done with it. */
@Controller
class VehiclePages {
    private final Fleet fleet;
    private final Depots depots;
    private final GlassPatterns patterns;
    private final CabCodes codes;
    private final SmallGlasses glasses;

    VehiclePages(Fleet fleet, Depots depots, GlassPatterns patterns, CabCodes codes, SmallGlasses glasses) {
        this.fleet = fleet;
        this.depots = depots;
        this.patterns = patterns;
        this.codes = codes;
        this.glasses = glasses;
    }

    @GetMapping("/vehicles")
    String list(
            @RequestParam(required = false) @Nullable String search,
            @RequestParam(required = false) @Nullable UUID depot,
            @RequestParam(required = false) @Nullable VehicleCategory category,
            @RequestParam(required = false) @Nullable Boolean damaged,
            @RequestParam(required = false) @Nullable Outcome worst,
            @RequestParam(required = false) @Nullable Boolean standsDown,
            @RequestParam(required = false) @Nullable Boolean notToBeDriven,
            @RequestParam(required = false) VehicleFilter.@Nullable Sort sort,
            SliceRequest wanted,
            Model model) {
        var order = sort != null
                ? sort
                : Boolean.TRUE.equals(damaged) ? VehicleFilter.Sort.WORST_FIRST : VehicleFilter.Sort.REGISTRATION;
        var filter = new VehicleFilter(
                FleetForms.blankToNull(search), depot, category, damaged, worst, standsDown, notToBeDriven, order);
        model.addAttribute("filter", filter);
        var rows = fleet.rows(filter, wanted);
        model.addAttribute("vehicles", rows);
        var shown = rows.items().stream().map(row -> row.vehicle().id()).toList();
        model.addAttribute("glasses", glasses.of(shown));
        model.addAttribute("growing", glasses.growing(shown));
        model.addAttribute("counted", fleet.count(filter));
        model.addAttribute("all", fleet.count(VehicleFilter.none()));
        model.addAttribute("depots", depots.all());
        return "fleet/vehicles";
    }

    @GetMapping("/vehicles/{id}")
    String vehicle(@PathVariable UUID id, Model model) {
        var acting = Acting.require();
        var vehicle = fleet.read(id);
        var glazing = fleet.glazing(id);
        model.addAttribute("vehicle", vehicle);
        model.addAttribute("depot", glazing.depot());
        model.addAttribute("glazing", glazing);
        model.addAttribute(
                "drawing",
                GlassDrawing.of(glazing.pattern()).size(GlassDrawing.Size.M).svg());
        model.addAttribute(
                "small",
                GlassDrawing.of(glazing.pattern()).size(GlassDrawing.Size.S).svg());
        model.addAttribute("windscreens", fleet.windscreens(id));
        var seesCode = acting.isAny(Role.MANAGER, Role.DISPATCHER);
        model.addAttribute("seesCode", seesCode);
        var code = seesCode ? codeOf(id) : null;
        model.addAttribute("code", code);
        model.addAttribute("codeAddress", code == null ? null : CabCodeApi.addressOf(code));
        if (acting.is(Role.MANAGER)) {
            model.addAttribute("patterns", patterns.all());
        }
        return "fleet/vehicle";
    }

    @PostMapping("/vehicles/{id}/retire")
    String retire(@PathVariable UUID id, @RequestParam int version, RedirectAttributes after) {
        var registration = fleet.read(id).registration();
        fleet.retire(id, version);
        after.addFlashAttribute("notice", Notice.done(registration + " has left the fleet. Its history stays."));
        return "redirect:/vehicles";
    }

    @PostMapping("/vehicles/{id}/clear-stand-down")
    String clear(@PathVariable UUID id, @RequestParam(defaultValue = "") String reason, RedirectAttributes after) {
        var vehicle = fleet.clearStandDown(id, reason);
        return back(id, vehicle.registration() + " may be driven again.", after);
    }

    @PostMapping("/vehicles/{id}/cab-code")
    String makeCode(@PathVariable UUID id, RedirectAttributes after) {
        codes.make(id);
        return back(id, "The cab code is made. Print the card and hang it in the cab.", after);
    }

    @PostMapping("/vehicles/{id}/cab-code/revoke")
    String revokeCode(@PathVariable UUID id, RedirectAttributes after) {
        codes.revoke(id);
        return back(id, "The code is revoked. The card in the cab opens nothing any more.", after);
    }

    @PostMapping("/vehicles/{id}/windscreens")
    String fit(
            @PathVariable UUID id,
            @RequestParam(required = false) @Nullable UUID pattern,
            @RequestParam(required = false) @DateTimeFormat(iso = DateTimeFormat.ISO.DATE)
                    java.time.@Nullable LocalDate fittedOn,
            @RequestParam(required = false) @Nullable String marking,
            @RequestParam(required = false) @Nullable String reason,
            @RequestParam int version,
            RedirectAttributes after) {
        if (fittedOn == null) {
            throw new Invalid("fittedOn", "Say on which day the new glass was fitted");
        }
        fleet.fit(
                id,
                new FitWindscreen(
                        null, pattern, fittedOn, FleetForms.blankToNull(marking), FleetForms.blankToNull(reason)),
                version);
        return back(id, "It carries new glass. The damages of the old one are closed.", after);
    }

    @PostMapping("/vehicles/{id}/glass-pattern")
    String assign(@PathVariable UUID id, @RequestParam UUID pattern, RedirectAttributes after) {
        var glass = fleet.assignPattern(id, pattern);
        return back(id, "Its glass is " + glass.patternName() + " now. Its damages are judged on it.", after);
    }

    private @Nullable CabCodeView codeOf(UUID vehicle) {
        try {
            return codes.present(vehicle);
        } catch (CabCodeNotFound e) {
            return null;
        }
    }

    private static String back(UUID id, String sentence, RedirectAttributes after) {
        after.addFlashAttribute("notice", Notice.done(sentence));
        return "redirect:/vehicles/" + id;
    }
}

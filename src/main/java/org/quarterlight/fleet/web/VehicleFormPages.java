package org.quarterlight.fleet.web;

import jakarta.servlet.http.HttpServletResponse;
import jakarta.validation.Valid;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.fleet.DepotView;
import org.quarterlight.fleet.Depots;
import org.quarterlight.fleet.Fleet;
import org.quarterlight.fleet.VehicleView;
import org.quarterlight.glass.SteeringSide;
import org.quarterlight.glass.VehicleCategory;
import org.quarterlight.kernel.Stale;
import org.quarterlight.web.Choice;
import org.quarterlight.web.Notice;
import org.springframework.http.HttpStatus;
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

/** Takes a vehicle into the fleet, and changes one without losing what somebody else changed meanwhile. */
@Controller
class VehicleFormPages {
    private static final Map<String, String> LABELS = Map.of(
            "registration", "Registration",
            "depot", "Depot",
            "category", "Category",
            "steeringSide", "Steering wheel",
            "maxMassKg", "Maximum mass",
            "vin", "VIN",
            "makeModel", "Make and model",
            "fleetNumber", "Fleet number",
            "firstRegistered", "First registered",
            "notes", "Notes");
    private static final Map<VehicleCategory, String> KINDS = Map.of(
            VehicleCategory.M1, "M1, car",
            VehicleCategory.M2, "M2, bus up to 5 t",
            VehicleCategory.M3, "M3, bus over 5 t",
            VehicleCategory.N1, "N1, van up to 3.5 t",
            VehicleCategory.N2, "N2, truck up to 12 t",
            VehicleCategory.N3, "N3, truck over 12 t");

    private final Fleet fleet;
    private final Depots depots;

    VehicleFormPages(Fleet fleet, Depots depots) {
        this.fleet = fleet;
        this.depots = depots;
    }

    @InitBinder("form")
    void bindFields(WebDataBinder binder) {
        FleetForms.prepare(binder);
    }

    @GetMapping("/vehicles/new")
    String empty(
            @RequestParam(required = false) @Nullable UUID depot,
            @ModelAttribute("form") VehicleForm form,
            Model model) {
        FleetForms.forManager();
        var present = depots.all();
        form.depot = depot != null || present.size() != 1
                ? depot
                : present.getFirst().id();
        show(model, present, null);
        return "fleet/vehicle-form";
    }

    @PostMapping("/vehicles")
    String create(
            @Valid @ModelAttribute("form") VehicleForm form,
            BindingResult errors,
            Model model,
            HttpServletResponse response,
            RedirectAttributes after) {
        FleetForms.forManager();
        show(model, depots.all(), null);
        var next = FleetForms.attempt(errors, () -> {
            var vehicle = fleet.create(form.command());
            after.addFlashAttribute("notice", Notice.done(vehicle.registration() + " is in the fleet."));
            return "redirect:/vehicles/" + vehicle.id();
        });
        if (next == null) {
            response.setStatus(HttpStatus.UNPROCESSABLE_CONTENT.value());
            return "fleet/vehicle-form";
        }
        return next;
    }

    @GetMapping("/vehicles/{id}/edit")
    String edit(@PathVariable UUID id, @ModelAttribute("form") VehicleForm form, Model model) {
        FleetForms.forManager();
        var vehicle = fleet.read(id);
        form.fill(vehicle);
        show(model, depots.all(), vehicle);
        return "fleet/vehicle-form";
    }

    @PostMapping("/vehicles/{id}/edit")
    String change(
            @PathVariable UUID id,
            @Valid @ModelAttribute("form") VehicleForm form,
            BindingResult errors,
            Model model,
            HttpServletResponse response,
            RedirectAttributes after) {
        FleetForms.forManager();
        var present = fleet.read(id);
        var all = depots.all();
        show(model, all, present);
        var next = FleetForms.attempt(errors, () -> {
            try {
                var vehicle = fleet.change(id, form.command(), form.version);
                after.addFlashAttribute("notice", Notice.done(vehicle.registration() + " is changed."));
                return "redirect:/vehicles/" + id;
            } catch (Stale e) {
                return conflict(form, fleet.read(id), all, model, response, after);
            }
        });
        if (next == null) {
            response.setStatus(HttpStatus.UNPROCESSABLE_CONTENT.value());
            return "fleet/vehicle-form";
        }
        return next;
    }

    /** Shows both sides. What was typed stays in the form, which now says from which version it goes on. */
    private static String conflict(
            VehicleForm form,
            VehicleView saved,
            List<DepotView> depots,
            Model model,
            HttpServletResponse response,
            RedirectAttributes after) {
        var differences = new Difference.Differences()
                .compare("Registration", saved.registration(), form.registration)
                .compare("Depot", saved.depotName(), nameOf(form.depot, depots))
                .compare("Category", saved.category(), form.category)
                .compare("Steering wheel", words(saved.steeringSide()), words(form.steeringSide))
                .compare("Maximum mass", saved.maxMassKg(), form.maxMassKg)
                .compare("VIN", saved.vin(), form.vin)
                .compare("Make and model", saved.makeModel(), form.makeModel)
                .compare("Fleet number", saved.fleetNumber(), form.fleetNumber)
                .compare("First registered", saved.firstRegistered(), form.firstRegistered)
                .compare("Notes", saved.notes(), form.notes)
                .all();
        if (differences.isEmpty()) {
            after.addFlashAttribute("notice", Notice.info("It stands as you typed it already."));
            return "redirect:/vehicles/" + saved.id();
        }
        form.version = saved.version();
        show(model, depots, saved);
        model.addAttribute("differences", differences);
        response.setStatus(HttpStatus.CONFLICT.value());
        return "fleet/vehicle-form";
    }

    private static void show(Model model, List<DepotView> depots, @Nullable VehicleView vehicle) {
        model.addAttribute("vehicle", vehicle);
        model.addAttribute("labels", LABELS);
        model.addAttribute(
                "depots",
                depots.stream()
                        .map(depot -> Choice.of(depot.id().toString(), depot.name()))
                        .toList());
        model.addAttribute(
                "categories",
                Arrays.stream(VehicleCategory.values())
                        .map(category -> Choice.of(category.name(), KINDS.getOrDefault(category, category.name())))
                        .toList());
        model.addAttribute("sides", List.of(Choice.of("left", "On the left"), Choice.of("right", "On the right")));
    }

    private static String words(@Nullable SteeringSide side) {
        return side == null ? "" : side == SteeringSide.LEFT ? "on the left" : "on the right";
    }

    private static String nameOf(@Nullable UUID depot, List<DepotView> depots) {
        return depots.stream()
                .filter(each -> each.id().equals(depot))
                .map(DepotView::name)
                .findFirst()
                .orElse("");
    }
}

package org.quarterlight.fleet.web;

import jakarta.servlet.http.HttpServletResponse;
import jakarta.validation.Valid;
import java.time.DayOfWeek;
import java.time.LocalTime;
import java.util.Arrays;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.fleet.DepotView;
import org.quarterlight.fleet.Depots;
import org.quarterlight.fleet.OpeningHours;
import org.quarterlight.fleet.SaveDepot;
import org.quarterlight.kernel.Stale;
import org.quarterlight.web.Notice;
import org.quarterlight.web.SliceRequest;
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

/** The places where vehicles stand. */
@Controller
class DepotPages {
    private static final Map<String, String> LABELS = Map.of(
            "name", "Name",
            "address", "Address",
            "latitude", "Latitude",
            "longitude", "Longitude",
            "zone", "Time zone",
            "country", "Country",
            "subdivision", "Subdivision",
            "coveredBays", "Covered bays",
            "contact", "Contact",
            "closedOn", "Closed besides");

    private final Depots depots;

    DepotPages(Depots depots) {
        this.depots = depots;
    }

    @InitBinder("form")
    void bindFields(WebDataBinder binder) {
        FleetForms.prepare(binder);
    }

    @GetMapping("/depots")
    String list(SliceRequest wanted, Model model) {
        model.addAttribute("depots", depots.list(wanted));
        return "fleet/depots";
    }

    @GetMapping("/depots/new")
    String empty(@ModelAttribute("form") DepotForm form, Model model) {
        FleetForms.forManager();
        form.fill(OpeningHours.weekdays(LocalTime.of(8, 0), LocalTime.of(17, 0)));
        show(form, model, null);
        return "fleet/depot-form";
    }

    @PostMapping("/depots")
    String create(
            @Valid @ModelAttribute("form") DepotForm form,
            BindingResult errors,
            Model model,
            HttpServletResponse response,
            RedirectAttributes after) {
        FleetForms.forManager();
        show(form, model, null);
        var next = FleetForms.attempt(errors, () -> {
            var depot = depots.create(form.command());
            after.addFlashAttribute("notice", Notice.done(depot.name() + " is made."));
            return "redirect:/depots";
        });
        if (next == null) {
            response.setStatus(HttpStatus.UNPROCESSABLE_CONTENT.value());
            return "fleet/depot-form";
        }
        return next;
    }

    @GetMapping("/depots/{id}")
    String edit(@PathVariable UUID id, @ModelAttribute("form") DepotForm form, Model model) {
        var depot = depots.read(id);
        form.fill(depot);
        show(form, model, depot);
        return "fleet/depot-form";
    }

    @PostMapping("/depots/{id}")
    String change(
            @PathVariable UUID id,
            @Valid @ModelAttribute("form") DepotForm form,
            BindingResult errors,
            Model model,
            HttpServletResponse response,
            RedirectAttributes after) {
        FleetForms.forManager();
        show(form, model, depots.read(id));
        var next = FleetForms.attempt(errors, () -> {
            var command = form.command();
            try {
                var depot = depots.change(id, command, form.version);
                after.addFlashAttribute("notice", Notice.done(depot.name() + " is changed."));
                return "redirect:/depots";
            } catch (Stale e) {
                return conflict(form, command, depots.read(id), model, response, after);
            }
        });
        if (next == null) {
            response.setStatus(HttpStatus.UNPROCESSABLE_CONTENT.value());
            return "fleet/depot-form";
        }
        return next;
    }

    @PostMapping("/depots/{id}/retire")
    String retire(@PathVariable UUID id, @RequestParam int version, RedirectAttributes after) {
        var name = depots.read(id).name();
        depots.retire(id, version);
        after.addFlashAttribute("notice", Notice.done(name + " is closed for good."));
        return "redirect:/depots";
    }

    private static String conflict(
            DepotForm form,
            SaveDepot typed,
            DepotView saved,
            Model model,
            HttpServletResponse response,
            RedirectAttributes after) {
        var before = SaveDepot.of(saved);
        var hours = typed.openingHours();
        var differences = new Difference.Differences()
                .compare("Name", before.name(), typed.name())
                .compare("Address", before.address(), typed.address())
                .compare(
                        "Latitude",
                        before.latitude().stripTrailingZeros(),
                        typed.latitude().stripTrailingZeros())
                .compare(
                        "Longitude",
                        before.longitude().stripTrailingZeros(),
                        typed.longitude().stripTrailingZeros())
                .compare("Time zone", before.zone(), typed.zone())
                .compare("Country", before.country(), typed.country())
                .compare("Subdivision", before.subdivision(), typed.subdivision())
                .compare(
                        "Opening hours",
                        DepotForm.words(saved.openingHours()),
                        hours == null ? "" : DepotForm.words(hours))
                .compare(
                        "Closed on",
                        DepotForm.words(saved.closedOn()),
                        DepotForm.words(typed.closedOn() == null ? Set.of() : typed.closedOn()))
                .compare("Covered bays", before.coveredBays(), typed.coveredBays())
                .compare("Contact", before.contact(), typed.contact())
                .all();
        if (differences.isEmpty()) {
            after.addFlashAttribute("notice", Notice.info("It stands as you typed it already."));
            return "redirect:/depots";
        }
        form.version = saved.version();
        show(form, model, saved);
        model.addAttribute("differences", differences);
        response.setStatus(HttpStatus.CONFLICT.value());
        return "fleet/depot-form";
    }

    private static void show(DepotForm form, Model model, @Nullable DepotView depot) {
        model.addAttribute("depot", depot);
        model.addAttribute("opens", form.opens);
        model.addAttribute("closes", form.closes);
        model.addAttribute("labels", LABELS);
        model.addAttribute(
                "days",
                Arrays.stream(DayOfWeek.values())
                        .map(day -> day.name().toLowerCase(Locale.ROOT))
                        .toList());
    }
}

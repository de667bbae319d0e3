package org.quarterlight.dispatch.web;

import jakarta.validation.Valid;
import jakarta.validation.constraints.DecimalMax;
import jakarta.validation.constraints.DecimalMin;
import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import java.math.BigDecimal;
import java.time.LocalTime;
import java.util.Map;
import java.util.Objects;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.account.People;
import org.quarterlight.dispatch.Dispatching;
import org.quarterlight.dispatch.SaveVan;
import org.quarterlight.dispatch.Shifts;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.web.Choice;
import org.quarterlight.web.FormErrors;
import org.quarterlight.web.Notice;
import org.quarterlight.web.SliceRequest;
import org.quarterlight.web.Today;
import org.springframework.format.annotation.DateTimeFormat;
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

@Controller
class VanPages {
    private static final Map<String, String> LABELS = Map.of(
            "name", "Name",
            "latitude", "Latitude",
            "longitude", "Longitude",
            "zone", "Time zone",
            "startsAt", "Shift starts",
            "endsAt", "Shift ends",
            "technician", "Technician");

    private final Dispatching dispatching;
    private final Shifts shifts;
    private final People people;
    private final Today today;

    VanPages(Dispatching dispatching, Shifts shifts, People people, Today today) {
        this.dispatching = dispatching;
        this.shifts = shifts;
        this.people = people;
        this.today = today;
    }

    /** The fields of a new van. */
    static class VanForm {
        @NotBlank(message = "Give it a name")
        @Size(max = 60)
        @Nullable
        String name;

        @Size(max = 200)
        @Nullable
        String base;

        @NotNull(message = "Degrees, for example 53.4")
        @DecimalMin("-90")
        @DecimalMax("90")
        @Nullable
        BigDecimal latitude;

        @NotNull(message = "Degrees, for example −2.2")
        @DecimalMin("-180")
        @DecimalMax("180")
        @Nullable
        BigDecimal longitude;

        @NotBlank(message = "For example Europe/London")
        @Nullable
        String zone;

        @Nullable
        UUID technician;

        @DateTimeFormat(iso = DateTimeFormat.ISO.TIME)
        @Nullable
        LocalTime startsAt;

        @DateTimeFormat(iso = DateTimeFormat.ISO.TIME)
        @Nullable
        LocalTime endsAt;
    }

    @InitBinder("form")
    void bindFields(WebDataBinder binder) {
        binder.initDirectFieldAccess();
    }

    @GetMapping("/vans")
    String list(@ModelAttribute("form") VanForm form, Model model) {
        show(model);
        return "dispatch/vans";
    }

    @PostMapping("/vans")
    String create(
            @Valid @ModelAttribute("form") VanForm form, BindingResult errors, Model model, RedirectAttributes after) {
        if (!errors.hasErrors()) {
            try {
                var van = dispatching.create(new SaveVan(
                        Objects.requireNonNull(form.name),
                        form.base,
                        Objects.requireNonNull(form.latitude),
                        Objects.requireNonNull(form.longitude),
                        Objects.requireNonNull(form.zone),
                        form.technician,
                        form.startsAt,
                        form.endsAt));
                after.addFlashAttribute("notice", Notice.done(van.name() + " is on the board."));
                return "redirect:/vans";
            } catch (Invalid e) {
                FormErrors.reject(e, errors);
            }
        }
        show(model);
        return "dispatch/vans";
    }

    @PostMapping("/vans/{id}/retire")
    String retire(@PathVariable UUID id, @RequestParam int version, RedirectAttributes after) {
        dispatching.retire(id, version);
        after.addFlashAttribute("notice", Notice.done("The van is out of use. Its stops are not placed any more."));
        return "redirect:/vans";
    }

    private void show(Model model) {
        var all = SliceRequest.most();
        model.addAttribute("vans", dispatching.vans(all));
        model.addAttribute("shifts", shifts.list(today.here(), null, null, all));
        model.addAttribute(
                "technicians",
                people.technicians(all).items().stream()
                        .map(member -> Choice.of(member.person().toString(), member.name()))
                        .toList());
        model.addAttribute("labels", LABELS);
    }
}

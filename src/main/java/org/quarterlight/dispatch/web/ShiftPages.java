package org.quarterlight.dispatch.web;

import jakarta.validation.Valid;
import jakarta.validation.constraints.NotNull;
import java.time.LocalDate;
import java.time.LocalTime;
import java.util.Map;
import java.util.Objects;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.account.People;
import org.quarterlight.dispatch.Dispatching;
import org.quarterlight.dispatch.SaveShift;
import org.quarterlight.dispatch.ShiftView;
import org.quarterlight.dispatch.Shifts;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.web.Choice;
import org.quarterlight.web.FormErrors;
import org.quarterlight.web.Notice;
import org.quarterlight.web.SliceRequest;
import org.quarterlight.web.Today;
import org.springframework.format.annotation.DateTimeFormat;
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
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** Shifts that differ from what the vans say: a form to make one or to change it. The list stands with the vans. */
@Controller
@RequestMapping("/shifts")
@PreAuthorize("hasRole('DISPATCHER')")
class ShiftPages {
    private static final Map<String, String> LABELS = Map.of(
            "van", "Van",
            "day", "Day",
            "technician", "Technician",
            "startsAt", "Starts",
            "endsAt", "Ends");

    private final Shifts shifts;
    private final Dispatching dispatching;
    private final People people;
    private final Today today;

    ShiftPages(Shifts shifts, Dispatching dispatching, People people, Today today) {
        this.shifts = shifts;
        this.dispatching = dispatching;
        this.people = people;
        this.today = today;
    }

    /** The fields of a shift; the version is that of the shift that is changed. */
    static class ShiftForm {
        @NotNull(message = "Choose a van")
        @Nullable
        UUID van;

        @NotNull(message = "Choose a day")
        @DateTimeFormat(iso = DateTimeFormat.ISO.DATE)
        @Nullable
        LocalDate day;

        @Nullable
        UUID technician;

        @NotNull(message = "For example 07:15")
        @DateTimeFormat(iso = DateTimeFormat.ISO.TIME)
        @Nullable
        LocalTime startsAt;

        @NotNull(message = "For example 16:00")
        @DateTimeFormat(iso = DateTimeFormat.ISO.TIME)
        @Nullable
        LocalTime endsAt;

        @Nullable
        Integer version;

        void fill(ShiftView shift) {
            van = shift.van();
            day = shift.day();
            technician = shift.technician();
            startsAt = shift.startsAt();
            endsAt = shift.endsAt();
            version = shift.version();
        }

        SaveShift command() {
            return new SaveShift(
                    Objects.requireNonNull(van),
                    Objects.requireNonNull(day),
                    technician,
                    Objects.requireNonNull(startsAt),
                    Objects.requireNonNull(endsAt));
        }
    }

    @InitBinder("form")
    void bindFields(WebDataBinder binder) {
        binder.initDirectFieldAccess();
    }

    /** An empty form, or the usual hours of the van that the address names. */
    @GetMapping("/new")
    String fresh(@ModelAttribute("form") ShiftForm form, BindingResult errors, Model model) {
        if (form.van != null && form.startsAt == null) {
            var van = dispatching.van(form.van);
            form.technician = van.technician();
            form.startsAt = van.startsAt();
            form.endsAt = van.endsAt();
        }
        if (form.day == null && !errors.hasFieldErrors("day")) {
            form.day = today.here();
        }
        return show(null, model);
    }

    @PostMapping
    String create(
            @Valid @ModelAttribute("form") ShiftForm form,
            BindingResult errors,
            Model model,
            RedirectAttributes after) {
        return saved(null, form, errors, model, after);
    }

    @GetMapping("/{id}")
    String read(@PathVariable UUID id, @ModelAttribute("form") ShiftForm form, Model model) {
        form.fill(shifts.shift(id));
        return show(id, model);
    }

    @PostMapping("/{id}")
    String change(
            @PathVariable UUID id,
            @Valid @ModelAttribute("form") ShiftForm form,
            BindingResult errors,
            Model model,
            RedirectAttributes after) {
        return saved(id, form, errors, model, after);
    }

    @PostMapping("/{id}/retire")
    String retire(@PathVariable UUID id, @RequestParam int version, RedirectAttributes after) {
        shifts.retire(id, version);
        after.addFlashAttribute("notice", Notice.done("The van is out as usual on that day."));
        return "redirect:/vans";
    }

    private String saved(
            @Nullable UUID id, ShiftForm form, BindingResult errors, Model model, RedirectAttributes after) {
        if (!errors.hasErrors()) {
            try {
                var shift = id == null
                        ? shifts.create(form.command())
                        : shifts.change(id, form.command(), Objects.requireNonNullElse(form.version, -1));
                after.addFlashAttribute(
                        "notice", Notice.done("The shift is kept.").leadingTo("Day board", "/days/" + shift.day()));
                return "redirect:/vans";
            } catch (Invalid e) {
                FormErrors.reject(e, errors);
            }
        }
        return show(id, model);
    }

    private String show(@Nullable UUID id, Model model) {
        var all = SliceRequest.most();
        model.addAttribute("shift", id);
        model.addAttribute(
                "vans",
                dispatching.vans(all).items().stream()
                        .map(van -> Choice.of(van.id().toString(), van.name()))
                        .toList());
        model.addAttribute(
                "technicians",
                people.technicians(all).items().stream()
                        .map(member -> Choice.of(member.person().toString(), member.name()))
                        .toList());
        model.addAttribute("labels", LABELS);
        return "dispatch/shift";
    }
}

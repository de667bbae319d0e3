package org.quarterlight.inspection.web;

import jakarta.validation.Valid;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.quarterlight.fleet.Depots;
import org.quarterlight.inspection.InspectionPlanning;
import org.quarterlight.inspection.SpreadDays;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.web.Choice;
import org.quarterlight.web.FormErrors;
import org.quarterlight.web.Notice;
import org.quarterlight.web.Today;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.WebDataBinder;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.InitBinder;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** Spreading what is due at a depot over days: proposed first, then kept. */
@Controller
@RequestMapping("/inspections/spread")
@PreAuthorize("hasRole('MANAGER')")
class SpreadPages {
    private static final int DAYS_AHEAD = 28;
    private static final int USUAL_PER_DAY = 8;
    private static final Map<String, String> LABELS =
            Map.of("depot", "Depot", "from", "From", "to", "To", "mostPerDay", "At most a day");

    private final InspectionPlanning planning;
    private final Depots depots;
    private final Today today;

    SpreadPages(InspectionPlanning planning, Depots depots, Today today) {
        this.planning = planning;
        this.depots = depots;
        this.today = today;
    }

    @InitBinder("form")
    void bindFields(WebDataBinder binder) {
        binder.initDirectFieldAccess();
    }

    @GetMapping
    String empty(@ModelAttribute("form") SpreadForm form, BindingResult errors, Model model) {
        form.from = form.from == null ? today.here().plusDays(1) : form.from;
        form.to = form.to == null ? form.from.plusDays(DAYS_AHEAD) : form.to;
        form.mostPerDay = form.mostPerDay == null ? USUAL_PER_DAY : form.mostPerDay;
        return show(null, model);
    }

    @PostMapping
    String spread(
            @Valid @ModelAttribute("form") SpreadForm form,
            BindingResult errors,
            @RequestParam(defaultValue = "false") boolean keep,
            Model model,
            RedirectAttributes after) {
        if (!errors.hasErrors()) {
            try {
                var days = planning.spread(form.command(keep));
                if (keep) {
                    var planned = days.days().stream()
                            .mapToInt(day -> day.inspections().size())
                            .sum();
                    after.addFlashAttribute(
                            "notice",
                            Notice.done(
                                    planned == 1 ? "1 inspection is planned." : planned + " inspections are planned."));
                    return "redirect:/inspections?depot=" + days.depot();
                }
                return show(days, model);
            } catch (Invalid e) {
                FormErrors.reject(e, errors);
            }
        }
        return show(null, model);
    }

    private String show(@Nullable SpreadDays proposed, Model model) {
        model.addAttribute("proposed", proposed);
        model.addAttribute("labels", LABELS);
        model.addAttribute(
                "depots",
                depots.all().stream()
                        .map(each -> Choice.of(each.id().toString(), each.name()))
                        .toList());
        return "inspection/spread";
    }
}

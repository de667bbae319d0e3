package org.quarterlight.inspection.web;

import jakarta.servlet.http.HttpServletResponse;
import jakarta.validation.Valid;
import java.time.DayOfWeek;
import java.time.format.TextStyle;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.quarterlight.fleet.Depots;
import org.quarterlight.glass.VehicleCategory;
import org.quarterlight.inspection.InspectionPlans;
import org.quarterlight.inspection.PlanView;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.kernel.Stale;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.tenancy.Role;
import org.quarterlight.web.Choice;
import org.quarterlight.web.FormErrors;
import org.quarterlight.web.Notice;
import org.quarterlight.web.SliceRequest;
import org.quarterlight.web.Today;
import org.springframework.http.HttpStatus;
import org.springframework.security.access.AccessDeniedException;
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

/** How often which vehicles are looked at: a list, and a form for one plan. */
@Controller
@RequestMapping("/inspections/plans")
class PlanPages {
    private static final Map<String, String> LABELS = Map.of(
            "name", "Name",
            "category", "Category",
            "depot", "Depot",
            "periodDays", "Every",
            "periodKm", "Or every",
            "firstDue", "First due on",
            "weekdays", "Days of the week");

    private final InspectionPlans plans;
    private final Depots depots;
    private final Today today;

    PlanPages(InspectionPlans plans, Depots depots, Today today) {
        this.plans = plans;
        this.depots = depots;
        this.today = today;
    }

    @InitBinder("form")
    void bindFields(WebDataBinder binder) {
        binder.initDirectFieldAccess();
    }

    @GetMapping
    String list(SliceRequest wanted, Model model) {
        var shown = plans.list(wanted);
        model.addAttribute("plans", shown);
        model.addAttribute(
                "weekdays",
                shown.items().stream().collect(Collectors.toMap(PlanView::id, plan -> words(plan.weekdays()))));
        return "inspection/plans";
    }

    @GetMapping("/new")
    String empty(@ModelAttribute("form") PlanForm form, Model model) {
        forManager();
        if (form.firstDue == null) {
            form.firstDue = today.here();
        }
        return show(null, form, model);
    }

    @PostMapping
    String create(
            @Valid @ModelAttribute("form") PlanForm form, BindingResult errors, Model model, RedirectAttributes after) {
        forManager();
        if (!errors.hasErrors()) {
            try {
                var plan = plans.create(form.command());
                return back(plan.name() + " is made. What it asks for is in the list.", after);
            } catch (Invalid e) {
                FormErrors.reject(e, errors);
            }
        }
        return show(null, form, model);
    }

    @GetMapping("/{id}")
    String edit(@PathVariable UUID id, @ModelAttribute("form") PlanForm form, Model model) {
        var plan = plans.plan(id);
        form.fill(plan);
        return show(plan, form, model);
    }

    @PostMapping("/{id}")
    String change(
            @PathVariable UUID id,
            @Valid @ModelAttribute("form") PlanForm form,
            BindingResult errors,
            Model model,
            HttpServletResponse response,
            RedirectAttributes after) {
        forManager();
        if (!errors.hasErrors()) {
            try {
                var plan = plans.change(id, form.command(), form.version);
                return back(plan.name() + " is changed, and the due dates with it.", after);
            } catch (Invalid e) {
                FormErrors.reject(e, errors);
            } catch (Stale e) {
                form.version = plans.plan(id).version();
                errors.reject("stale", e.getMessage() + "; look at it again and save over it, or leave it");
                response.setStatus(HttpStatus.CONFLICT.value());
                return show(plans.plan(id), form, model);
            }
        }
        return show(plans.plan(id), form, model);
    }

    @PostMapping("/{id}/retire")
    String retire(@PathVariable UUID id, @RequestParam int version, RedirectAttributes after) {
        var name = plans.plan(id).name();
        plans.retire(id, version);
        return back(name + " is retired and asks for nothing any more.", after);
    }

    private String show(@Nullable PlanView plan, PlanForm form, Model model) {
        model.addAttribute("plan", plan);
        model.addAttribute("labels", LABELS);
        model.addAttribute(
                "categories",
                Arrays.stream(VehicleCategory.values())
                        .map(each -> Choice.of(each.name(), each.name()))
                        .toList());
        var all = depots.all();
        model.addAttribute(
                "depots",
                all.stream()
                        .map(each -> Choice.of(each.id().toString(), each.name()))
                        .toList());
        model.addAttribute("days", DayOfWeek.values());
        model.addAttribute("ticked", form.weekdays);
        model.addAttribute(
                "calendars",
                all.stream()
                        .filter(each -> plan == null
                                || plan.depot() == null
                                || plan.depot().equals(each.id()))
                        .map(each -> each.name() + ": "
                                + words(
                                        plan == null
                                                ? each.openingHours().days().keySet()
                                                : plan.possibleAt(each.openingHours())))
                        .toList());
        return "inspection/plan";
    }

    private static String words(Set<DayOfWeek> days) {
        return List.copyOf(days).stream()
                .sorted()
                .map(day -> day.getDisplayName(TextStyle.SHORT, Locale.ENGLISH))
                .collect(Collectors.joining(", "));
    }

    private static void forManager() {
        if (!Acting.require().is(Role.MANAGER)) {
            throw new AccessDeniedException("only the fleet's managers change this");
        }
    }

    private static String back(String sentence, RedirectAttributes after) {
        after.addFlashAttribute("notice", Notice.done(sentence).leadingTo("Inspections", "/inspections"));
        return "redirect:/inspections/plans";
    }
}

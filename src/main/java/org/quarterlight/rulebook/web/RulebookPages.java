package org.quarterlight.rulebook.web;

import jakarta.validation.Valid;
import jakarta.validation.constraints.DecimalMax;
import jakarta.validation.constraints.DecimalMin;
import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.quarterlight.eligibility.Sheet;
import org.quarterlight.eligibility.VehicleFacts;
import org.quarterlight.glass.VehicleCategory;
import org.quarterlight.rulebook.ChooseRules;
import org.quarterlight.rulebook.Rulebook;
import org.quarterlight.web.Notice;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.util.MultiValueMap;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.WebDataBinder;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.InitBinder;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** The sheets with every limit and its source, readable at an inspection, and the choice among them. */
@Controller
class RulebookPages {
    private static final Map<String, String> LABELS = Map.of("leaveAlonePitMm", "Leave a pit alone up to");

    private final Rulebook rulebook;

    RulebookPages(Rulebook rulebook) {
        this.rulebook = rulebook;
    }

    /** A category with the sheets that may be chosen for it. */
    public record Category(VehicleCategory category, List<Sheet> sheets, List<String> chosen) {}

    /** The fields of the choice; the sheets stand in fields named after their category. */
    static class RulesForm {
        int version;

        @DecimalMin(value = "0", message = "0 mm or more")
        @DecimalMax(value = "20", message = "At most 20 mm")
        @Nullable
        BigDecimal leaveAlonePitMm;

        boolean replaceWhatCannotBeRepaired;
    }

    @InitBinder("form")
    void bindFields(WebDataBinder binder) {
        binder.initDirectFieldAccess();
    }

    @GetMapping("/rule-sheets")
    String list(@ModelAttribute("form") RulesForm form, Model model) {
        var chosen = rulebook.chosen();
        form.version = chosen.version();
        form.leaveAlonePitMm = BigDecimal.valueOf(chosen.choices().leaveAlonePitMm());
        form.replaceWhatCannotBeRepaired = chosen.choices().replaceWhatCannotBeRepaired();
        show(chosen.sheets(), model);
        return "rulebook/list";
    }

    @GetMapping("/rule-sheets/{id}")
    String sheet(@PathVariable String id, Model model) {
        model.addAttribute("sheet", rulebook.sheet(id));
        return "rulebook/show";
    }

    @PostMapping("/rule-sheets/chosen")
    String choose(
            @RequestParam MultiValueMap<String, String> fields,
            @Valid @ModelAttribute("form") RulesForm form,
            BindingResult errors,
            Model model,
            RedirectAttributes after) {
        Map<VehicleCategory, List<String>> sheets = new EnumMap<>(VehicleCategory.class);
        for (var category : VehicleCategory.values()) {
            sheets.put(category, fields.getOrDefault("sheets-" + category, List.of()));
        }
        if (errors.hasErrors()) {
            show(sheets, model);
            return "rulebook/list";
        }
        rulebook.choose(
                new ChooseRules(sheets, null, null, form.leaveAlonePitMm, form.replaceWhatCannotBeRepaired, null, null),
                form.version);
        after.addFlashAttribute("notice", Notice.done("Kept. Every open damage is judged again."));
        return "redirect:/rule-sheets";
    }

    private void show(Map<VehicleCategory, List<String>> chosen, Model model) {
        var categories = new ArrayList<Category>();
        for (var category : VehicleCategory.values()) {
            categories.add(new Category(
                    category,
                    rulebook.sheets().stream()
                            .filter(sheet -> sheet.appliesTo(new VehicleFacts(category, null)))
                            .toList(),
                    chosen.getOrDefault(category, List.of())));
        }
        model.addAttribute("sheets", rulebook.sheets());
        model.addAttribute("categories", categories);
        model.addAttribute("labels", LABELS);
    }
}

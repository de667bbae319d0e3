package org.quarterlight.rulebook.web;

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
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** The sheets with every limit and its source, readable at an inspection, and the choice among them. */
@Controller
class RulebookPages {
    private final Rulebook rulebook;

    RulebookPages(Rulebook rulebook) {
        this.rulebook = rulebook;
    }

    /** A category with the sheets that may be chosen for it. */
    public record Category(VehicleCategory category, List<Sheet> sheets, List<String> chosen) {}

    @GetMapping("/rule-sheets")
    String list(Model model) {
        var chosen = rulebook.chosen();
        var categories = new ArrayList<Category>();
        for (var category : VehicleCategory.values()) {
            categories.add(new Category(
                    category,
                    rulebook.sheets().stream()
                            .filter(sheet -> sheet.appliesTo(new VehicleFacts(category, null)))
                            .toList(),
                    chosen.sheets().getOrDefault(category, List.of())));
        }
        model.addAttribute("sheets", rulebook.sheets());
        model.addAttribute("chosen", chosen);
        model.addAttribute("categories", categories);
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
            @RequestParam int version,
            @RequestParam(required = false) @Nullable BigDecimal leaveAlonePitMm,
            @RequestParam(defaultValue = "false") boolean replaceWhatCannotBeRepaired,
            RedirectAttributes after) {
        Map<VehicleCategory, List<String>> sheets = new EnumMap<>(VehicleCategory.class);
        for (var category : VehicleCategory.values()) {
            sheets.put(category, fields.getOrDefault("sheets-" + category, List.of()));
        }
        rulebook.choose(
                new ChooseRules(sheets, null, null, leaveAlonePitMm, replaceWhatCannotBeRepaired, null, null), version);
        after.addFlashAttribute("notice", Notice.done("Kept. Every open damage is judged again."));
        return "redirect:/rule-sheets";
    }
}

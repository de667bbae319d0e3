package org.quarterlight.rulebook.web;

import jakarta.validation.Valid;
import jakarta.validation.constraints.DecimalMax;
import jakarta.validation.constraints.DecimalMin;
import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.quarterlight.eligibility.Eligibility;
import org.quarterlight.eligibility.Glazing;
import org.quarterlight.eligibility.PatternReference;
import org.quarterlight.eligibility.Question;
import org.quarterlight.eligibility.Sheet;
import org.quarterlight.eligibility.VehicleFacts;
import org.quarterlight.glass.DrawnZone;
import org.quarterlight.glass.GenericGlass;
import org.quarterlight.glass.GlassDrawing;
import org.quarterlight.glass.GlassPattern;
import org.quarterlight.glass.SteeringSide;
import org.quarterlight.glass.VehicleCategory;
import org.quarterlight.rulebook.ChooseRules;
import org.quarterlight.rulebook.Rulebook;
import org.quarterlight.web.Choice;
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
    private static final Set<String> STEERED_FROM_THE_RIGHT = Set.of("AU", "GB", "IE", "NZ");

    /** What is left of the glass says nothing more in a drawing. */
    private static final Pattern REST = Pattern.compile("rest-.*|outside-.*|zone-b|critical-area");

    private static final Map<String, String> LABELS = Map.of(
            "leaveAlonePitMm",
            "Leave a pit alone up to",
            "riskForSafetyPercent",
            "Risk on the road",
            "riskForRepairPercent",
            "Risk in a repair");
    private static final List<Choice> RISKS = List.of(
            new Choice("riskForSafetyPercent", "On the road", "whether it may be driven", null),
            new Choice("riskForRepairPercent", "In a repair", "whether it may be repaired", null));

    private final Rulebook rulebook;

    RulebookPages(Rulebook rulebook) {
        this.rulebook = rulebook;
    }

    /** A category with the sheets that may be chosen for it. */
    public record Category(VehicleCategory category, List<Sheet> sheets, List<String> chosen) {}

    /** A sheet in a list. */
    public record Offered(Sheet sheet, String place, String vehicles, String from, String status) {}

    /** The sheets that answer one question, country by country. */
    public record Answering(String question, List<Offered> sheets) {}

    private static List<Answering> byQuestion(List<Sheet> sheets) {
        return Stream.of(Question.ROADWORTHY, Question.REPAIRABLE, Question.ACCEPTABLE)
                .map(question -> new Answering(
                        SheetWords.asked(question),
                        sheets.stream()
                                .filter(sheet -> sheet.question() == question)
                                .map(sheet -> new Offered(
                                        sheet,
                                        SheetWords.place(sheet),
                                        SheetWords.vehicles(sheet.vehicles()),
                                        SheetWords.day(sheet.validFrom()),
                                        SheetWords.status(sheet.weakestStatus())))
                                .sorted(Comparator.comparing(
                                        offered -> offered.sheet().country() == null ? "" : offered.place()))
                                .toList()))
                .filter(answering -> !answering.sheets().isEmpty())
                .toList();
    }

    /** The fields of the choice; the sheets stand in fields named after their category. */
    static class RulesForm {
        int version;

        @DecimalMin(value = "0", message = "0 mm or more")
        @DecimalMax(value = "20", message = "At most 20 mm")
        @Nullable
        BigDecimal leaveAlonePitMm;

        boolean replaceWhatCannotBeRepaired;

        @DecimalMin(value = "0", message = "0 % or more")
        @DecimalMax(value = "40", message = "At most 40 %")
        @Nullable
        BigDecimal riskForSafetyPercent;

        @DecimalMin(value = "0", message = "0 % or more")
        @DecimalMax(value = "40", message = "At most 40 %")
        @Nullable
        BigDecimal riskForRepairPercent;
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
        form.riskForSafetyPercent = percent(chosen.choices().acceptedRiskForSafety());
        form.riskForRepairPercent = percent(chosen.choices().acceptedRiskForRepair());
        show(chosen.sheets(), model);
        return "rulebook/list";
    }

    @GetMapping("/rule-sheets/{id}")
    String sheet(@PathVariable String id, Model model) {
        var sheet = rulebook.sheet(id);
        var words = new SheetWords(sheet);
        model.addAttribute("sheet", sheet);
        model.addAttribute("asked", SheetWords.asked(sheet.question()));
        model.addAttribute("place", SheetWords.place(sheet));
        model.addAttribute("vehicles", SheetWords.vehicles(sheet.vehicles()));
        model.addAttribute("from", SheetWords.day(sheet.validFrom()));
        model.addAttribute("limits", words.limits());
        var category = Stream.of(VehicleCategory.values())
                .filter(each -> sheet.appliesTo(new VehicleFacts(each, null)))
                .findFirst()
                .orElse(VehicleCategory.M1);
        var glass = GenericGlass.of(category);
        model.addAttribute("drawing", drawing(sheet, category, glass));
        model.addAttribute("glass", glass.title());
        return "rulebook/show";
    }

    /** Its zones on a generic glass of the first category that it is for, steered as usual where it holds. */
    private static String drawing(Sheet sheet, VehicleCategory category, GenericGlass glass) {
        var country = Objects.requireNonNullElse(sheet.country(), "");
        var side = STEERED_FROM_THE_RIGHT.contains(country) ? SteeringSide.RIGHT : SteeringSide.LEFT;
        var pattern = GlassPattern.of(glass.measurements(side));
        var glazing = new Glazing(pattern, new PatternReference("generic", 1, true), new VehicleFacts(category, null));
        var zones = Eligibility.zones(glazing, sheet).entrySet().stream()
                .filter(zone -> !REST.matcher(zone.getKey()).matches())
                .map(zone -> new DrawnZone(
                        // a drawing hatches the driver's zone as far as it is wiped; others it outlines as they are
                        pattern.sweptArea().covers(zone.getValue()) ? zone.getKey() : "zone-" + zone.getKey(),
                        SheetWords.place(zone.getKey()),
                        zone.getValue()))
                .toList();
        return GlassDrawing.of(pattern)
                .zones(zones)
                .size(GlassDrawing.Size.S)
                .title("The zones of " + sheet.name() + " on a generic glass, seen from outside")
                .svg();
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
                new ChooseRules(
                        sheets,
                        share(form.riskForSafetyPercent),
                        share(form.riskForRepairPercent),
                        form.leaveAlonePitMm,
                        form.replaceWhatCannotBeRepaired,
                        null,
                        null),
                form.version);
        after.addFlashAttribute("notice", Notice.done("Kept. Every open damage is judged again."));
        return "redirect:/rule-sheets";
    }

    private static BigDecimal percent(double share) {
        return BigDecimal.valueOf(share).movePointRight(2).stripTrailingZeros();
    }

    private static @Nullable BigDecimal share(@Nullable BigDecimal percent) {
        return percent == null ? null : percent.movePointLeft(2);
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
        model.addAttribute("questions", byQuestion(rulebook.sheets()));
        model.addAttribute("categories", categories);
        model.addAttribute("labels", LABELS);
        model.addAttribute("risks", RISKS);
    }
}

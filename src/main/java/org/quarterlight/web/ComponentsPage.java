package org.quarterlight.web;

import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.springframework.context.annotation.Profile;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.validation.BindingResult;
import org.springframework.validation.DirectFieldBindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** Every part of the look in its real size, with sample values that stand nowhere else. */
@Controller
@Profile("demo")
class ComponentsPage {
    private static final UUID SAMPLE = new UUID(0, 0);

    @GetMapping("/components")
    String components(@RequestParam(required = false) @Nullable String look, Model model) {
        model.addAttribute("look", look);
        model.addAttribute("header", header());
        var form = new Sample();
        var errors = new DirectFieldBindingResult(form, "form");
        errors.rejectValue("size", "typeMismatch", "Give a number, for example 19 or 3/4 in");
        errors.rejectValue("seenOn", "PastOrPresent", "This date is in the future");
        model.addAttribute("form", form);
        model.addAttribute(BindingResult.MODEL_KEY_PREFIX + "form", errors);
        model.addAttribute("labels", Map.of("size", "Size", "seenOn", "Seen on"));
        model.addAttribute("sources", List.of(Choice.of("gauge", "Gauge"), Choice.of("eye", "By eye")));
        model.addAttribute(
                "depots", List.of(Choice.of("millbeck", "Millbeck Yard"), Choice.of("fenwick", "Fenwick Road")));
        model.addAttribute("kinds", kinds());
        model.addAttribute("outcomes", List.of("stand-down", "replace", "measure-again", "repair", "watch"));
        model.addAttribute(
                "states",
                List.of(
                        "requested",
                        "approved",
                        "planned",
                        "under-way",
                        "inspected",
                        "closed",
                        "declined",
                        "abandoned"));
        model.addAttribute("clear", MarginRule.of(24.6, 0.5, "at-most", 40, "yes"));
        model.addAttribute("inDoubt", MarginRule.of(19.6, 0.9, "at-most", 20, "unclear"));
        model.addAttribute("over", MarginRule.of(27.1, 0.4, "at-most", 20, "no"));
        model.addAttribute("touching", MarginRule.of(4.2, 0.7, "more-than", 0, "yes"));
        model.addAttribute(
                "notices",
                List.of(
                        Notice.done("Repair approved. Tarn & Pell can see it.").offering("Undo", "/components"),
                        Notice.failed("The reading did not reach us. It is kept here.")
                                .leadingTo("Try again", "/components"),
                        Notice.info("Rule sheet R2 changes on 1 December: 3 verdicts will differ.")
                                .leadingTo("See them", "/components")));
        return "components";
    }

    private static PageHeader header() {
        return new PageHeader(
                "Tolkwade Logistik",
                2,
                "administrator",
                "Elke Brandis",
                List.of(
                        new MenuItem("Components", "/components", null, true),
                        new MenuItem("Outdoor", "/components?look=outdoor", null, false),
                        new MenuItem("Dark", "/components?look=dark", null, false),
                        new MenuItem("Print", "/components?look=print", 7, false)),
                List.of(
                        new Membership(SAMPLE, "Tolkwade Logistik", 2, "administrator", null, true),
                        new Membership(SAMPLE, "Ashmere Vale Buses", 1, "fleet manager", "7 to do", false),
                        new Membership(SAMPLE, "Tarn & Pell Screen Repair", 3, "dispatcher", "1 late", false)));
    }

    private static List<Choice> kinds() {
        return List.of(
                new Choice("pit", "Pit", "a tiny crater", "pit"),
                new Choice("bullseye", "Bullseye", "a round ring", "bullseye"),
                new Choice("half-moon", "Half-moon", "half a ring", "half-moon"),
                new Choice("star-break", "Star break", "legs from a point", "star-break"),
                new Choice("combination-break", "Combination", "ring and legs", "combination-break"),
                new Choice("crack", "Crack", "a line", "crack"));
    }

    /** The fields shown: a complete one, and two that are to be mended. */
    static class Sample {
        String pit = "3.1";
        String size = "about 2";
        String seenOn = "12 December";
        String depot = "millbeck";
        String source = "gauge";
        String kind = "star-break";
        String words = "";
        boolean dry = true;

        @Nullable
        String photos;
    }
}

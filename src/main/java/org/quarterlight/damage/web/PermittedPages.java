package org.quarterlight.damage.web;

import jakarta.servlet.http.HttpServletResponse;
import java.math.BigDecimal;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.quarterlight.damage.PermittedMap;
import org.quarterlight.damage.PermittedMaps;
import org.quarterlight.eligibility.Question;
import org.quarterlight.fleet.GlassPatterns;
import org.quarterlight.glass.DamageKind;
import org.quarterlight.glass.GlassDrawing;
import org.quarterlight.glass.VehicleCategory;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.rulebook.Rulebook;
import org.quarterlight.web.Choice;
import org.quarterlight.web.FormErrors;
import org.quarterlight.web.Words;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.WebDataBinder;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.InitBinder;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.RequestHeader;

/** "Where may it be?", asked of a glass pattern: a part of the pattern's page, and a page by itself. */
@Controller
class PermittedPages {
    private static final BigDecimal TO_BEGIN_WITH_MM = BigDecimal.valueOf(20);
    private static final List<Choice> KINDS = Stream.of(DamageKind.values())
            .filter(kind -> kind != DamageKind.NOT_SURE)
            .map(kind -> Choice.of(Words.of(kind), Words.spoken(kind)))
            .toList();
    private static final List<Choice> CATEGORIES = Stream.of(VehicleCategory.values())
            .map(category -> Choice.of(category.name(), category.name()))
            .toList();

    private final PermittedMaps maps;
    private final GlassPatterns patterns;
    private final Rulebook rulebook;

    PermittedPages(PermittedMaps maps, GlassPatterns patterns, Rulebook rulebook) {
        this.maps = maps;
        this.patterns = patterns;
        this.rulebook = rulebook;
    }

    /** What is asked. */
    static class PermittedForm {
        @Nullable
        DamageKind kind;

        @Nullable
        BigDecimal diameterMm;

        @Nullable
        String ruleSheet;

        @Nullable
        VehicleCategory category;
    }

    @InitBinder("form")
    void bindFields(WebDataBinder binder) {
        binder.initDirectFieldAccess();
    }

    @GetMapping("/glass-patterns/{id}/permitted")
    String permitted(
            @PathVariable UUID id,
            @ModelAttribute("form") PermittedForm form,
            BindingResult errors,
            @RequestHeader(name = "HX-Request", required = false) @Nullable String htmx,
            Model model,
            HttpServletResponse response) {
        if (form.kind == null && form.diameterMm == null && !errors.hasErrors()) {
            form.kind = DamageKind.STAR_BREAK;
            form.diameterMm = TO_BEGIN_WITH_MM;
        }
        model.addAttribute("pattern", patterns.read(id));
        model.addAttribute("kinds", KINDS);
        model.addAttribute("categories", CATEGORIES);
        model.addAttribute(
                "sheets",
                rulebook.sheets().stream()
                        .filter(sheet -> sheet.question() == Question.REPAIRABLE)
                        .map(sheet -> Choice.of(sheet.id(), sheet.name()))
                        .toList());
        model.addAttribute("labels", Map.of("kind", "Kind", "diameterMm", "Size", "ruleSheet", "Rules"));
        if (!errors.hasErrors()) {
            try {
                var drawn = maps.of(
                        id,
                        new PermittedMap.Asked(
                                form.kind,
                                form.diameterMm == null ? null : form.diameterMm.doubleValue(),
                                form.ruleSheet,
                                form.category));
                model.addAttribute("map", drawn.map());
                model.addAttribute(
                        "mapDrawing", drawn.drawing().size(GlassDrawing.Size.L).svg());
                model.addAttribute("mapLegend", drawn.drawing().legend());
            } catch (Invalid e) {
                FormErrors.reject(e, errors);
            }
        }
        if (errors.hasErrors() && htmx == null) {
            response.setStatus(HttpStatus.UNPROCESSABLE_CONTENT.value());
        }
        return htmx == null ? "damage/permitted" : "damage/permitted :: section";
    }
}

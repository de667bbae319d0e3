package org.quarterlight.fleet.web;

import jakarta.servlet.http.HttpServletResponse;
import jakarta.validation.Valid;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.fleet.GlassPatterns;
import org.quarterlight.fleet.PatternView;
import org.quarterlight.fleet.SavePattern;
import org.quarterlight.glass.GlassDrawing;
import org.quarterlight.glass.GlassMeasurements;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.kernel.Stale;
import org.quarterlight.web.Choice;
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

/** The geometries that windscreens have: shipped ones to begin with, and those that somebody measured. */
@Controller
class GlassPatternPages {
    private static final Map<String, String> LABELS = Map.ofEntries(
            Map.entry("name", "Name"),
            Map.entry("lowerWidthMm", "Lower width"),
            Map.entry("upperWidthMm", "Upper width"),
            Map.entry("heightMm", "Height"),
            Map.entry("lowerBowMm", "Lower bow"),
            Map.entry("upperBowMm", "Upper bow"),
            Map.entry("cornerRadiusMm", "Corner radius"),
            Map.entry("rakeDegrees", "Rake"),
            Map.entry("steeringSide", "Steering wheel"),
            Map.entry("wheelOffsetMm", "Wheel from the middle"),
            Map.entry("wheelTopMm", "Top of the wheel"),
            Map.entry("eyeOffsetMm", "Eye from the middle"),
            Map.entry("eyeHeightMm", "Eye height"),
            Map.entry("edgeBandMm", "Edge band"),
            Map.entry("wipers", "Wipers"),
            Map.entry("cameraCentreXMm", "Camera from the middle"),
            Map.entry("cameraWidthMm", "Camera area width"),
            Map.entry("cameraHeightMm", "Camera area height"),
            Map.entry("corners", "Corners"),
            Map.entry("outlineUncertaintyMm", "How well they are known"),
            Map.entry("acrossMm", "Level length"),
            Map.entry("acrossFromX", "Level length"),
            Map.entry("upMm", "Upright length"),
            Map.entry("upFromX", "Upright length"),
            Map.entry("tracedFrom", "Traced over"));

    private final GlassPatterns patterns;

    GlassPatternPages(GlassPatterns patterns) {
        this.patterns = patterns;
    }

    /** A pattern with its picture. */
    record Shown(PatternView pattern, String glass) {}

    @InitBinder("form")
    void bindFields(WebDataBinder binder) {
        FleetForms.prepare(binder);
    }

    @GetMapping("/glass-patterns")
    String list(SliceRequest wanted, Model model) {
        model.addAttribute(
                "patterns",
                patterns.list(wanted)
                        .map(pattern -> new Shown(
                                pattern,
                                GlassDrawing.mini(patterns.drawn(pattern.id(), pattern.patternVersion()), List.of()))));
        return "fleet/glass-patterns";
    }

    @GetMapping("/glass-patterns/{id}")
    String pattern(@PathVariable UUID id, Model model) {
        show(model, patterns.read(id));
        return "fleet/glass-pattern";
    }

    /** An own pattern begins as another one, because most lengths are near those of its kind. */
    @GetMapping("/glass-patterns/new")
    String empty(@RequestParam UUID from, @ModelAttribute("form") GlassPatternForm form, Model model) {
        FleetForms.forManager();
        var like = patterns.read(from);
        if (like.measurements().outline() != null) {
            return "redirect:/glass-patterns/" + from + "/trace-new";
        }
        form.fill(like);
        form.name = "";
        showForm(form, model, null, like);
        return "fleet/glass-pattern-form";
    }

    @PostMapping("/glass-patterns")
    String create(
            @RequestParam UUID from,
            @Valid @ModelAttribute("form") GlassPatternForm form,
            BindingResult errors,
            Model model,
            HttpServletResponse response,
            RedirectAttributes after) {
        FleetForms.forManager();
        showForm(form, model, null, patterns.read(from));
        var next = FleetForms.attempt(
                errors, GlassPatternPages::named, () -> made(patterns.create(form.command()), after));
        return next == null ? again(response) : next;
    }

    @GetMapping("/glass-patterns/{id}/edit")
    String edit(@PathVariable UUID id, @ModelAttribute("form") GlassPatternForm form, Model model) {
        FleetForms.forManager();
        var pattern = patterns.read(id);
        if (pattern.measurements().outline() != null) {
            return "redirect:/glass-patterns/" + id + "/trace";
        }
        form.fill(pattern);
        showForm(form, model, pattern, pattern);
        return "fleet/glass-pattern-form";
    }

    @PostMapping("/glass-patterns/{id}/edit")
    String correct(
            @PathVariable UUID id,
            @Valid @ModelAttribute("form") GlassPatternForm form,
            BindingResult errors,
            Model model,
            HttpServletResponse response,
            RedirectAttributes after) {
        FleetForms.forManager();
        var present = patterns.read(id);
        showForm(form, model, present, present);
        var next = FleetForms.attempt(errors, GlassPatternPages::named, () -> {
            var command = form.command();
            try {
                return corrected(patterns.correct(id, command, form.version), after);
            } catch (Stale e) {
                var saved = conflict(patterns.read(id), form, command, model, response);
                showForm(form, model, saved, saved);
                return "fleet/glass-pattern-form";
            }
        });
        return next == null ? again(response) : next;
    }

    @PostMapping("/glass-patterns/{id}/retire")
    String retire(@PathVariable UUID id, @RequestParam int version, RedirectAttributes after) {
        var name = patterns.read(id).name();
        patterns.retire(id, version);
        after.addFlashAttribute("notice", Notice.done(name + " is offered no more. Glass that has it keeps it."));
        return "redirect:/glass-patterns";
    }

    /** Where a new pattern leads, however its outline was found. */
    static String made(PatternView pattern, RedirectAttributes after) {
        after.addFlashAttribute("notice", Notice.done(pattern.name() + " is made."));
        return "redirect:/glass-patterns/" + pattern.id();
    }

    static String corrected(PatternView pattern, RedirectAttributes after) {
        after.addFlashAttribute(
                "notice",
                Notice.done(pattern.name() + " is corrected; this is version " + pattern.patternVersion() + "."));
        return "redirect:/glass-patterns/" + pattern.id();
    }

    /** Shows both sides. What was typed stays in the form, which now says from which version it goes on. */
    static PatternView conflict(
            PatternView saved, GlassForm form, SavePattern typed, Model model, HttpServletResponse response) {
        form.version = saved.version();
        model.addAttribute("differences", differences(saved, typed));
        response.setStatus(HttpStatus.CONFLICT.value());
        return saved;
    }

    private static List<Difference> differences(PatternView saved, SavePattern typed) {
        var before = saved.measurements();
        var after = typed.measurements();
        return new Difference.Differences()
                .compare("Name", saved.name(), typed.name())
                .compare("Lower width", before.lowerWidthMm(), after.lowerWidthMm())
                .compare("Upper width", before.upperWidthMm(), after.upperWidthMm())
                .compare("Height", before.heightMm(), after.heightMm())
                .compare("Lower bow", before.lowerBowMm(), after.lowerBowMm())
                .compare("Upper bow", before.upperBowMm(), after.upperBowMm())
                .compare("Corner radius", before.cornerRadiusMm(), after.cornerRadiusMm())
                .compare("Rake", before.rakeDegrees(), after.rakeDegrees())
                .compare("Wheel from the middle", before.wheelOffsetMm(), after.wheelOffsetMm())
                .compare("Top of the wheel", before.wheelTopMm(), after.wheelTopMm())
                .compare("Eye from the middle", before.eyeOffsetMm(), after.eyeOffsetMm())
                .compare("Eye height", before.eyeHeightMm(), after.eyeHeightMm())
                .compare("Edge band", before.edgeBandMm(), after.edgeBandMm())
                .compare("Wipers", before.wipers().size(), after.wipers().size())
                .compare("Corners", corners(before), corners(after))
                .all();
    }

    private static String corners(GlassMeasurements measured) {
        var outline = measured.outline();
        return outline == null ? "" : TraceForm.text(outline.corners()).replace("\n", ", ");
    }

    /** Problems of one wiper or of the camera area are told with their place in the form. */
    static Invalid named(Invalid problem) {
        var field = problem.field().replace("measurements.", "");
        return switch (field) {
            case "cameraArea.centreXMm" -> new Invalid("cameraCentreXMm", problem.problem());
            case "cameraArea.widthMm" -> new Invalid("cameraWidthMm", problem.problem());
            case "cameraArea.heightMm" -> new Invalid("cameraHeightMm", problem.problem());
            case "outline.corners" -> new Invalid("corners", problem.problem());
            case "outline.standardUncertaintyMm" -> new Invalid("outlineUncertaintyMm", problem.problem());
            case "trace.across.lengthMm" -> new Invalid("acrossMm", problem.problem());
            case "trace.across" -> new Invalid("acrossFromX", problem.problem());
            case "trace.up.lengthMm" -> new Invalid("upMm", problem.problem());
            case "trace.up" -> new Invalid("upFromX", problem.problem());
            default ->
                field.startsWith("wipers[")
                        ? new Invalid("wipers", "Wiper " + (field.charAt(7) - '0' + 1) + ": " + problem.problem())
                        : new Invalid(field, problem.problem());
        };
    }

    private static String again(HttpServletResponse response) {
        response.setStatus(HttpStatus.UNPROCESSABLE_CONTENT.value());
        return "fleet/glass-pattern-form";
    }

    private void showForm(GlassPatternForm form, Model model, @Nullable PatternView pattern, PatternView like) {
        show(model, like);
        showBesides(form, model, pattern);
    }

    /** What the forms of tapes and of traced outlines have in common. */
    static void showBesides(GlassForm form, Model model, @Nullable PatternView pattern) {
        form.addEmptyWipers();
        model.addAttribute("changed", pattern);
        model.addAttribute("wipers", form.wiperCells());
        model.addAttribute("equipment", form.equipment);
        model.addAttribute("labels", LABELS);
        model.addAttribute("sides", List.of(Choice.of("left", "On the left"), Choice.of("right", "On the right")));
    }

    private void show(Model model, PatternView pattern) {
        model.addAttribute("pattern", pattern);
        var drawn = patterns.drawn(pattern.id(), pattern.patternVersion());
        model.addAttribute(
                "drawing",
                GlassDrawing.of(drawn)
                        .size(GlassDrawing.Size.M)
                        .title(pattern.name())
                        .svg());
        model.addAttribute("legend", GlassDrawing.of(drawn).legend());
    }
}

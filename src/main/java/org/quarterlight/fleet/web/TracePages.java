package org.quarterlight.fleet.web;

import jakarta.servlet.http.HttpServletResponse;
import java.io.IOException;
import java.time.Duration;
import java.util.List;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.fleet.GlassPatterns;
import org.quarterlight.fleet.PatternPicture;
import org.quarterlight.fleet.PatternPictures;
import org.quarterlight.fleet.PatternView;
import org.quarterlight.glass.GlassDrawing;
import org.quarterlight.glass.GlassPattern;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.kernel.Stale;
import org.quarterlight.photo.PhotoSize;
import org.quarterlight.web.Choice;
import org.quarterlight.web.ShownOn;
import org.springframework.beans.factory.annotation.Qualifier;
import org.springframework.core.io.Resource;
import org.springframework.http.CacheControl;
import org.springframework.http.HttpStatus;
import org.springframework.http.MediaType;
import org.springframework.http.ResponseEntity;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.validation.BindingResult;
import org.springframework.validation.Validator;
import org.springframework.web.bind.WebDataBinder;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.InitBinder;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.multipart.MultipartFile;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/**
 * Outlines traced over a picture, or typed from a drawing: of a pattern in its next version, or of a new one that begins
 * as another is.
 */
@Controller
class TracePages {
    private final GlassPatterns patterns;
    private final PatternPictures pictures;
    private final Validator validator;

    TracePages(GlassPatterns patterns, PatternPictures pictures, @Qualifier("mvcValidator") Validator validator) {
        this.patterns = patterns;
        this.pictures = pictures;
        this.validator = validator;
    }

    @InitBinder("form")
    void bindFields(WebDataBinder binder) {
        FleetForms.prepare(binder);
    }

    @GetMapping("/glass-patterns/{id}/trace-new")
    String empty(
            @PathVariable UUID id,
            @RequestParam(required = false) @Nullable UUID picture,
            @ModelAttribute("form") TraceForm form,
            Model model) {
        FleetForms.forManager();
        var like = patterns.read(id);
        begin(form, like, picture);
        form.forgetBesides();
        form.name = "";
        return show(form, model, null, like);
    }

    @GetMapping("/glass-patterns/{id}/trace")
    String correct(
            @PathVariable UUID id,
            @RequestParam(required = false) @Nullable UUID picture,
            @ModelAttribute("form") TraceForm form,
            Model model) {
        FleetForms.forManager();
        var pattern = patterns.read(id);
        if (pattern.generic()) {
            return "redirect:/glass-patterns/" + id + "/trace-new";
        }
        begin(form, pattern, picture);
        return show(form, model, pattern, pattern);
    }

    /** The address holds the picture, which is not the one that a form would be bound to. */
    private void begin(TraceForm form, PatternView like, @Nullable UUID picture) {
        form.picture = null;
        form.fill(
                like,
                patterns.drawn(like.id(), like.patternVersion()).outline(),
                picture == null ? null : pictures.read(picture));
    }

    @PostMapping("/glass-patterns/{id}/trace-new")
    String create(
            @PathVariable UUID id,
            @RequestParam(name = "do", defaultValue = "save") String verb,
            @ModelAttribute("form") TraceForm form,
            BindingResult errors,
            Model model,
            HttpServletResponse response,
            RedirectAttributes after) {
        FleetForms.forManager();
        var like = patterns.read(id);
        check(form, like, verb, errors);
        var next = FleetForms.attempt(
                errors,
                GlassPatternPages::named,
                () -> verb.equals("draw")
                        ? drawn(form, model, null, like)
                        : GlassPatternPages.made(patterns.create(form.command()), after));
        return next == null ? again(form, model, null, like, response) : next;
    }

    @PostMapping("/glass-patterns/{id}/trace")
    String correct(
            @PathVariable UUID id,
            @RequestParam(name = "do", defaultValue = "save") String verb,
            @ModelAttribute("form") TraceForm form,
            BindingResult errors,
            Model model,
            HttpServletResponse response,
            RedirectAttributes after) {
        FleetForms.forManager();
        var present = patterns.read(id);
        check(form, present, verb, errors);
        var next = FleetForms.attempt(errors, GlassPatternPages::named, () -> {
            if (verb.equals("draw")) {
                return drawn(form, model, present, present);
            }
            var command = form.command();
            try {
                return GlassPatternPages.corrected(patterns.correct(id, command, form.version), after);
            } catch (Stale e) {
                var saved = GlassPatternPages.conflict(patterns.read(id), form, command, model, response);
                return show(form, model, saved, saved);
            }
        });
        return next == null ? again(form, model, present, present, response) : next;
    }

    /** What is taken over from another glass is there, and only then anything is missing. */
    private void check(TraceForm form, PatternView like, String verb, BindingResult errors) {
        if (verb.equals("draw")) {
            form.borrow();
        }
        form.assume(like, errors);
        validator.validate(form, errors);
    }

    private String again(
            TraceForm form,
            Model model,
            @Nullable PatternView pattern,
            PatternView like,
            HttpServletResponse response) {
        response.setStatus(HttpStatus.UNPROCESSABLE_CONTENT.value());
        return show(form, model, pattern, like);
    }

    @PostMapping("/glass-patterns/{id}/trace/picture")
    @ShownOn("/glass-patterns/{id}/trace")
    String pictureToCorrect(@PathVariable UUID id, @RequestParam MultipartFile photo) {
        return "redirect:/glass-patterns/" + id + "/trace?picture="
                + kept(id, photo).id();
    }

    @PostMapping("/glass-patterns/{id}/trace-new/picture")
    @ShownOn("/glass-patterns/{id}/trace-new")
    String pictureOfNew(@PathVariable UUID id, @RequestParam MultipartFile photo) {
        return "redirect:/glass-patterns/" + id + "/trace-new?picture="
                + kept(id, photo).id();
    }

    private PatternPicture kept(UUID pattern, MultipartFile photo) {
        FleetForms.forManager();
        patterns.read(pattern);
        try (var content = photo.getInputStream()) {
            return pictures.add(content);
        } catch (IOException e) {
            throw new Invalid("photo", "The picture did not arrive whole");
        }
    }

    @GetMapping("/glass-patterns/pictures/{picture}")
    ResponseEntity<Resource> picture(@PathVariable UUID picture) {
        return ResponseEntity.ok()
                .cacheControl(CacheControl.maxAge(Duration.ofDays(30)).cachePrivate())
                .contentType(MediaType.IMAGE_JPEG)
                .body(pictures.shown(picture, PhotoSize.LARGE));
    }

    /** As the form stands, kept nowhere. */
    private String drawn(TraceForm form, Model model, @Nullable PatternView pattern, PatternView like) {
        var measured = form.command().measurements();
        measured.problems().stream().findFirst().ifPresent(problem -> {
            throw new Invalid(problem.field(), problem.message());
        });
        var view = show(form, model, pattern, like);
        draw(model, GlassPattern.of(measured), form.name);
        return view;
    }

    private String show(TraceForm form, Model model, @Nullable PatternView pattern, PatternView like) {
        form.giveBack();
        var shown = form.picture == null ? null : pictures.read(form.picture);
        model.addAttribute("pattern", like);
        model.addAttribute("picture", shown);
        model.addAttribute("assumed", form.assumed);
        model.addAttribute("over", form.overlay(shown));
        model.addAttribute(
                "kinds",
                List.of(
                        Choice.of("photo", "A photo, taken as square-on as possible"),
                        Choice.of("drawing", "A drawing to scale")));
        model.addAttribute("mine", "/glass-patterns/" + like.id() + (pattern == null ? "/trace-new" : "/trace"));
        draw(model, patterns.drawn(like.id(), like.patternVersion()), like.name());
        GlassPatternPages.showBesides(form, model, pattern);
        return "fleet/glass-trace";
    }

    private static void draw(Model model, GlassPattern pattern, @Nullable String title) {
        model.addAttribute(
                "drawing",
                GlassDrawing.of(pattern)
                        .size(GlassDrawing.Size.M)
                        .title(title == null || title.isBlank() ? "The glass as it is traced" : title)
                        .svg());
    }
}

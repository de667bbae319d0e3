package org.quarterlight.damage.web;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.quarterlight.damage.DamagePhotos;
import org.quarterlight.eligibility.Condition;
import org.quarterlight.eligibility.Grade;
import org.quarterlight.eligibility.Seen;
import org.quarterlight.kernel.Busy;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.photo.PhotoFile;
import org.quarterlight.web.Choice;
import org.quarterlight.web.FormErrors;
import org.springframework.stereotype.Component;
import org.springframework.ui.Model;
import org.springframework.validation.BindingResult;
import org.springframework.web.multipart.MultipartFile;

/** What the report forms of signed-in people and of cab codes have in common. */
@Component
class DamageForms {
    private static final List<Choice> KINDS = List.of(
            new Choice("pit", "Pit", "a small crater", "pit"),
            new Choice("bullseye", "Bullseye", "a round dark spot", "bullseye"),
            new Choice("half-moon", "Half-moon", "a spot with one open side", "half-moon"),
            new Choice("star-break", "Star break", "legs from a point", "star-break"),
            new Choice("combination-break", "Combination break", "a spot with legs", "combination-break"),
            new Choice("crack", "Crack", "a line", "crack"),
            new Choice("not-sure", "Not sure", "none of these", "not-sure"));
    private static final List<Choice> LAYERS = List.of(
            new Choice("outer", "Smooth inside", "only the outer glass is hit", null),
            new Choice("through", "Rough inside", "the inner glass is broken too", null),
            new Choice("not-sure", "Not sure", "somebody else has to feel it", null));
    private static final List<Choice> CONDITIONS = List.of(
            Choice.of(Condition.CLEAN_DRY.word(), "Clean and dry"),
            Choice.of(Condition.WET.word(), "Wet"),
            Choice.of(Condition.DIRTY.word(), "Dirty"));
    private static final List<Choice> SOURCES = List.of(
            Choice.of(Seen.EYE.word(), "By eye"),
            Choice.of(Seen.GAUGE.word(), "Gauge or rule"),
            Choice.of(Seen.PHOTO.word(), "From a photo"));
    private static final List<Choice> GRADES = List.of(
            Choice.of(Grade.NONE.word(), "does not disturb the view"),
            Choice.of(Grade.MINOR.word(), "minor"),
            Choice.of(Grade.MAJOR.word(), "major"),
            Choice.of(Grade.DANGEROUS.word(), "dangerous"));
    private static final Map<String, String> LABELS = Map.ofEntries(
            Map.entry("vehicleId", "Vehicle"),
            Map.entry("kind", "What it looks like"),
            Map.entry("xMm", "Place, across"),
            Map.entry("yMm", "Place, up"),
            Map.entry("toXMm", "End of the crack, across"),
            Map.entry("toYMm", "End of the crack, up"),
            Map.entry("diameterMm", "Size"),
            Map.entry("uncertaintyMm", "Uncertainty"),
            Map.entry("pitMm", "Pit"),
            Map.entry("longestLegMm", "Longest leg"),
            Map.entry("layers", "The inside"),
            Map.entry("course", "How the crack runs"),
            Map.entry("legs", "Legs"),
            Map.entry("bodyMm", "Body"),
            Map.entry("arisenOn", "There since"),
            Map.entry("photos", "Photos"));

    private final DamagePhotos photos;

    DamageForms(DamagePhotos photos) {
        this.photos = photos;
    }

    void choices(Model model, String country) {
        model.addAttribute("kinds", KINDS);
        model.addAttribute("layerChoices", LAYERS);
        model.addAttribute("conditions", CONDITIONS);
        model.addAttribute("sources", SOURCES);
        model.addAttribute("grades", GRADES);
        model.addAttribute("labels", LABELS);
        model.addAttribute("compare", comparison(country));
    }

    /** Puts what the domain said beside the field it speaks of. */
    static void reject(Invalid problem, BindingResult errors) {
        var field = problem.field().substring(problem.field().lastIndexOf('.') + 1);
        FormErrors.reject(field, problem.problem(), errors);
    }

    /** The photos of a form that could be read, and what to say of the others. */
    record KeptPhotos(List<PhotoFile> files, String problems) {}

    /** Reads a form's photos, before anything is locked or written: one that cannot be read stops no report. */
    KeptPhotos keepPhotos(DamageForm form) {
        var kept = new ArrayList<PhotoFile>();
        var problems = new StringBuilder();
        for (var photo : form.photos == null ? List.<MultipartFile>of() : form.photos) {
            if (photo.isEmpty()) {
                continue;
            }
            try (var content = photo.getInputStream()) {
                kept.add(photos.keep(content));
            } catch (Invalid e) {
                problems.append(' ').append(name(photo)).append(": ").append(e.problem());
                if (!e.problem().endsWith(".")) {
                    problems.append('.');
                }
            } catch (Busy e) {
                problems.append(' ').append(name(photo)).append(": ").append(e.getMessage());
            } catch (IOException e) {
                problems.append(' ').append(name(photo)).append(" did not arrive whole.");
            }
        }
        return new KeptPhotos(kept, problems.toString().trim());
    }

    /** Adds the photos to a damage that is there already; answers what could not be taken, empty where all could. */
    String addPhotos(UUID damage, KeptPhotos kept) {
        var full = kept.files().isEmpty()
                ? ""
                : photos.addKept(damage, kept.files())
                        .map(problem -> problem + ".")
                        .orElse("");
        return (kept.problems() + " " + full).trim();
    }

    private static String name(MultipartFile photo) {
        var name = photo.getOriginalFilename();
        return name == null || name.isBlank() ? "A photo" : name.substring(0, Math.min(80, name.length()));
    }

    /** Things at hand in the country, with their sizes: coins by their mints' figures. */
    private static String comparison(String country) {
        return switch (country) {
            case "GB" -> "To compare: a 5p coin is 18 mm across, a 10p coin 24.5 mm, a £2 coin 28.4 mm.";
            case "US" -> "To compare: a dime is 17.9 mm across, a quarter 24.3 mm.";
            case "CA" -> "To compare: a quarter is 23.9 mm across, a dollar 26.5 mm.";
            case "AU" -> "To compare: a 10 cent coin is 23.6 mm across, a dollar 25 mm.";
            default -> "To compare: a 1 cent coin is 16.3 mm across, a 10 cent coin 19.8 mm, a 2 euro coin 25.8 mm.";
        };
    }
}

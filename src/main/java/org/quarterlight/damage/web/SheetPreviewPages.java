package org.quarterlight.damage.web;

import java.util.Arrays;
import java.util.List;
import java.util.UUID;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.quarterlight.damage.PreviewSheet;
import org.quarterlight.damage.PreviewView;
import org.quarterlight.damage.SheetPreviews;
import org.quarterlight.eligibility.Outcome;
import org.quarterlight.eligibility.Sheet;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.rulebook.Rulebook;
import org.quarterlight.web.SliceRequest;
import org.quarterlight.web.Words;
import org.springframework.http.HttpHeaders;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestHeader;
import org.springframework.web.bind.annotation.RequestParam;

/** Trying a sheet on the whole fleet: from which outcome to which, the damages behind each, and what it would cost. */
@Controller
class SheetPreviewPages {
    private final SheetPreviews previews;
    private final Rulebook rulebook;

    SheetPreviewPages(SheetPreviews previews, Rulebook rulebook) {
        this.previews = previews;
        this.rulebook = rulebook;
    }

    @GetMapping("/rule-sheets/{id}/preview")
    String start(@PathVariable String id, Model model) {
        var candidate = previews.candidate(id);
        var usual = previews.usuallyReplaced(id);
        model.addAttribute("replaces", usual);
        return show(candidate, model);
    }

    @PostMapping("/rule-sheets/{id}/preview")
    String start(
            @PathVariable String id,
            @RequestParam(defaultValue = "") String replaces,
            Model model,
            jakarta.servlet.http.HttpServletResponse response) {
        try {
            var made = previews.start(id, new PreviewSheet(replaces.isBlank() ? SheetPreviews.BESIDE : replaces));
            return "redirect:/rule-sheets/previews/" + made.id();
        } catch (Invalid e) {
            response.setStatus(HttpStatus.UNPROCESSABLE_CONTENT.value());
            model.addAttribute("problem", e.problem());
            model.addAttribute("replaces", replaces);
            return show(previews.candidate(id), model);
        }
    }

    private String show(Sheet candidate, Model model) {
        model.addAttribute("sheet", candidate);
        model.addAttribute("usual", "none: beside the others");
        model.addAttribute(
                "sheets",
                rulebook.sheets().stream()
                        .filter(sheet -> sheet.question() == candidate.question())
                        .toList());
        model.addAttribute("earlier", previews.list(new SliceRequest(10, null)).items());
        return "damage/preview-start";
    }

    @GetMapping("/rule-sheets/previews/{preview}")
    String read(
            @PathVariable UUID preview,
            @RequestParam(required = false) @Nullable Outcome from,
            @RequestParam(required = false) @Nullable Outcome to,
            @RequestHeader(name = "HX-Request", required = false) @Nullable String fragment,
            SliceRequest wanted,
            Model model,
            jakarta.servlet.http.HttpServletResponse response) {
        var made = previews.read(preview);
        model.addAttribute("made", made);
        model.addAttribute("here", "/rule-sheets/previews/" + preview);
        model.addAttribute(
                "outcomes",
                List.of(Outcome.STAND_DOWN, Outcome.REPLACE, Outcome.MEASURE_AGAIN, Outcome.REPAIR, Outcome.WATCH));
        model.addAttribute("words", Arrays.stream(Outcome.values()).collect(Collectors.toMap(each -> each, Words::of)));
        model.addAttribute("costs", made.cost() == null ? List.of() : words(made.cost()));
        response.addHeader(HttpHeaders.VARY, "HX-Request");
        if (fragment != null) {
            return "damage/preview :: result";
        }
        if (from != null && to != null) {
            model.addAttribute("damages", previews.damages(preview, from, to, wanted));
            model.addAttribute("from", Words.of(from));
            model.addAttribute("to", Words.of(to));
            model.addAttribute("behind", "From " + Words.spoken(from) + " to " + Words.spoken(to));
        }
        return "damage/preview";
    }

    @PostMapping("/rule-sheets/previews/{preview}/cancel")
    String cancel(@PathVariable UUID preview) {
        previews.cancel(preview);
        return "redirect:/rule-sheets/previews/" + preview;
    }

    private static List<String> words(PreviewView.Cost cost) {
        var sign = cost.difference().amountMinor() > 0 ? "+" : "";
        return List.of(cost.present().toString(), cost.proposed().toString(), sign + cost.difference());
    }
}

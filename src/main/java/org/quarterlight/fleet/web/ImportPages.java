package org.quarterlight.fleet.web;

import jakarta.servlet.http.HttpServletResponse;
import java.io.IOException;
import java.util.Objects;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.fleet.Depots;
import org.quarterlight.fleet.ImportDefaults;
import org.quarterlight.fleet.ImportMode;
import org.quarterlight.fleet.ImportRow;
import org.quarterlight.fleet.ImportView;
import org.quarterlight.fleet.VehicleImports;
import org.quarterlight.fleet.list.ListRefused;
import org.quarterlight.glass.SteeringSide;
import org.quarterlight.glass.VehicleCategory;
import org.quarterlight.web.Notice;
import org.quarterlight.web.SliceRequest;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.multipart.MultipartFile;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** A list of vehicles from the file to the result: looked over first, then taken as a whole or without its bad rows. */
@Controller
class ImportPages {
    private static final SliceRequest LAST_TEN = new SliceRequest(10, null);

    private final VehicleImports imports;
    private final Depots depots;

    ImportPages(VehicleImports imports, Depots depots) {
        this.imports = imports;
        this.depots = depots;
    }

    @GetMapping("/vehicles/import")
    String form(Model model) {
        show(model, ImportDefaults.none(), null);
        return "fleet/import";
    }

    @PostMapping("/vehicles/import")
    String preview(
            @RequestParam(required = false) @Nullable MultipartFile file,
            @RequestParam(required = false) @Nullable UUID depot,
            @RequestParam(required = false) @Nullable VehicleCategory category,
            @RequestParam(required = false) @Nullable SteeringSide steeringSide,
            Model model,
            HttpServletResponse response)
            throws IOException {
        var defaults = new ImportDefaults(depot, category, steeringSide);
        if (file == null || file.isEmpty()) {
            return refused("Choose the file with your list", defaults, model, response);
        }
        try (var content = file.getInputStream()) {
            var made = imports.take(
                    ImportMode.PREVIEW, defaults, Objects.requireNonNullElse(file.getOriginalFilename(), ""), content);
            return "redirect:/imports/" + made.id();
        } catch (ListRefused e) {
            return refused(String.valueOf(e.getMessage()), defaults, model, response);
        }
    }

    @GetMapping("/imports/{id}")
    String read(
            @PathVariable UUID id,
            @RequestParam(required = false) ImportRow.@Nullable Kind kind,
            SliceRequest wanted,
            Model model) {
        var made = imports.read(id);
        var shown = kind != null ? kind : firstKind(made);
        model.addAttribute("made", made);
        model.addAttribute("kind", shown);
        model.addAttribute("rows", imports.rows(id, shown, wanted));
        return "fleet/import-result";
    }

    /** Takes the list that was looked over. */
    @PostMapping("/imports/{id}/take")
    String take(@PathVariable UUID id, @RequestParam ImportMode mode, RedirectAttributes after) throws IOException {
        try {
            return "redirect:/imports/" + imports.again(id, mode).id();
        } catch (ListRefused e) {
            after.addFlashAttribute("notice", Notice.failed(String.valueOf(e.getMessage())));
            return "redirect:/imports/" + id;
        }
    }

    private String refused(String sentence, ImportDefaults defaults, Model model, HttpServletResponse response) {
        show(model, defaults, sentence);
        response.setStatus(HttpStatus.UNPROCESSABLE_CONTENT.value());
        return "fleet/import";
    }

    private void show(Model model, ImportDefaults defaults, @Nullable String problem) {
        model.addAttribute("before", imports.list(LAST_TEN).items());
        model.addAttribute("depots", depots.all());
        model.addAttribute("defaults", defaults);
        model.addAttribute("problem", problem);
    }

    private static ImportRow.Kind firstKind(ImportView made) {
        if (made.bad() > 0 || made.doubtful() + made.changed() == 0) {
            return ImportRow.Kind.BAD;
        }
        return made.doubtful() > 0 ? ImportRow.Kind.DOUBTFUL : ImportRow.Kind.CHANGED;
    }
}

package org.quarterlight.repair.web;

import jakarta.validation.Valid;
import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import java.time.LocalDate;
import java.util.Map;
import java.util.Objects;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.repair.Materials;
import org.quarterlight.repair.SaveLot;
import org.quarterlight.web.FormErrors;
import org.quarterlight.web.Notice;
import org.quarterlight.web.SliceRequest;
import org.springframework.format.annotation.DateTimeFormat;
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

@Controller
class StockPages {
    private static final Map<String, String> LABELS =
            Map.of("number", "Lot", "resin", "Resin", "expiresOn", "Expires", "openedOn", "Opened");

    private final Materials materials;

    StockPages(Materials materials) {
        this.materials = materials;
    }

    /** The fields of a new lot. */
    static class LotForm {
        @NotBlank(message = "Give the number on the bottle")
        @Size(max = 60)
        @Nullable
        String number;

        @NotBlank(message = "Name the resin")
        @Size(max = 120)
        @Nullable
        String resin;

        @NotNull(message = "Give the date on the bottle")
        @DateTimeFormat(iso = DateTimeFormat.ISO.DATE)
        @Nullable
        LocalDate expiresOn;

        @DateTimeFormat(iso = DateTimeFormat.ISO.DATE)
        @Nullable
        LocalDate openedOn;
    }

    @InitBinder("form")
    void bindFields(WebDataBinder binder) {
        binder.initDirectFieldAccess();
    }

    @GetMapping("/stock")
    String list(@ModelAttribute("form") LotForm form, SliceRequest wanted, Model model) {
        show(model, wanted);
        return "repair/stock";
    }

    @PostMapping("/stock")
    String create(
            @Valid @ModelAttribute("form") LotForm form, BindingResult errors, Model model, RedirectAttributes after) {
        if (!errors.hasErrors()) {
            try {
                materials.create(new SaveLot(
                        Objects.requireNonNull(form.number),
                        Objects.requireNonNull(form.resin),
                        Objects.requireNonNull(form.expiresOn),
                        form.openedOn));
                after.addFlashAttribute("notice", Notice.done("Lot " + form.number + " is in stock."));
                return "redirect:/stock";
            } catch (Invalid e) {
                FormErrors.reject(e, errors);
            }
        }
        show(model, SliceRequest.first());
        return "repair/stock";
    }

    @PostMapping("/stock/{id}/retire")
    String retire(@PathVariable UUID id, @RequestParam int version, RedirectAttributes after) {
        materials.retire(id, version);
        after.addFlashAttribute("notice", Notice.done("The lot is out of stock."));
        return "redirect:/stock";
    }

    private void show(Model model, SliceRequest wanted) {
        model.addAttribute("lots", materials.lots(wanted));

        model.addAttribute("labels", LABELS);
    }
}

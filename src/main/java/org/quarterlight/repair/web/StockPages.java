package org.quarterlight.repair.web;

import jakarta.validation.Valid;
import jakarta.validation.constraints.Max;
import jakarta.validation.constraints.Min;
import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import java.math.BigDecimal;
import java.time.LocalDate;
import java.util.Arrays;
import java.util.Map;
import java.util.Objects;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.repair.Lamps;
import org.quarterlight.repair.LotKind;
import org.quarterlight.repair.Materials;
import org.quarterlight.repair.ReadLamp;
import org.quarterlight.repair.SaveLamp;
import org.quarterlight.repair.SaveLot;
import org.quarterlight.repair.Stock;
import org.quarterlight.web.Choice;
import org.quarterlight.web.FormErrors;
import org.quarterlight.web.Notice;
import org.quarterlight.web.ShownOn;
import org.quarterlight.web.SliceRequest;
import org.quarterlight.web.Words;
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
    private static final Map<String, String> LABELS = Map.of(
            "number", "Lot", "kind", "What it is", "resin", "Material", "expiresOn", "Expires", "openedOn", "Opened");

    private final Materials materials;
    private final Lamps lamps;
    private final Stock stock;

    StockPages(Materials materials, Lamps lamps, Stock stock) {
        this.materials = materials;
        this.lamps = lamps;
        this.stock = stock;
    }

    /** The fields of a new lot. */
    static class LotForm {
        @NotBlank(message = "Give the number that stands on it")
        @Size(max = 60, message = "At most 60 characters")
        @Nullable
        String number;

        @NotBlank(message = "Name the material, as its data sheet does")
        @Size(max = 120, message = "At most 120 characters")
        @Nullable
        String resin;

        @NotNull(message = "Say what it is")
        @Nullable
        LotKind kind = LotKind.RESIN;

        @DateTimeFormat(iso = DateTimeFormat.ISO.DATE)
        @Nullable
        LocalDate expiresOn;

        @DateTimeFormat(iso = DateTimeFormat.ISO.DATE)
        @Nullable
        LocalDate openedOn;

        @Min(1)
        @Max(3650)
        @Nullable
        Integer usableDays;
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
                        form.expiresOn,
                        form.openedOn,
                        form.kind,
                        form.usableDays));
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
    @ShownOn("/stock")
    String retire(@PathVariable UUID id, @RequestParam int version, RedirectAttributes after) {
        materials.retire(id, version);
        after.addFlashAttribute("notice", Notice.done("The lot is out of stock."));
        return "redirect:/stock";
    }

    /** A lot with every job and vehicle that it went into. */
    @GetMapping("/stock/lots/{id}")
    String lot(@PathVariable UUID id, SliceRequest wanted, Model model) {
        model.addAttribute("lot", materials.lot(id));
        model.addAttribute("uses", materials.uses(id, wanted));
        model.addAttribute("places", stock.ofLot(id, SliceRequest.most()));
        return "repair/lot";
    }

    @PostMapping("/stock/lots/{id}/open")
    @ShownOn("/stock/lots/{id}")
    String open(@PathVariable UUID id, RedirectAttributes after) {
        var lot = materials.open(id, null);
        after.addFlashAttribute("notice", Notice.done("Lot " + lot.number() + " is open from today on."));
        return "redirect:/stock/lots/" + id;
    }

    @PostMapping("/stock/lots/{id}/recall")
    @ShownOn("/stock/lots/{id}")
    String recall(@PathVariable UUID id, @RequestParam(defaultValue = "") String reason, RedirectAttributes after) {
        var lot = materials.recall(id, reason);
        after.addFlashAttribute("notice", Notice.done("Lot " + lot.number() + " is blocked. These jobs had it."));
        return "redirect:/stock/lots/" + id;
    }

    @PostMapping("/stock/lamps")
    @ShownOn("/stock")
    String lamp(
            @RequestParam(defaultValue = "") String name,
            @RequestParam(required = false) @Nullable BigDecimal wavelengthNm,
            @RequestParam(required = false) @Nullable BigDecimal hours,
            @RequestParam(required = false) @Nullable Integer readEveryDays,
            RedirectAttributes after) {
        if (name.isBlank()) {
            throw new Invalid("name", "Give the lamp a name");
        }
        if (wavelengthNm == null) {
            throw new Invalid("wavelengthNm", "Give it from the plate or data sheet");
        }
        lamps.create(new SaveLamp(name, wavelengthNm, hours, readEveryDays));
        after.addFlashAttribute("notice", Notice.done(name + " is in the register. Hold a meter under it."));
        return "redirect:/stock#lamps";
    }

    @PostMapping("/stock/lamps/{id}/readings")
    @ShownOn("/stock")
    String lampReading(
            @PathVariable UUID id,
            @RequestParam(required = false) @Nullable BigDecimal irradianceMwPerCm2,
            @RequestParam(required = false) @Nullable BigDecimal distanceMm,
            @RequestParam(required = false) @Nullable BigDecimal hours,
            RedirectAttributes after) {
        if (irradianceMwPerCm2 == null) {
            throw new Invalid("irradianceMwPerCm2", "Give what the meter showed");
        }
        if (distanceMm == null) {
            throw new Invalid("distanceMm", "Give its distance from the lamp");
        }
        var lamp = lamps.read(id, new ReadLamp(irradianceMwPerCm2, distanceMm, null, hours));
        after.addFlashAttribute("notice", Notice.done("The reading of " + lamp.name() + " counts from now on."));
        return "redirect:/stock#lamps";
    }

    @PostMapping("/stock/lamps/{id}/retire")
    @ShownOn("/stock")
    String retireLamp(@PathVariable UUID id, @RequestParam int version, RedirectAttributes after) {
        lamps.retire(id, version);
        after.addFlashAttribute("notice", Notice.done("The lamp is out of use."));
        return "redirect:/stock#lamps";
    }

    private void show(Model model, SliceRequest wanted) {
        model.addAttribute("lots", materials.lots(wanted));
        model.addAttribute("lamps", lamps.list(SliceRequest.most()).items());
        model.addAttribute(
                "kinds",
                Arrays.stream(LotKind.values())
                        .map(kind -> Choice.of(Words.of(kind), Words.spoken(kind)))
                        .toList());

        model.addAttribute("labels", LABELS);
    }
}

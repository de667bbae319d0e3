package org.quarterlight.repair.web;

import java.time.LocalDate;
import org.jspecify.annotations.Nullable;
import org.quarterlight.repair.WarrantyRates;
import org.quarterlight.web.SliceRequest;
import org.springframework.format.annotation.DateTimeFormat;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** Which repairs come back. */
@Controller
class WarrantyPages {
    private final WarrantyRates rates;

    WarrantyPages(WarrantyRates rates) {
        this.rates = rates;
    }

    @GetMapping("/warranty")
    String rates(
            @RequestParam(defaultValue = "technician") WarrantyRates.By by,
            @RequestParam(required = false) @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) @Nullable LocalDate from,
            @RequestParam(required = false) @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) @Nullable LocalDate to,
            SliceRequest wanted,
            Model model) {
        model.addAttribute("rates", rates.rates(by, from, to, wanted));
        model.addAttribute("by", by);
        model.addAttribute("from", from);
        model.addAttribute("to", to);
        model.addAttribute("ways", WarrantyRates.By.values());
        return "repair/warranty";
    }
}

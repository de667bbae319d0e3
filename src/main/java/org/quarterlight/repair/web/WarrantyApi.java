package org.quarterlight.repair.web;

import java.time.LocalDate;
import org.jspecify.annotations.Nullable;
import org.quarterlight.repair.WarrantyRateView;
import org.quarterlight.repair.WarrantyRates;
import org.quarterlight.web.Slice;
import org.quarterlight.web.SliceRequest;
import org.springframework.format.annotation.DateTimeFormat;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.RestController;

@RestController
@RequestMapping("/api/v1/warranty-rates")
class WarrantyApi {
    private final WarrantyRates rates;

    WarrantyApi(WarrantyRates rates) {
        this.rates = rates;
    }

    /** How many repairs, closed in a period, came back; by technician where nothing else is asked. */
    @GetMapping
    Slice<WarrantyRateView> rates(
            @RequestParam(defaultValue = "technician") WarrantyRates.By by,
            @RequestParam(required = false) @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) @Nullable LocalDate from,
            @RequestParam(required = false) @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) @Nullable LocalDate to,
            SliceRequest wanted) {
        return rates.rates(by, from, to, wanted);
    }
}

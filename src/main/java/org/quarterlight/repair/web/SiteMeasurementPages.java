package org.quarterlight.repair.web;

import java.math.BigDecimal;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.eligibility.Condition;
import org.quarterlight.eligibility.Layers;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.repair.MeasureOnSite;
import org.quarterlight.repair.SiteMeasurements;
import org.quarterlight.web.DoneAt;
import org.quarterlight.web.Notice;
import org.quarterlight.web.ShownOn;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** Measuring a damage again, from the page of the work. */
@Controller
class SiteMeasurementPages {
    private final SiteMeasurements measurements;

    SiteMeasurementPages(SiteMeasurements measurements) {
        this.measurements = measurements;
    }

    @PostMapping("/jobs/{id}/measurements")
    @ShownOn("/jobs/{id}/run")
    @PreAuthorize("hasRole('TECHNICIAN')")
    String measure(
            @PathVariable UUID id,
            @RequestParam UUID damage,
            @RequestParam(required = false) @Nullable BigDecimal diameterMm,
            @RequestParam(required = false) @Nullable BigDecimal pitMm,
            @RequestParam(required = false) @Nullable BigDecimal longestLegMm,
            @RequestParam(required = false) @Nullable Layers layers,
            @RequestParam(required = false) @Nullable Condition condition,
            DoneAt done,
            RedirectAttributes after) {
        if (diameterMm == null) {
            throw new Invalid("diameterMm", "Give its largest distance across, in mm");
        }
        measurements.measure(
                id, new MeasureOnSite(damage, diameterMm, null, pitMm, longestLegMm, layers, condition, done.at()));
        after.addFlashAttribute("notice", Notice.done("Measured. The fleet's damage is judged again."));
        return "redirect:/jobs/" + id + "/run";
    }
}

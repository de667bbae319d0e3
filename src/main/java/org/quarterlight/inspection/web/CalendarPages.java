package org.quarterlight.inspection.web;

import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.inspection.InspectionPlanning;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.web.HoldsSecret;
import org.springframework.http.CacheControl;
import org.springframework.http.HttpStatus;
import org.springframework.http.MediaType;
import org.springframework.http.ResponseEntity;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.support.ServletUriComponentsBuilder;

/** The inspections that wait, in a calendar program that asks for them by itself. */
@Controller
class CalendarPages {
    private static final MediaType CALENDAR = MediaType.parseMediaType("text/calendar;charset=UTF-8");

    private final InspectionPlanning planning;

    CalendarPages(InspectionPlanning planning) {
        this.planning = planning;
    }

    /** The address is shown on the very answer, once. */
    @PostMapping("/inspections/calendar-address")
    @HoldsSecret
    String make(@RequestParam(required = false) @Nullable UUID depot, Model model) {
        model.addAttribute("made", planning.calendarAddress(depot, here()));
        return "inspection/calendar";
    }

    /** Not found for a key that is wrong, revoked or over: a calendar program cannot sign in. */
    @GetMapping("/calendars/{key}.ics")
    ResponseEntity<String> calendar(
            @PathVariable String key, @RequestParam(required = false) @Nullable UUID depot) {
        return Acting.current().isEmpty()
                ? ResponseEntity.status(HttpStatus.NOT_FOUND)
                        .contentType(MediaType.TEXT_PLAIN)
                        .body("This calendar address is not in force. Make another one on the page of inspections.")
                : ResponseEntity.ok()
                        .contentType(CALENDAR)
                        .cacheControl(CacheControl.noStore())
                        .body(planning.calendar(depot, here()));
    }

    private static String here() {
        return ServletUriComponentsBuilder.fromCurrentContextPath().toUriString();
    }
}

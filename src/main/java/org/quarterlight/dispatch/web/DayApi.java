package org.quarterlight.dispatch.web;

import io.swagger.v3.oas.annotations.Operation;
import java.time.LocalDate;
import org.jspecify.annotations.Nullable;
import org.quarterlight.dispatch.DayView;
import org.quarterlight.dispatch.Dispatching;
import org.quarterlight.web.Slice;
import org.quarterlight.web.SliceRequest;
import org.quarterlight.web.Today;
import org.springframework.format.annotation.DateTimeFormat;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.RestController;

@RestController
@RequestMapping("/api/v1/days")
class DayApi {
    private final Dispatching dispatching;
    private final Today today;

    DayApi(Dispatching dispatching, Today today) {
        this.dispatching = dispatching;
        this.today = today;
    }

    @Operation(
            summary = "The day board",
            description = "The day of each van, in the order of the vans' names; without a date today's. With"
                    + " late=true only those that run later than their plan, than a depot's gate or than the shift: a part"
                    + " may then be short or empty and still have a next.")
    @GetMapping
    Slice<DayView> board(
            @RequestParam(required = false) @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) @Nullable LocalDate date,
            @RequestParam(defaultValue = "false") boolean late,
            SliceRequest wanted) {
        return dispatching.days(date == null ? today.here() : date, late, wanted);
    }
}

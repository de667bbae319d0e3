package org.quarterlight.inspection.web;

import io.swagger.v3.oas.annotations.Operation;
import java.time.LocalDate;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.inspection.InspectionFilter;
import org.quarterlight.inspection.InspectionRow;
import org.quarterlight.inspection.InspectionState;
import org.quarterlight.inspection.Inspections;
import org.quarterlight.web.Slice;
import org.quarterlight.web.SliceRequest;
import org.springframework.format.annotation.DateTimeFormat;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.RestController;

@RestController
@RequestMapping("/api/v1/inspections")
class InspectionApi {
    private final Inspections inspections;

    InspectionApi(Inspections inspections) {
        this.inspections = inspections;
    }

    @Operation(
            summary = "Inspections that wait or are done",
            description = "Without a state, all that wait. What waits comes in the order in which it falls due, what is"
                    + " done with the newest first. A due date is a day in the zone of the vehicle's depot.")
    @GetMapping
    Slice<InspectionRow> list(
            @RequestParam(required = false) @Nullable InspectionState state,
            @RequestParam(required = false) @Nullable UUID depot,
            @RequestParam(required = false) @Nullable UUID vehicle,
            @RequestParam(required = false) @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) @Nullable LocalDate dueBy,
            SliceRequest wanted) {
        return inspections.list(new InspectionFilter(state, depot, vehicle, dueBy), wanted);
    }
}

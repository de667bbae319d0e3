package org.quarterlight.inspection.web;

import io.swagger.v3.oas.annotations.Operation;
import jakarta.validation.Valid;
import java.time.LocalDate;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.inspection.AskInspection;
import org.quarterlight.inspection.CalendarAddress;
import org.quarterlight.inspection.InspectionFilter;
import org.quarterlight.inspection.InspectionPlanning;
import org.quarterlight.inspection.InspectionRow;
import org.quarterlight.inspection.InspectionState;
import org.quarterlight.inspection.InspectionView;
import org.quarterlight.inspection.Inspections;
import org.quarterlight.inspection.OdometerReading;
import org.quarterlight.inspection.Odometers;
import org.quarterlight.inspection.ReadOdometer;
import org.quarterlight.inspection.RecordInspection;
import org.quarterlight.inspection.SpreadDays;
import org.quarterlight.inspection.SpreadInspections;
import org.quarterlight.web.HoldsSecret;
import org.quarterlight.web.Slice;
import org.quarterlight.web.SliceRequest;
import org.springframework.format.annotation.DateTimeFormat;
import org.springframework.http.HttpStatus;
import org.springframework.http.ResponseEntity;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestBody;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.ResponseStatus;
import org.springframework.web.bind.annotation.RestController;
import org.springframework.web.servlet.support.ServletUriComponentsBuilder;

@RestController
@RequestMapping("/api/v1")
class InspectionApi {
    private final Inspections inspections;
    private final InspectionPlanning planning;
    private final Odometers odometers;

    InspectionApi(Inspections inspections, InspectionPlanning planning, Odometers odometers) {
        this.inspections = inspections;
        this.planning = planning;
        this.odometers = odometers;
    }

    @Operation(
            summary = "Inspections that wait or are done",
            description = "Without a state, all that wait. What waits comes in the order in which it falls due, what is"
                    + " done with the newest first. A due date is a day in the zone of the vehicle's depot.")
    @GetMapping("/inspections")
    Slice<InspectionRow> list(
            @RequestParam(required = false) @Nullable InspectionState state,
            @RequestParam(required = false) @Nullable UUID depot,
            @RequestParam(required = false) @Nullable UUID vehicle,
            @RequestParam(required = false) @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) @Nullable LocalDate dueBy,
            SliceRequest wanted) {
        return inspections.list(new InspectionFilter(state, depot, vehicle, dueBy), wanted);
    }

    @Operation(summary = "Ask for an inspection that no plan asks for")
    @PostMapping("/inspections")
    @ResponseStatus(HttpStatus.CREATED)
    ResponseEntity<InspectionView> ask(@Valid @RequestBody AskInspection command) {
        var made = inspections.ask(command);
        var address =
                ServletUriComponentsBuilder.fromCurrentRequest().path("/{id}").build(made.id());
        return ResponseEntity.created(address)
                .eTag(Integer.toString(made.version()))
                .body(made);
    }

    @GetMapping("/inspections/{id}")
    ResponseEntity<InspectionView> read(@PathVariable UUID id) {
        return answer(inspections.inspection(id));
    }

    @Operation(
            summary = "Write down what an inspection found",
            description = "Each damage that was open then is confirmed, changed or gone, or restUnchanged says that"
                    + " the rest is as it was. What is found becomes observations and reports, judged like any other. A"
                    + " grade of dangerous, and of major where the organisation chose so for the category, stands the"
                    + " vehicle down until somebody clears it. Saying the same twice is answered like the first time.")
    @PostMapping("/inspections/{id}/result")
    ResponseEntity<InspectionView> result(@PathVariable UUID id, @Valid @RequestBody RecordInspection command) {
        return answer(inspections.record(id, command));
    }

    @Operation(
            summary = "Spread what is due at a depot over days",
            description = "As evenly as the due dates allow, on days on which the depot is open and its plans are done,"
                    + " never more than so many on a day, late only where there is no room before. With keep the days"
                    + " are kept as plannedOn, else proposed.")
    @PostMapping("/inspections/spread")
    SpreadDays spread(@Valid @RequestBody SpreadInspections command) {
        return planning.spread(command);
    }

    @Operation(
            summary = "What waits, as a calendar file (RFC 5545)",
            description = "Each on the day it is planned for, else on the day it is due; the first 2000.")
    @GetMapping(path = "/inspections/calendar.ics", produces = "text/calendar;charset=UTF-8")
    String calendar(@RequestParam(required = false) @Nullable UUID depot) {
        return planning.calendar(
                depot, ServletUriComponentsBuilder.fromCurrentContextPath().toUriString());
    }

    @Operation(
            summary = "Make an address for a calendar program",
            description = "It is told once, lives a year, opens the inspections that wait and nothing else, and is revoked"
                    + " like a key.")
    @PostMapping("/inspections/calendar-addresses")
    @HoldsSecret
    @ResponseStatus(HttpStatus.CREATED)
    ResponseEntity<CalendarAddress> calendarAddress(@RequestParam(required = false) @Nullable UUID depot) {
        var made = planning.calendarAddress(
                depot, ServletUriComponentsBuilder.fromCurrentContextPath().toUriString());
        return ResponseEntity.created(made.address()).body(made);
    }

    @GetMapping("/vehicles/{id}/odometer-readings")
    Slice<OdometerReading> readings(@PathVariable UUID id) {
        return new Slice<>(odometers.readings(id), null);
    }

    @Operation(
            summary = "Read the odometer of a vehicle",
            description = "A second reading of one day corrects the first.")
    @PostMapping("/vehicles/{id}/odometer-readings")
    @ResponseStatus(HttpStatus.CREATED)
    ResponseEntity<OdometerReading> readOdometer(@PathVariable UUID id, @Valid @RequestBody ReadOdometer command) {
        var reading = odometers.read(id, command);
        return ResponseEntity.created(
                        ServletUriComponentsBuilder.fromCurrentRequest().build().toUri())
                .body(reading);
    }

    private static ResponseEntity<InspectionView> answer(InspectionView inspection) {
        return ResponseEntity.ok().eTag(Integer.toString(inspection.version())).body(inspection);
    }
}

package org.quarterlight.dispatch.web;

import io.swagger.v3.oas.annotations.Operation;
import io.swagger.v3.oas.annotations.media.Content;
import io.swagger.v3.oas.annotations.media.Schema;
import jakarta.validation.Valid;
import java.time.LocalDate;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.dispatch.SaveShift;
import org.quarterlight.dispatch.ShiftView;
import org.quarterlight.dispatch.Shifts;
import org.quarterlight.web.IfMatch;
import org.quarterlight.web.MergePatch;
import org.quarterlight.web.Slice;
import org.quarterlight.web.SliceRequest;
import org.springframework.format.annotation.DateTimeFormat;
import org.springframework.http.HttpStatus;
import org.springframework.http.ResponseEntity;
import org.springframework.web.bind.annotation.DeleteMapping;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PatchMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestBody;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.ResponseStatus;
import org.springframework.web.bind.annotation.RestController;
import org.springframework.web.servlet.support.ServletUriComponentsBuilder;
import tools.jackson.databind.node.ObjectNode;

@RestController
@RequestMapping("/api/v1/shifts")
class ShiftApi {
    private final Shifts shifts;
    private final MergePatch patches;

    ShiftApi(Shifts shifts, MergePatch patches) {
        this.shifts = shifts;
        this.patches = patches;
    }

    @Operation(
            summary = "Shifts in the order of their days",
            description = "Only days on which a van goes out at other hours, or with somebody else, than the van itself"
                    + " says. from and to are the first day and the last.")
    @GetMapping
    Slice<ShiftView> list(
            @RequestParam(required = false) @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) @Nullable LocalDate from,
            @RequestParam(required = false) @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) @Nullable LocalDate to,
            @RequestParam(required = false) @Nullable UUID van,
            SliceRequest wanted) {
        return shifts.list(from, to, van, wanted);
    }

    @PostMapping
    @ResponseStatus(HttpStatus.CREATED)
    ResponseEntity<ShiftView> create(@Valid @RequestBody SaveShift command) {
        var shift = shifts.create(command);
        var address =
                ServletUriComponentsBuilder.fromCurrentRequest().path("/{id}").build(shift.id());
        return ResponseEntity.created(address)
                .eTag(Integer.toString(shift.version()))
                .body(shift);
    }

    @GetMapping("/{id}")
    ResponseEntity<ShiftView> read(@PathVariable UUID id) {
        return answer(shifts.shift(id));
    }

    @PatchMapping("/{id}")
    ResponseEntity<ShiftView> change(
            @PathVariable UUID id,
            @io.swagger.v3.oas.annotations.parameters.RequestBody(
                            content = @Content(schema = @Schema(implementation = SaveShift.class)))
                    @RequestBody
                    ObjectNode change,
            IfMatch version) {
        var command = patches.apply(SaveShift.of(shifts.shift(id)), change, SaveShift.class);
        return answer(shifts.change(id, command, version.version()));
    }

    @DeleteMapping("/{id}")
    @ResponseStatus(HttpStatus.NO_CONTENT)
    void retire(@PathVariable UUID id, IfMatch version) {
        shifts.retire(id, version.version());
    }

    private static ResponseEntity<ShiftView> answer(ShiftView shift) {
        return ResponseEntity.ok().eTag(Integer.toString(shift.version())).body(shift);
    }
}

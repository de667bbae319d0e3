package org.quarterlight.dispatch.web;

import io.swagger.v3.oas.annotations.media.Content;
import io.swagger.v3.oas.annotations.media.Schema;
import jakarta.validation.Valid;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import java.time.LocalDate;
import java.util.List;
import java.util.UUID;
import org.quarterlight.dispatch.DayView;
import org.quarterlight.dispatch.Dispatching;
import org.quarterlight.dispatch.PlanStop;
import org.quarterlight.dispatch.SaveVan;
import org.quarterlight.dispatch.VanView;
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
import org.springframework.web.bind.annotation.PutMapping;
import org.springframework.web.bind.annotation.RequestBody;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.ResponseStatus;
import org.springframework.web.bind.annotation.RestController;
import org.springframework.web.servlet.support.ServletUriComponentsBuilder;
import tools.jackson.databind.node.ObjectNode;

@RestController
@RequestMapping("/api/v1/vans")
class DispatchApi {
    private final Dispatching dispatching;
    private final MergePatch patches;

    DispatchApi(Dispatching dispatching, MergePatch patches) {
        this.dispatching = dispatching;
        this.patches = patches;
    }

    /** The stops of a day in their order. */
    record Plan(@NotNull @Size(max = 40) List<@NotNull @Valid PlanStop> stops) {}

    @GetMapping
    Slice<VanView> list(SliceRequest wanted) {
        return dispatching.vans(wanted);
    }

    @PostMapping
    @ResponseStatus(HttpStatus.CREATED)
    ResponseEntity<VanView> create(@Valid @RequestBody SaveVan command) {
        var van = dispatching.create(command);
        var address =
                ServletUriComponentsBuilder.fromCurrentRequest().path("/{id}").build(van.id());
        return ResponseEntity.created(address)
                .eTag(Integer.toString(van.version()))
                .body(van);
    }

    @GetMapping("/{id}")
    ResponseEntity<VanView> read(@PathVariable UUID id) {
        return answer(dispatching.van(id));
    }

    @PatchMapping("/{id}")
    ResponseEntity<VanView> change(
            @PathVariable UUID id,
            @io.swagger.v3.oas.annotations.parameters.RequestBody(
                            content = @Content(schema = @Schema(implementation = SaveVan.class)))
                    @RequestBody
                    ObjectNode change,
            IfMatch version) {
        var command = patches.apply(SaveVan.of(dispatching.van(id)), change, SaveVan.class);
        return answer(dispatching.change(id, command, version.version()));
    }

    @DeleteMapping("/{id}")
    @ResponseStatus(HttpStatus.NO_CONTENT)
    void retire(@PathVariable UUID id, IfMatch version) {
        dispatching.retire(id, version.version());
    }

    @GetMapping("/{id}/days/{date}")
    ResponseEntity<DayView> day(
            @PathVariable UUID id, @PathVariable @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) LocalDate date) {
        return answer(dispatching.day(id, date));
    }

    @PutMapping("/{id}/days/{date}")
    ResponseEntity<DayView> replace(
            @PathVariable UUID id,
            @PathVariable @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) LocalDate date,
            @Valid @RequestBody Plan plan,
            IfMatch version) {
        return answer(dispatching.replace(id, date, plan.stops(), version.version()));
    }

    private static ResponseEntity<VanView> answer(VanView van) {
        return ResponseEntity.ok().eTag(Integer.toString(van.version())).body(van);
    }

    private static ResponseEntity<DayView> answer(DayView day) {
        return ResponseEntity.ok().eTag(Integer.toString(day.version())).body(day);
    }
}

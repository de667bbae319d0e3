package org.quarterlight.fleet.web;

import io.swagger.v3.oas.annotations.media.Content;
import io.swagger.v3.oas.annotations.media.Schema;
import jakarta.validation.Valid;
import java.util.UUID;
import org.quarterlight.fleet.DepotView;
import org.quarterlight.fleet.Depots;
import org.quarterlight.fleet.SaveDepot;
import org.quarterlight.web.IfMatch;
import org.quarterlight.web.MergePatch;
import org.quarterlight.web.Slice;
import org.quarterlight.web.SliceRequest;
import org.springframework.http.HttpStatus;
import org.springframework.http.ResponseEntity;
import org.springframework.web.bind.annotation.DeleteMapping;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PatchMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestBody;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.ResponseStatus;
import org.springframework.web.bind.annotation.RestController;
import org.springframework.web.servlet.support.ServletUriComponentsBuilder;
import tools.jackson.databind.node.ObjectNode;

@RestController
@RequestMapping("/api/v1/depots")
class DepotApi {
    private final Depots depots;
    private final MergePatch patches;

    DepotApi(Depots depots, MergePatch patches) {
        this.depots = depots;
        this.patches = patches;
    }

    @GetMapping
    Slice<DepotView> list(SliceRequest wanted) {
        return depots.list(wanted);
    }

    @PostMapping
    @ResponseStatus(HttpStatus.CREATED)
    ResponseEntity<DepotView> create(@Valid @RequestBody SaveDepot command) {
        var depot = depots.create(command);
        var address =
                ServletUriComponentsBuilder.fromCurrentRequest().path("/{id}").build(depot.id());
        return ResponseEntity.created(address)
                .eTag(Integer.toString(depot.version()))
                .body(depot);
    }

    @GetMapping("/{id}")
    ResponseEntity<DepotView> read(@PathVariable UUID id) {
        return answer(depots.read(id));
    }

    @PatchMapping("/{id}")
    ResponseEntity<DepotView> change(
            @PathVariable UUID id,
            @io.swagger.v3.oas.annotations.parameters.RequestBody(
                            content = @Content(schema = @Schema(implementation = SaveDepot.class)))
                    @RequestBody
                    ObjectNode change,
            IfMatch version) {
        var command = patches.apply(SaveDepot.of(depots.read(id)), change, SaveDepot.class);
        return answer(depots.change(id, command, version.version()));
    }

    @DeleteMapping("/{id}")
    @ResponseStatus(HttpStatus.NO_CONTENT)
    void retire(@PathVariable UUID id, IfMatch version) {
        depots.retire(id, version.version());
    }

    private static ResponseEntity<DepotView> answer(DepotView depot) {
        return ResponseEntity.ok().eTag(Integer.toString(depot.version())).body(depot);
    }
}

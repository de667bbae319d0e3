package org.quarterlight.repair.web;

import io.swagger.v3.oas.annotations.media.Content;
import io.swagger.v3.oas.annotations.media.Schema;
import jakarta.validation.Valid;
import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.Size;
import java.time.LocalDate;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.repair.LotUse;
import org.quarterlight.repair.LotView;
import org.quarterlight.repair.Materials;
import org.quarterlight.repair.SaveLot;
import org.quarterlight.repair.Stock;
import org.quarterlight.repair.StockBalance;
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
@RequestMapping("/api/v1/resin-lots")
class LotApi {
    private final Materials materials;
    private final Stock stock;
    private final MergePatch patch;

    LotApi(Materials materials, Stock stock, MergePatch patch) {
        this.materials = materials;
        this.stock = stock;
        this.patch = patch;
    }

    @GetMapping
    Slice<LotView> list(SliceRequest wanted) {
        return materials.lots(wanted);
    }

    @PostMapping
    @ResponseStatus(HttpStatus.CREATED)
    ResponseEntity<LotView> create(@Valid @RequestBody SaveLot command) {
        var lot = materials.create(command);
        var address =
                ServletUriComponentsBuilder.fromCurrentRequest().path("/{id}").build(lot.id());
        return ResponseEntity.created(address)
                .eTag(Integer.toString(lot.version()))
                .body(lot);
    }

    @GetMapping("/{id}")
    ResponseEntity<LotView> read(@PathVariable UUID id) {
        return answer(materials.lot(id));
    }

    @PatchMapping("/{id}")
    ResponseEntity<LotView> change(
            @PathVariable UUID id,
            @io.swagger.v3.oas.annotations.parameters.RequestBody(
                            content = @Content(schema = @Schema(implementation = SaveLot.class)))
                    @RequestBody
                    ObjectNode change,
            IfMatch version) {
        var lot = materials.lot(id);
        var before =
                new SaveLot(lot.number(), lot.resin(), lot.expiresOn(), lot.openedOn(), lot.kind(), lot.usableDays());
        return answer(materials.change(id, patch.apply(before, change, SaveLot.class), version.version()));
    }

    @DeleteMapping("/{id}")
    @ResponseStatus(HttpStatus.NO_CONTENT)
    void retire(@PathVariable UUID id, IfMatch version) {
        materials.retire(id, version.version());
    }

    /** Somebody opens it, today where no day is named. */
    @PostMapping("/{id}/open")
    ResponseEntity<LotView> open(@PathVariable UUID id, @RequestBody(required = false) @Nullable Open open) {
        return answer(materials.open(id, open == null ? null : open.openedOn()));
    }

    /** The maker calls it back. It is blocked from now on. */
    @PostMapping("/{id}/recall")
    ResponseEntity<LotView> recall(@PathVariable UUID id, @Valid @RequestBody Recall recall) {
        return answer(materials.recall(id, recall.reason()));
    }

    /** Every job and vehicle that it went into, newest first. */
    @GetMapping("/{id}/jobs")
    Slice<LotUse> jobs(@PathVariable UUID id, SliceRequest wanted) {
        return materials.uses(id, wanted);
    }

    /** Where it lies, and how much of it. */
    @GetMapping("/{id}/stock")
    Slice<StockBalance> stock(@PathVariable UUID id, SliceRequest wanted) {
        return stock.ofLot(id, wanted);
    }

    record Open(@Nullable LocalDate openedOn) {}

    record Recall(@NotBlank @Size(max = 500) String reason) {}

    private static ResponseEntity<LotView> answer(LotView lot) {
        return ResponseEntity.ok().eTag(Integer.toString(lot.version())).body(lot);
    }
}

package org.quarterlight.repair.web;

import io.swagger.v3.oas.annotations.media.Content;
import io.swagger.v3.oas.annotations.media.Schema;
import jakarta.validation.Valid;
import java.util.UUID;
import org.quarterlight.repair.CountStock;
import org.quarterlight.repair.ReceiveStock;
import org.quarterlight.repair.ReorderLine;
import org.quarterlight.repair.SaveStockPlace;
import org.quarterlight.repair.Stock;
import org.quarterlight.repair.StockBalance;
import org.quarterlight.repair.StockLevel;
import org.quarterlight.repair.StockMovement;
import org.quarterlight.repair.StockPlace;
import org.quarterlight.repair.TransferStock;
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

/** Stores and vans, and what lies in them. Quantities are in ml or pieces, as the kind of the material has it. */
@RestController
@RequestMapping("/api/v1/stock-places")
class StockPlaceApi {
    private final Stock stock;
    private final MergePatch patch;

    StockPlaceApi(Stock stock, MergePatch patch) {
        this.stock = stock;
        this.patch = patch;
    }

    @GetMapping
    Slice<StockPlace> list(SliceRequest wanted) {
        return stock.places(wanted);
    }

    @PostMapping
    @ResponseStatus(HttpStatus.CREATED)
    ResponseEntity<StockPlace> create(@Valid @RequestBody SaveStockPlace command) {
        var place = stock.create(command);
        var address =
                ServletUriComponentsBuilder.fromCurrentRequest().path("/{id}").build(place.id());
        return ResponseEntity.created(address)
                .eTag(Integer.toString(place.version()))
                .body(place);
    }

    /** Every place that holds less of a kind than it should. What has expired or is recalled does not count. */
    @GetMapping("/reorder")
    Slice<ReorderLine> reorder(SliceRequest wanted) {
        return stock.reorder(wanted);
    }

    @GetMapping("/{id}")
    ResponseEntity<StockPlace> read(@PathVariable UUID id) {
        return answer(stock.place(id));
    }

    @PatchMapping("/{id}")
    ResponseEntity<StockPlace> change(
            @PathVariable UUID id,
            @io.swagger.v3.oas.annotations.parameters.RequestBody(
                            content = @Content(schema = @Schema(implementation = SaveStockPlace.class)))
                    @RequestBody
                    ObjectNode change,
            IfMatch version) {
        var place = stock.place(id);
        var before = new SaveStockPlace(place.name(), place.kind());
        return answer(stock.change(id, patch.apply(before, change, SaveStockPlace.class), version.version()));
    }

    @DeleteMapping("/{id}")
    @ResponseStatus(HttpStatus.NO_CONTENT)
    void retire(@PathVariable UUID id, IfMatch version) {
        stock.retire(id, version.version());
    }

    @GetMapping("/{id}/balances")
    Slice<StockBalance> balances(@PathVariable UUID id, SliceRequest wanted) {
        return stock.balances(id, wanted);
    }

    /** Every change, newest first. */
    @GetMapping("/{id}/movements")
    Slice<StockMovement> movements(@PathVariable UUID id, SliceRequest wanted) {
        return stock.movements(id, wanted);
    }

    @GetMapping("/{id}/levels")
    Slice<StockLevel> levels(@PathVariable UUID id) {
        return new Slice<>(stock.levels(id), null);
    }

    /** How much of a kind should lie there at least; 0 asks for none. */
    @PostMapping("/{id}/levels")
    Slice<StockLevel> keepAtLeast(@PathVariable UUID id, @Valid @RequestBody StockLevel level) {
        return new Slice<>(stock.keepAtLeast(id, level), null);
    }

    @PostMapping("/{id}/receive")
    StockBalance receive(@PathVariable UUID id, @Valid @RequestBody ReceiveStock command) {
        return stock.receive(id, command);
    }

    /** Takes something to another place; answers what is left here. */
    @PostMapping("/{id}/transfer")
    StockBalance transfer(@PathVariable UUID id, @Valid @RequestBody TransferStock command) {
        return stock.transfer(id, command);
    }

    /** Sets what lies there to what was counted. */
    @PostMapping("/{id}/count")
    StockBalance count(@PathVariable UUID id, @Valid @RequestBody CountStock command) {
        return stock.count(id, command);
    }

    private static ResponseEntity<StockPlace> answer(StockPlace place) {
        return ResponseEntity.ok().eTag(Integer.toString(place.version())).body(place);
    }
}

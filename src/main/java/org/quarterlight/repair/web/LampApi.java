package org.quarterlight.repair.web;

import io.swagger.v3.oas.annotations.media.Content;
import io.swagger.v3.oas.annotations.media.Schema;
import jakarta.validation.Valid;
import java.util.UUID;
import org.quarterlight.repair.LampView;
import org.quarterlight.repair.Lamps;
import org.quarterlight.repair.ReadLamp;
import org.quarterlight.repair.SaveLamp;
import org.quarterlight.web.IfMatch;
import org.quarterlight.web.MergePatch;
import org.quarterlight.web.Slice;
import org.quarterlight.web.SliceRequest;
import org.springframework.http.HttpStatus;
import org.springframework.http.ResponseEntity;
import org.springframework.security.access.prepost.PreAuthorize;
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
@RequestMapping("/api/v1/lamps")
class LampApi {
    private final Lamps lamps;
    private final MergePatch patch;

    LampApi(Lamps lamps, MergePatch patch) {
        this.lamps = lamps;
        this.patch = patch;
    }

    @GetMapping
    Slice<LampView> list(SliceRequest wanted) {
        return lamps.list(wanted);
    }

    @PostMapping
    @ResponseStatus(HttpStatus.CREATED)
    ResponseEntity<LampView> create(@Valid @RequestBody SaveLamp command) {
        var lamp = lamps.create(command);
        var address =
                ServletUriComponentsBuilder.fromCurrentRequest().path("/{id}").build(lamp.id());
        return ResponseEntity.created(address)
                .eTag(Integer.toString(lamp.version()))
                .body(lamp);
    }

    @GetMapping("/{id}")
    ResponseEntity<LampView> read(@PathVariable UUID id) {
        return answer(lamps.lamp(id));
    }

    /** Asks for the right before it looks at the change: whoever may only read is told that, and not what is wrong in it. */
    @PatchMapping("/{id}")
    @PreAuthorize("hasRole('DISPATCHER')")
    ResponseEntity<LampView> change(
            @PathVariable UUID id,
            @io.swagger.v3.oas.annotations.parameters.RequestBody(
                            content = @Content(schema = @Schema(implementation = SaveLamp.class)))
                    @RequestBody
                    ObjectNode change,
            IfMatch version) {
        var before = before(lamps.lamp(id));
        return answer(lamps.change(id, patch.apply(before, change, SaveLamp.class), version.version()));
    }

    @DeleteMapping("/{id}")
    @ResponseStatus(HttpStatus.NO_CONTENT)
    void retire(@PathVariable UUID id, IfMatch version) {
        lamps.retire(id, version.version());
    }

    /** What a meter showed, at which distance. */
    @PostMapping("/{id}/readings")
    ResponseEntity<LampView> read(@PathVariable UUID id, @Valid @RequestBody ReadLamp command) {
        return answer(lamps.read(id, command));
    }

    private static SaveLamp before(LampView lamp) {
        return new SaveLamp(lamp.name(), lamp.wavelengthNm(), lamp.hours(), lamp.readEveryDays());
    }

    private static ResponseEntity<LampView> answer(LampView lamp) {
        return ResponseEntity.ok().eTag(Integer.toString(lamp.version())).body(lamp);
    }
}

package org.quarterlight.repair.web;

import io.swagger.v3.oas.annotations.media.Content;
import io.swagger.v3.oas.annotations.media.Schema;
import jakarta.validation.Valid;
import java.util.UUID;
import org.quarterlight.repair.MethodView;
import org.quarterlight.repair.Methods;
import org.quarterlight.repair.SaveMethod;
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
@RequestMapping("/api/v1/methods")
class MethodApi {
    private final Methods methods;
    private final MergePatch patch;

    MethodApi(Methods methods, MergePatch patch) {
        this.methods = methods;
        this.patch = patch;
    }

    /** The organisation's own by name; the first part begins with the one that ships. */
    @GetMapping
    Slice<MethodView> list(SliceRequest wanted) {
        return methods.list(wanted);
    }

    @PostMapping
    @ResponseStatus(HttpStatus.CREATED)
    ResponseEntity<MethodView> create(@Valid @RequestBody SaveMethod command) {
        var method = methods.create(command);
        var address =
                ServletUriComponentsBuilder.fromCurrentRequest().path("/{id}").build(method.id());
        return ResponseEntity.created(address)
                .eTag(Integer.toString(method.version()))
                .body(method);
    }

    @GetMapping("/{id}")
    ResponseEntity<MethodView> read(@PathVariable UUID id) {
        return answer(methods.method(id));
    }

    /** Asks for the right before it looks at the change. The next version holds for jobs that start from then on. */
    @PatchMapping("/{id}")
    @PreAuthorize("hasAnyRole('DISPATCHER', 'MANAGER')")
    ResponseEntity<MethodView> change(
            @PathVariable UUID id,
            @io.swagger.v3.oas.annotations.parameters.RequestBody(
                            content = @Content(schema = @Schema(implementation = SaveMethod.class)))
                    @RequestBody
                    ObjectNode change,
            IfMatch version) {
        var before = SaveMethod.of(methods.method(id).method());
        return answer(methods.change(id, patch.apply(before, change, SaveMethod.class), version.version()));
    }

    @DeleteMapping("/{id}")
    @ResponseStatus(HttpStatus.NO_CONTENT)
    void retire(@PathVariable UUID id, IfMatch version) {
        methods.retire(id, version.version());
    }

    private static ResponseEntity<MethodView> answer(MethodView method) {
        return ResponseEntity.ok().eTag(Integer.toString(method.version())).body(method);
    }
}

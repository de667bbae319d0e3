package org.quarterlight.fleet.web;

import io.swagger.v3.oas.annotations.media.Content;
import io.swagger.v3.oas.annotations.media.Schema;
import jakarta.validation.Valid;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.fleet.GlassPatterns;
import org.quarterlight.fleet.PatternView;
import org.quarterlight.fleet.SavePattern;
import org.quarterlight.glass.GlassDrawing;
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
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.ResponseStatus;
import org.springframework.web.bind.annotation.RestController;
import org.springframework.web.servlet.support.ServletUriComponentsBuilder;
import tools.jackson.databind.node.ObjectNode;

@RestController
@RequestMapping("/api/v1/glass-patterns")
class GlassPatternApi {
    private final GlassPatterns patterns;
    private final MergePatch patches;

    GlassPatternApi(GlassPatterns patterns, MergePatch patches) {
        this.patterns = patterns;
        this.patches = patches;
    }

    /** Which inks a drawing that stands alone has. */
    enum Look {
        LIGHT,
        DARK,
        PRINT;

        GlassDrawing.Look inks() {
            return switch (this) {
                case LIGHT -> GlassDrawing.Look.LIGHT;
                case DARK -> GlassDrawing.Look.DARK;
                case PRINT -> GlassDrawing.Look.PRINT;
            };
        }
    }

    @GetMapping
    Slice<PatternView> list(SliceRequest wanted) {
        return patterns.list(wanted);
    }

    @PostMapping
    @ResponseStatus(HttpStatus.CREATED)
    ResponseEntity<PatternView> create(@Valid @RequestBody SavePattern command) {
        var pattern = patterns.create(command);
        var address =
                ServletUriComponentsBuilder.fromCurrentRequest().path("/{id}").build(pattern.id());
        return ResponseEntity.created(address)
                .eTag(Integer.toString(pattern.version()))
                .body(pattern);
    }

    @GetMapping("/{id}")
    ResponseEntity<PatternView> read(@PathVariable UUID id) {
        return answer(patterns.read(id));
    }

    /** A correction: the next version of the pattern. */
    @PatchMapping("/{id}")
    ResponseEntity<PatternView> correct(
            @PathVariable UUID id,
            @io.swagger.v3.oas.annotations.parameters.RequestBody(
                            content = @Content(schema = @Schema(implementation = SavePattern.class)))
                    @RequestBody
                    ObjectNode change,
            IfMatch version) {
        var present = patterns.read(id);
        var command = patches.apply(new SavePattern(present.name(), present.measurements()), change, SavePattern.class);
        return answer(patterns.correct(id, command, version.version()));
    }

    @DeleteMapping("/{id}")
    @ResponseStatus(HttpStatus.NO_CONTENT)
    void retire(@PathVariable UUID id, IfMatch version) {
        patterns.retire(id, version.version());
    }

    /** The glass in true proportion, with a scale in millimetres; stands alone, colours resolved. */
    @GetMapping(path = "/{id}/drawing.svg", produces = "image/svg+xml")
    ResponseEntity<String> drawing(@PathVariable UUID id, @RequestParam(required = false) @Nullable Look look) {
        var pattern = patterns.read(id);
        var svg = GlassDrawing.of(patterns.drawn(id, pattern.patternVersion()))
                .size(GlassDrawing.Size.L)
                .look((look == null ? Look.LIGHT : look).inks())
                .title(pattern.name())
                .svg();
        return ResponseEntity.ok().eTag(Integer.toString(pattern.version())).body(svg);
    }

    private static ResponseEntity<PatternView> answer(PatternView pattern) {
        return ResponseEntity.ok().eTag(Integer.toString(pattern.version())).body(pattern);
    }
}

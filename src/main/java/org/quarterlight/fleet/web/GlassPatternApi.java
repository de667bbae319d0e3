package org.quarterlight.fleet.web;

import io.swagger.v3.oas.annotations.media.Content;
import io.swagger.v3.oas.annotations.media.Schema;
import jakarta.validation.Valid;
import java.io.IOException;
import java.time.Duration;
import java.util.Set;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.fleet.GlassPatterns;
import org.quarterlight.fleet.PatternPicture;
import org.quarterlight.fleet.PatternPictures;
import org.quarterlight.fleet.PatternView;
import org.quarterlight.fleet.SavePattern;
import org.quarterlight.fleet.TraceOutline;
import org.quarterlight.fleet.TraceView;
import org.quarterlight.glass.GlassDrawing;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.photo.PhotoSize;
import org.quarterlight.web.IfMatch;
import org.quarterlight.web.MergePatch;
import org.quarterlight.web.Slice;
import org.quarterlight.web.SliceRequest;
import org.springframework.core.io.Resource;
import org.springframework.http.CacheControl;
import org.springframework.http.HttpStatus;
import org.springframework.http.MediaType;
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
import org.springframework.web.multipart.MultipartFile;
import org.springframework.web.servlet.support.ServletUriComponentsBuilder;
import tools.jackson.databind.node.ObjectNode;

@RestController
@RequestMapping("/api/v1/glass-patterns")
class GlassPatternApi {
    private final GlassPatterns patterns;
    private final PatternPictures pictures;
    private final MergePatch patches;

    GlassPatternApi(GlassPatterns patterns, PatternPictures pictures, MergePatch patches) {
        this.patterns = patterns;
        this.pictures = pictures;
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

    /** A traced glass says in {@code assumed} what was taken from another glass: the outline does not tell it. */
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
        var command = patches.apply(
                new SavePattern(
                        present.name(),
                        present.measurements(),
                        present.trace(),
                        present.assumed() == null ? null : Set.copyOf(present.assumed())),
                change,
                SavePattern.class);
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

    /** A picture to trace a glass over: a photo taken as square-on as may be, or a drawing to scale. */
    @PostMapping(path = "/pictures", consumes = MediaType.MULTIPART_FORM_DATA_VALUE)
    @ResponseStatus(HttpStatus.CREATED)
    ResponseEntity<PatternPicture> addPicture(@RequestParam MultipartFile photo) {
        try (var content = photo.getInputStream()) {
            var added = pictures.add(content);
            var address = ServletUriComponentsBuilder.fromCurrentRequest()
                    .path("/{id}")
                    .build(added.id());
            return ResponseEntity.created(address).body(added);
        } catch (IOException e) {
            throw new Invalid("photo", "The picture did not arrive whole");
        }
    }

    /** The picture: upright, without what the camera wrote beside it. Places on it count in the points of the large size. */
    @GetMapping(path = "/pictures/{picture}", produces = MediaType.IMAGE_JPEG_VALUE)
    ResponseEntity<Resource> picture(@PathVariable UUID picture, @RequestParam(defaultValue = "large") PhotoSize size) {
        return ResponseEntity.ok()
                .cacheControl(CacheControl.maxAge(Duration.ofDays(30)).cachePrivate())
                .contentType(MediaType.IMAGE_JPEG)
                .body(pictures.shown(picture, size));
    }

    /** Corners of a picture in millimetres of the glass frame, as a pattern takes them. Perspective is not corrected. */
    @PostMapping("/traces")
    TraceView trace(@Valid @RequestBody TraceOutline command) {
        return patterns.trace(command);
    }

    private static ResponseEntity<PatternView> answer(PatternView pattern) {
        return ResponseEntity.ok().eTag(Integer.toString(pattern.version())).body(pattern);
    }
}

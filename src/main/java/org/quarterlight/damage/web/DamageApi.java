package org.quarterlight.damage.web;

import io.swagger.v3.oas.annotations.Operation;
import jakarta.validation.Valid;
import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.Size;
import java.io.IOException;
import java.time.LocalDate;
import java.time.OffsetDateTime;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.damage.DamageFilter;
import org.quarterlight.damage.DamageGrowth;
import org.quarterlight.damage.DamageOverTime;
import org.quarterlight.damage.DamagePhoto;
import org.quarterlight.damage.DamagePhotos;
import org.quarterlight.damage.DamageReporting;
import org.quarterlight.damage.DamageRow;
import org.quarterlight.damage.DamageState;
import org.quarterlight.damage.DamageView;
import org.quarterlight.damage.GlassPicture;
import org.quarterlight.damage.GrowthView;
import org.quarterlight.damage.ObservationView;
import org.quarterlight.damage.ObserveDamage;
import org.quarterlight.damage.ReportDamage;
import org.quarterlight.damage.VerdictAgain;
import org.quarterlight.eligibility.Outcome;
import org.quarterlight.eligibility.Verdict;
import org.quarterlight.glass.DamageKind;
import org.quarterlight.glass.GlassDrawing;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.photo.PhotoSize;
import org.quarterlight.web.Flag;
import org.quarterlight.web.Slice;
import org.quarterlight.web.SliceRequest;
import org.springframework.core.io.Resource;
import org.springframework.format.annotation.DateTimeFormat;
import org.springframework.http.CacheControl;
import org.springframework.http.HttpStatus;
import org.springframework.http.MediaType;
import org.springframework.http.ResponseEntity;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestBody;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.ResponseStatus;
import org.springframework.web.bind.annotation.RestController;
import org.springframework.web.multipart.MultipartFile;
import org.springframework.web.servlet.support.ServletUriComponentsBuilder;

@RestController
@RequestMapping("/api/v1")
class DamageApi {
    private static final String GROWTH = "A straight line through all readings by least squares, its rate with a 95 %"
            + " interval by Student's t, and the day on which the rules would judge it worse: by the line, and by the"
            + " upper end of the interval";

    private final DamageReporting reporting;
    private final DamagePhotos photos;
    private final DamageGrowth growth;
    private final GlassPicture picture;

    DamageApi(DamageReporting reporting, DamagePhotos photos, DamageGrowth growth, GlassPicture picture) {
        this.picture = picture;
        this.reporting = reporting;
        this.growth = growth;
        this.photos = photos;
    }

    /** Why a damage is none. Names of bodies are those of the API's description, so no two modules share one. */
    record Withdrawal(@NotBlank @Size(max = 500) String reason) {}

    @GetMapping("/damages")
    Slice<DamageRow> list(
            @RequestParam(required = false) @Nullable DamageState state,
            @RequestParam(required = false) @Nullable Outcome outcome,
            @RequestParam(required = false) DamageFilter.@Nullable Needs needs,
            @RequestParam(required = false) @Nullable UUID depot,
            @RequestParam(required = false) @Nullable UUID vehicle,
            @RequestParam(required = false) @Nullable DamageKind kind,
            @RequestParam(required = false) @DateTimeFormat(iso = DateTimeFormat.ISO.DATE_TIME) @Nullable
                    OffsetDateTime reportedFrom,
            @RequestParam(required = false) @DateTimeFormat(iso = DateTimeFormat.ISO.DATE_TIME) @Nullable
                    OffsetDateTime reportedTo,
            @RequestParam(required = false) @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) @Nullable LocalDate dueBy,
            @RequestParam(required = false) @Nullable Flag mine,
            @RequestParam(required = false) DamageFilter.@Nullable Sort sort,
            SliceRequest wanted) {
        return reporting.list(
                new DamageFilter(
                        state,
                        outcome,
                        needs,
                        depot,
                        vehicle,
                        kind,
                        reportedFrom == null ? null : reportedFrom.toInstant(),
                        reportedTo == null ? null : reportedTo.toInstant(),
                        dueBy,
                        Flag.on(mine),
                        sort),
                wanted);
    }

    @PostMapping("/damages")
    @ResponseStatus(HttpStatus.CREATED)
    ResponseEntity<DamageView> report(@Valid @RequestBody ReportDamage command) {
        var damage = reporting.report(command);
        var address =
                ServletUriComponentsBuilder.fromCurrentRequest().path("/{id}").build(damage.id());
        return ResponseEntity.created(address)
                .eTag(Integer.toString(damage.version()))
                .body(damage);
    }

    @GetMapping("/damages/{id}")
    ResponseEntity<DamageView> read(@PathVariable UUID id) {
        return answer(reporting.damage(id));
    }

    /** It lies where a repair is, and is another damage. */
    @PostMapping("/damages/{id}/another")
    ResponseEntity<DamageView> another(@PathVariable UUID id) {
        return answer(reporting.another(id));
    }

    @PostMapping("/damages/{id}/withdraw")
    ResponseEntity<DamageView> withdraw(@PathVariable UUID id, @Valid @RequestBody Withdrawal withdrawal) {
        return answer(reporting.withdraw(id, withdrawal.reason()));
    }

    /** All of them, newest first: a damage is looked at a few times in its life. */
    @GetMapping("/damages/{id}/observations")
    Slice<ObservationView> observations(@PathVariable UUID id) {
        return new Slice<>(reporting.observations(id), null);
    }

    @PostMapping("/damages/{id}/observations")
    @ResponseStatus(HttpStatus.CREATED)
    ResponseEntity<DamageView> observe(@PathVariable UUID id, @Valid @RequestBody ObserveDamage command) {
        var damage = reporting.observe(id, command);
        var address = ServletUriComponentsBuilder.fromCurrentRequest().build().toUri();
        return ResponseEntity.created(address)
                .eTag(Integer.toString(damage.version()))
                .body(damage);
    }

    @GetMapping("/damages/{id}/verdict")
    Verdict verdict(@PathVariable UUID id) {
        return reporting.damage(id).verdict();
    }

    /** What was judged over time, newest first, at most 200. */
    @GetMapping("/damages/{id}/verdicts")
    Slice<Verdict> verdicts(@PathVariable UUID id) {
        return new Slice<>(reporting.verdicts(id), null);
    }

    /** The newest 30 of them, each computed again from the facts, sheets and choices it was given on. */
    @GetMapping("/damages/{id}/verdicts/again")
    Slice<VerdictAgain> verdictsAgain(@PathVariable UUID id) {
        return new Slice<>(reporting.verdictsAgain(id), null);
    }

    /** Every damage of the glass that a vehicle carries now, closed ones among them, with every look at it, oldest first. */
    @GetMapping("/vehicles/{id}/damages-over-time")
    Slice<DamageOverTime> overTime(@PathVariable UUID id) {
        return new Slice<>(reporting.overTime(id), null);
    }

    /** The same on one drawing. It stands alone, colours resolved. */
    @GetMapping(path = "/vehicles/{id}/damages-over-time.svg", produces = "image/svg+xml")
    String overTimeDrawn(@PathVariable UUID id) {
        return picture.overTime(id, reporting.overTime(id))
                .size(GlassDrawing.Size.L)
                .look(GlassDrawing.Look.LIGHT)
                .svg();
    }

    @Operation(description = GROWTH)
    @GetMapping("/damages/{id}/growth")
    GrowthView growth(@PathVariable UUID id) {
        return growth.of(id);
    }

    @GetMapping("/damages/{id}/photos")
    Slice<DamagePhoto> photos(@PathVariable UUID id) {
        return new Slice<>(photos.list(id), null);
    }

    @PostMapping(path = "/damages/{id}/photos", consumes = MediaType.MULTIPART_FORM_DATA_VALUE)
    @ResponseStatus(HttpStatus.CREATED)
    ResponseEntity<DamagePhoto> addPhoto(@PathVariable UUID id, @RequestParam MultipartFile photo) {
        try (var content = photo.getInputStream()) {
            var added = photos.add(id, content);
            var address = ServletUriComponentsBuilder.fromCurrentContextPath()
                    .path("/api/v1/photos/{id}")
                    .build(added.id());
            return ResponseEntity.created(address).body(added);
        } catch (IOException e) {
            throw new Invalid("photo", "The photo did not arrive whole");
        }
    }

    /** The picture: upright, without what the camera wrote beside it. */
    @GetMapping(path = "/photos/{id}", produces = MediaType.IMAGE_JPEG_VALUE)
    ResponseEntity<Resource> photo(@PathVariable UUID id, @RequestParam(defaultValue = "large") PhotoSize size) {
        return ResponseEntity.ok()
                .cacheControl(CacheControl.maxAge(java.time.Duration.ofDays(30)).cachePrivate())
                .contentType(MediaType.IMAGE_JPEG)
                .body(photos.shown(id, size));
    }

    private static ResponseEntity<DamageView> answer(DamageView damage) {
        return ResponseEntity.ok().eTag(Integer.toString(damage.version())).body(damage);
    }
}

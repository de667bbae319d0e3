package org.quarterlight.fleet.web;

import com.fasterxml.jackson.annotation.JsonUnwrapped;
import io.swagger.v3.oas.annotations.media.Content;
import io.swagger.v3.oas.annotations.media.Schema;
import jakarta.servlet.http.HttpServletResponse;
import jakarta.validation.Valid;
import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import java.io.IOException;
import java.time.LocalDate;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.eligibility.Outcome;
import org.quarterlight.fleet.FitWindscreen;
import org.quarterlight.fleet.Fleet;
import org.quarterlight.fleet.SaveVehicle;
import org.quarterlight.fleet.SmallGlasses;
import org.quarterlight.fleet.VehicleExport;
import org.quarterlight.fleet.VehicleFilter;
import org.quarterlight.fleet.VehicleView;
import org.quarterlight.fleet.WindscreenView;
import org.quarterlight.glass.VehicleCategory;
import org.quarterlight.web.CsvFile;
import org.quarterlight.web.IfMatch;
import org.quarterlight.web.MergePatch;
import org.quarterlight.web.Slice;
import org.quarterlight.web.SliceRequest;
import org.springframework.http.ContentDisposition;
import org.springframework.http.HttpHeaders;
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
@RequestMapping("/api/v1/vehicles")
class VehicleApi {
    private final Fleet fleet;
    private final SmallGlasses glasses;
    private final VehicleExport export;
    private final MergePatch patches;

    VehicleApi(Fleet fleet, VehicleExport export, MergePatch patches, SmallGlasses glasses) {
        this.glasses = glasses;
        this.fleet = fleet;
        this.export = export;
        this.patches = patches;
    }

    /** Why somebody puts a vehicle back on the road. */
    record Reason(@NotBlank @Size(max = 500) String reason) {}

    /** Which pattern the fitted glass really has. */
    record Glass(@NotNull UUID pattern) {}

    /**
     * A vehicle of a list.
     *
     * @param growsPastLimitOn where a damage is expected to pass a limit before somebody sees to it, the first day of that
     */
    record ListedVehicle(
            @JsonUnwrapped VehicleView vehicle, @Nullable LocalDate growsPastLimitOn) {}

    @GetMapping
    Slice<ListedVehicle> list(
            @RequestParam(required = false) @Nullable String search,
            @RequestParam(required = false) @Nullable UUID depot,
            @RequestParam(required = false) @Nullable VehicleCategory category,
            @RequestParam(required = false) @Nullable Boolean damaged,
            @RequestParam(required = false) @Nullable Outcome worst,
            @RequestParam(required = false) @Nullable Boolean standsDown,
            @RequestParam(required = false) @Nullable Boolean notToBeDriven,
            @RequestParam(required = false) VehicleFilter.@Nullable Sort sort,
            SliceRequest wanted) {
        var found = fleet.vehicles(
                new VehicleFilter(search, depot, category, damaged, worst, standsDown, notToBeDriven, sort), wanted);
        var growing =
                glasses.growing(found.items().stream().map(VehicleView::id).toList());
        return found.map(vehicle -> new ListedVehicle(vehicle, growing.get(vehicle.id())));
    }

    @PostMapping
    @ResponseStatus(HttpStatus.CREATED)
    ResponseEntity<VehicleView> create(@Valid @RequestBody SaveVehicle command) {
        var vehicle = fleet.create(command);
        var address =
                ServletUriComponentsBuilder.fromCurrentRequest().path("/{id}").build(vehicle.id());
        return ResponseEntity.created(address)
                .eTag(Integer.toString(vehicle.version()))
                .body(vehicle);
    }

    @GetMapping("/{id}")
    ResponseEntity<VehicleView> read(@PathVariable UUID id) {
        return answer(fleet.read(id));
    }

    @PatchMapping("/{id}")
    ResponseEntity<VehicleView> change(
            @PathVariable UUID id,
            @io.swagger.v3.oas.annotations.parameters.RequestBody(
                            content = @Content(schema = @Schema(implementation = SaveVehicle.class)))
                    @RequestBody
                    ObjectNode change,
            IfMatch version) {
        var command = patches.apply(SaveVehicle.of(fleet.read(id)), change, SaveVehicle.class);
        return answer(fleet.change(id, command, version.version()));
    }

    @DeleteMapping("/{id}")
    @ResponseStatus(HttpStatus.NO_CONTENT)
    void retire(@PathVariable UUID id, IfMatch version) {
        fleet.retire(id, version.version());
    }

    /** The pieces of glass that the vehicle carried, the present one first: few, so the list has one part. */
    @GetMapping("/{id}/windscreens")
    Slice<WindscreenView> windscreens(@PathVariable UUID id) {
        fleet.read(id);
        return new Slice<>(fleet.windscreens(id), null);
    }

    @PostMapping("/{id}/windscreens")
    @ResponseStatus(HttpStatus.CREATED)
    WindscreenView fit(@PathVariable UUID id, @Valid @RequestBody FitWindscreen command) {
        return fleet.fit(id, command);
    }

    /** Corrects which pattern the fitted glass has; the glass stays the same. */
    @PostMapping("/{id}/glass-pattern")
    WindscreenView assign(@PathVariable UUID id, @Valid @RequestBody Glass glass) {
        return fleet.assignPattern(id, glass.pattern());
    }

    @PostMapping("/{id}/clear-stand-down")
    ResponseEntity<VehicleView> clear(@PathVariable UUID id, @Valid @RequestBody Reason reason) {
        return answer(fleet.clearStandDown(id, reason.reason()));
    }

    /** The fleet, or what the filters of the list leave of it, as CSV in the shape that the import takes. */
    @GetMapping(path = "/export", produces = "text/csv")
    void export(
            @RequestParam(required = false) @Nullable String search,
            @RequestParam(required = false) @Nullable UUID depot,
            @RequestParam(required = false) @Nullable VehicleCategory category,
            @RequestParam(required = false) @Nullable Boolean damaged,
            @RequestParam(required = false) @Nullable Outcome worst,
            @RequestParam(required = false) @Nullable Boolean standsDown,
            @RequestParam(required = false) @Nullable Boolean notToBeDriven,
            @RequestParam(required = false) VehicleFilter.@Nullable Sort sort,
            @RequestParam(required = false) CsvFile.@Nullable Separator separator,
            HttpServletResponse response)
            throws IOException {
        export.write(
                new VehicleFilter(search, depot, category, damaged, worst, standsDown, notToBeDriven, sort),
                () -> {
                    response.setContentType("text/csv;charset=UTF-8");
                    response.setHeader(
                            HttpHeaders.CONTENT_DISPOSITION,
                            ContentDisposition.attachment()
                                    .filename("vehicles.csv")
                                    .build()
                                    .toString());
                    return response.getOutputStream();
                },
                CsvFile.Separator.of(separator));
    }

    private static ResponseEntity<VehicleView> answer(VehicleView vehicle) {
        return ResponseEntity.ok().eTag(Integer.toString(vehicle.version())).body(vehicle);
    }
}

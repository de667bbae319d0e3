package org.quarterlight.damage.web;

import io.swagger.v3.oas.annotations.Operation;
import io.swagger.v3.oas.annotations.Parameter;
import java.math.BigDecimal;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.damage.PermittedMap;
import org.quarterlight.damage.PermittedMaps;
import org.quarterlight.glass.DamageKind;
import org.quarterlight.glass.GlassDrawing;
import org.quarterlight.glass.VehicleCategory;
import org.springframework.http.ResponseEntity;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.RestController;

/** Where on a glass a damage may be repaired, as numbers and as a picture. */
@RestController
@RequestMapping("/api/v1/glass-patterns/{id}")
class PermittedApi {
    private static final String KIND = "The kind of damage";
    private static final String SIZE = "Its largest distance across, mm";
    private static final String SHEET = "One repair sheet; left out, those by which this glass is judged";
    private static final String CATEGORY =
            "For which vehicles; left out, the one that carries this glass, or M1 where none does";

    private final PermittedMaps maps;

    PermittedApi(PermittedMaps maps) {
        this.maps = maps;
    }

    /** Which inks a map that stands alone has. */
    enum MapLook {
        LIGHT,
        DARK,
        PRINT
    }

    @Operation(
            description = "Where a round damage of this kind and size may be repaired, as a share of the wiped area,"
                    + " with what was taken for granted and which rules the map leaves out. The longest leg is taken as"
                    + " half the size, a crack as straight.")
    @GetMapping("/permitted")
    PermittedMap map(
            @PathVariable UUID id,
            @Parameter(description = KIND, required = true) @RequestParam(required = false) @Nullable DamageKind kind,
            @Parameter(description = SIZE, required = true) @RequestParam(required = false) @Nullable
                    BigDecimal diameterMm,
            @Parameter(description = SHEET) @RequestParam(required = false) @Nullable String ruleSheet,
            @Parameter(description = CATEGORY) @RequestParam(required = false) @Nullable VehicleCategory category) {
        return maps.of(id, asked(kind, diameterMm, ruleSheet, category)).map();
    }

    @Operation(description = "The same drawn on the glass; stands alone, colours resolved. Its title tells the share.")
    @GetMapping(path = "/permitted.svg", produces = "image/svg+xml")
    ResponseEntity<String> drawing(
            @PathVariable UUID id,
            @Parameter(description = KIND, required = true) @RequestParam(required = false) @Nullable DamageKind kind,
            @Parameter(description = SIZE, required = true) @RequestParam(required = false) @Nullable
                    BigDecimal diameterMm,
            @Parameter(description = SHEET) @RequestParam(required = false) @Nullable String ruleSheet,
            @Parameter(description = CATEGORY) @RequestParam(required = false) @Nullable VehicleCategory category,
            @RequestParam(required = false) @Nullable MapLook look) {
        var drawn = maps.of(id, asked(kind, diameterMm, ruleSheet, category));
        var inks = look == null ? GlassDrawing.Look.LIGHT : GlassDrawing.Look.valueOf(look.name());
        return ResponseEntity.ok(
                drawn.drawing().size(GlassDrawing.Size.L).look(inks).svg());
    }

    private static PermittedMap.Asked asked(
            @Nullable DamageKind kind,
            @Nullable BigDecimal diameterMm,
            @Nullable String ruleSheet,
            @Nullable VehicleCategory category) {
        return new PermittedMap.Asked(kind, diameterMm == null ? null : diameterMm.doubleValue(), ruleSheet, category);
    }
}

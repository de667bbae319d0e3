package org.quarterlight.damage.web;

import io.swagger.v3.oas.annotations.Operation;
import jakarta.validation.Valid;
import java.net.URI;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.damage.PreviewSheet;
import org.quarterlight.damage.PreviewView;
import org.quarterlight.damage.PreviewedDamage;
import org.quarterlight.damage.SheetPreviews;
import org.quarterlight.eligibility.Outcome;
import org.quarterlight.web.Slice;
import org.quarterlight.web.SliceRequest;
import org.springframework.http.ResponseEntity;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestBody;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.RestController;

@RestController
@RequestMapping("/api/v1/rule-sheets")
class SheetPreviewApi {
    private final SheetPreviews previews;

    SheetPreviewApi(SheetPreviews previews) {
        this.previews = previews;
    }

    @Operation(
            summary = "What a sheet would make of the fleet's open damages",
            description =
                    "Judges all of them by the present sheets and with this one in the place of another, at the same"
                            + " moment; nothing is changed. Of a sheet of one's own the newest version is tried, be it a"
                            + " draft. What ends within some seconds is answered (200), all else goes on by itself (202):"
                            + " ask the address in `Location` how far it is. `cells` count damages from outcome to"
                            + " outcome; `cost` reckons with `/rule-sheets/cost-rates` and is null where the fleet has not"
                            + " said them.")
    @PostMapping("/{id}/preview")
    ResponseEntity<PreviewView> start(
            @PathVariable String id, @Valid @RequestBody(required = false) @Nullable PreviewSheet command) {
        var made = previews.start(id, command == null ? new PreviewSheet(null) : command);
        var address = URI.create("/api/v1/rule-sheets/previews/" + made.id());
        return made.state().ended()
                ? ResponseEntity.ok().location(address).body(made)
                : ResponseEntity.accepted().location(address).body(made);
    }

    @Operation(summary = "Previews, newest first", description = "Without their cells. The newest 20 are kept.")
    @GetMapping("/previews")
    Slice<PreviewView> list(SliceRequest wanted) {
        return previews.list(wanted);
    }

    @GetMapping("/previews/{preview}")
    PreviewView read(@PathVariable UUID preview) {
        return previews.read(preview);
    }

    @Operation(summary = "The damages behind a cell", description = "All of them where no outcome is named.")
    @GetMapping("/previews/{preview}/damages")
    Slice<PreviewedDamage> damages(
            @PathVariable UUID preview,
            @RequestParam(required = false) @Nullable Outcome from,
            @RequestParam(required = false) @Nullable Outcome to,
            SliceRequest wanted) {
        return previews.damages(preview, from, to, wanted);
    }

    @Operation(
            summary = "Stop a preview",
            description = "What was judged so far stays to be seen. Nothing changes where it has ended.")
    @PostMapping("/previews/{preview}/cancel")
    PreviewView cancel(@PathVariable UUID preview) {
        return previews.cancel(preview);
    }
}

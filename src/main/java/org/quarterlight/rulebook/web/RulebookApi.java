package org.quarterlight.rulebook.web;

import io.swagger.v3.oas.annotations.media.Content;
import io.swagger.v3.oas.annotations.media.Schema;
import io.swagger.v3.oas.annotations.responses.ApiResponse;
import jakarta.validation.Valid;
import java.time.LocalDate;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.quarterlight.eligibility.Question;
import org.quarterlight.eligibility.Sheet;
import org.quarterlight.eligibility.Status;
import org.quarterlight.eligibility.VehicleTest;
import org.quarterlight.rulebook.ChooseRules;
import org.quarterlight.rulebook.ChosenRules;
import org.quarterlight.rulebook.Rulebook;
import org.quarterlight.web.IfMatch;
import org.quarterlight.web.Slice;
import org.springframework.http.MediaType;
import org.springframework.http.ResponseEntity;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PatchMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.RequestBody;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RestController;

@RestController
@RequestMapping("/api/v1/rule-sheets")
class RulebookApi {
    private final Rulebook rulebook;

    RulebookApi(Rulebook rulebook) {
        this.rulebook = rulebook;
    }

    /** A sheet in a list: everything but its rules. */
    record SheetSummary(
            String id,
            String name,
            int version,
            Question question,
            @Nullable String country,
            @Nullable String subdivision,
            List<VehicleTest> vehicles,
            LocalDate validFrom,
            boolean onlyByChoice,
            Status weakestSource,
            int limits) {
        static SheetSummary of(Sheet sheet) {
            return new SheetSummary(
                    sheet.id(),
                    sheet.name(),
                    sheet.version(),
                    sheet.question(),
                    sheet.country(),
                    sheet.subdivision(),
                    sheet.vehicles(),
                    sheet.validFrom(),
                    sheet.onlyByChoice(),
                    sheet.weakestStatus(),
                    sheet.rules().size());
        }
    }

    /** All of them: there are few, so the list has one part. */
    @GetMapping
    Slice<SheetSummary> list() {
        return new Slice<>(rulebook.sheets().stream().map(SheetSummary::of).toList(), null);
    }

    /** The sheet itself, as it was published. */
    @ApiResponse(
            responseCode = "200",
            content =
                    @Content(
                            mediaType = MediaType.APPLICATION_JSON_VALUE,
                            schema = @Schema(type = "object", description = "As in the schema of sheets")))
    @GetMapping(path = "/{id}", produces = MediaType.APPLICATION_JSON_VALUE)
    String read(@PathVariable String id) {
        return rulebook.text(id);
    }

    @GetMapping("/chosen")
    ResponseEntity<ChosenRules> chosen() {
        return answer(rulebook.chosen());
    }

    @PatchMapping("/chosen")
    ResponseEntity<ChosenRules> choose(@Valid @RequestBody ChooseRules command, IfMatch version) {
        return answer(rulebook.choose(command, version.version()));
    }

    private static ResponseEntity<ChosenRules> answer(ChosenRules chosen) {
        return ResponseEntity.ok().eTag(Integer.toString(chosen.version())).body(chosen);
    }
}

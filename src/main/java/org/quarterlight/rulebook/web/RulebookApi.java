package org.quarterlight.rulebook.web;

import io.swagger.v3.oas.annotations.Operation;
import io.swagger.v3.oas.annotations.media.Content;
import io.swagger.v3.oas.annotations.media.Schema;
import io.swagger.v3.oas.annotations.responses.ApiResponse;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.validation.Valid;
import jakarta.validation.constraints.Size;
import java.io.IOException;
import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.time.LocalDate;
import java.util.List;
import java.util.Objects;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.quarterlight.eligibility.Bound;
import org.quarterlight.eligibility.Disagreement;
import org.quarterlight.eligibility.Grade;
import org.quarterlight.eligibility.Quantity;
import org.quarterlight.eligibility.Question;
import org.quarterlight.eligibility.Rule;
import org.quarterlight.eligibility.Sheet;
import org.quarterlight.eligibility.SheetReference;
import org.quarterlight.eligibility.Sheets;
import org.quarterlight.eligibility.Source;
import org.quarterlight.eligibility.Status;
import org.quarterlight.eligibility.VehicleTest;
import org.quarterlight.glass.DamageKind;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.kernel.InvalidText.Mistake;
import org.quarterlight.rulebook.ChooseRules;
import org.quarterlight.rulebook.ChosenRules;
import org.quarterlight.rulebook.CostRates;
import org.quarterlight.rulebook.OwnSheet;
import org.quarterlight.rulebook.OwnSheets;
import org.quarterlight.rulebook.PublishSheet;
import org.quarterlight.rulebook.Readings;
import org.quarterlight.rulebook.Rulebook;
import org.quarterlight.rulebook.SaveCostRates;
import org.quarterlight.web.IfMatch;
import org.quarterlight.web.MergePatch;
import org.quarterlight.web.Slice;
import org.springframework.http.HttpStatus;
import org.springframework.http.InvalidMediaTypeException;
import org.springframework.http.MediaType;
import org.springframework.http.ResponseEntity;
import org.springframework.web.HttpMediaTypeNotSupportedException;
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
import org.springframework.web.multipart.MaxUploadSizeExceededException;
import org.springframework.web.servlet.support.ServletUriComponentsBuilder;
import tools.jackson.databind.node.ObjectNode;

@RestController
@RequestMapping("/api/v1/rule-sheets")
class RulebookApi {
    private static final int LARGEST_BYTES = 1 << 19;

    private final Rulebook rulebook;
    private final OwnSheets own;
    private final Readings readings;
    private final MergePatch patch;

    RulebookApi(Rulebook rulebook, OwnSheets own, Readings readings, MergePatch patch) {
        this.readings = readings;
        this.patch = patch;
        this.rulebook = rulebook;
        this.own = own;
    }

    /** A sheet in a list: everything but its rules. Of one's own there is an item for each version. */
    record SheetSummary(
            String id,
            String name,
            int version,
            Question question,
            @Nullable String country,
            @Nullable String subdivision,
            List<String> alsoIn,
            List<VehicleTest> vehicles,
            LocalDate validFrom,
            boolean onlyByChoice,
            @Nullable Disagreement disagreement,
            Status weakestSource,
            int limits,
            Origin origin,
            boolean judges,
            @Nullable String startedAs,
            List<Mistake> mistakes) {
        static SheetSummary of(Sheet sheet) {
            return of(sheet, Origin.SHIPPED, true, null, List.of());
        }

        private static SheetSummary of(
                Sheet sheet, Origin origin, boolean judges, @Nullable String startedAs, List<Mistake> mistakes) {
            return new SheetSummary(
                    sheet.id(),
                    sheet.name(),
                    sheet.version(),
                    sheet.question(),
                    sheet.country(),
                    sheet.subdivision(),
                    sheet.alsoIn(),
                    sheet.vehicles(),
                    sheet.validFrom(),
                    sheet.onlyByChoice(),
                    sheet.disagreement(),
                    sheet.weakestStatus(),
                    sheet.rules().size(),
                    origin,
                    judges,
                    startedAs,
                    mistakes);
        }

        static SheetSummary of(OwnSheet own, boolean judges) {
            return of(
                    own.sheet(),
                    own.draft() ? Origin.DRAFT : Origin.PUBLISHED,
                    judges,
                    own.startedAs(),
                    own.mistakes());
        }
    }

    /** Whose sheet it is, and of one's own whether it may still change. */
    enum Origin {
        SHIPPED,
        DRAFT,
        PUBLISHED
    }

    @Operation(
            summary = "Rule sheets",
            description =
                    "The shipped ones, then the organisation's own with an item for each version, the newest first."
                            + " `judges` is true where it may be chosen: a version of one's own from its day on, until the"
                            + " next. `mistakes` is what would be refused today in a version that was kept before: it"
                            + " judges as it was published, until it is corrected in the next. There are few sheets, so"
                            + " the list has one part.")
    @GetMapping
    Slice<SheetSummary> list() {
        var judging = rulebook.sheets().stream().map(Sheet::reference).collect(Collectors.toSet());
        return new Slice<>(
                Stream.concat(
                                Sheets.shipped().stream().map(SheetSummary::of),
                                own.all().stream()
                                        .map(each -> SheetSummary.of(
                                                each,
                                                judging.contains(each.sheet().reference()))))
                        .toList(),
                null);
    }

    @Operation(
            summary = "Write a sheet of one's own",
            description = "The body is a whole sheet as in the schema of sheets; the service gives it an id and the"
                    + " number 1. Without a body `from` names the sheet to copy, shipped or one's own, and `name` the"
                    + " copy. The answer is a draft. What is wrong with a sheet is told all at once: each of `errors`"
                    + " has `field`, `line` and `message`.")
    @io.swagger.v3.oas.annotations.parameters.RequestBody(
            content =
                    @Content(
                            mediaType = MediaType.APPLICATION_JSON_VALUE,
                            schema = @Schema(type = "object", description = "As in the schema of sheets")))
    @ApiResponse(
            responseCode = "201",
            content =
                    @Content(
                            mediaType = MediaType.APPLICATION_JSON_VALUE,
                            schema = @Schema(type = "object", description = "The draft")))
    @PostMapping(produces = MediaType.APPLICATION_JSON_VALUE)
    @ResponseStatus(HttpStatus.CREATED)
    ResponseEntity<String> create(
            @RequestParam(required = false) @Nullable String from,
            @RequestParam(required = false) @Size(max = 120) @Nullable String name,
            HttpServletRequest request)
            throws IOException, HttpMediaTypeNotSupportedException {
        var text = text(request);
        if (!text.isBlank() && !isJson(request.getContentType())) {
            throw new HttpMediaTypeNotSupportedException("A sheet is sent as application/json");
        }
        if (text.isBlank() && from == null) {
            throw new Invalid("from", "Send a sheet, or name the one to copy");
        }
        var made = text.isBlank() ? own.copy(Objects.requireNonNull(from), name) : own.create(text, from);
        var address = ServletUriComponentsBuilder.fromCurrentRequest()
                .replaceQuery(null)
                .path("/{id}")
                .build(made.id());
        return ResponseEntity.created(address)
                .eTag(Integer.toString(made.version()))
                .body(made.text());
    }

    private static boolean isJson(@Nullable String contentType) {
        try {
            if (contentType == null) {
                return false;
            }
            var type = MediaType.parseMediaType(contentType);
            return MediaType.APPLICATION_JSON.isCompatibleWith(type) || "json".equals(type.getSubtypeSuffix());
        } catch (InvalidMediaTypeException e) {
            return false;
        }
    }

    private static String text(HttpServletRequest request) throws IOException {
        var bytes = request.getInputStream().readNBytes(LARGEST_BYTES + 1);
        if (bytes.length > LARGEST_BYTES) {
            throw new MaxUploadSizeExceededException(LARGEST_BYTES);
        }
        return new String(bytes, StandardCharsets.UTF_8);
    }

    @Operation(
            summary = "A sheet as it was written",
            description =
                    "Of one's own the newest version, a draft where there is one, or the one that `version` names."
                            + " A draft has an `ETag` for its change.")
    @ApiResponse(
            responseCode = "200",
            content =
                    @Content(
                            mediaType = MediaType.APPLICATION_JSON_VALUE,
                            schema = @Schema(type = "object", description = "As in the schema of sheets")))
    @GetMapping(path = "/{id}", produces = MediaType.APPLICATION_JSON_VALUE)
    ResponseEntity<String> read(@PathVariable String id, @RequestParam(required = false) @Nullable Integer version) {
        var shipped = version == null ? Sheets.versions(id).stream().findFirst() : Sheets.version(id, version);
        if (shipped.isPresent()) {
            return ResponseEntity.ok()
                    .eTag(Integer.toString(shipped.get().version()))
                    .body(Sheets.textOf(id, shipped.get().version()));
        }
        return answer(version == null ? own.versions(id).getFirst() : own.version(id, version));
    }

    @Operation(
            summary = "Change a draft",
            description =
                    "A merge of the sheet; lists such as `rules` are replaced as a whole. Mistakes name the lines of"
                            + " the sheet as it would then read. 409 where it is published or shipped.")
    @ApiResponse(
            responseCode = "200",
            content =
                    @Content(
                            mediaType = MediaType.APPLICATION_JSON_VALUE,
                            schema = @Schema(type = "object", description = "The draft")))
    @io.swagger.v3.oas.annotations.parameters.RequestBody(
            content = @Content(mediaType = MediaType.APPLICATION_JSON_VALUE, schema = @Schema(type = "object")))
    @PatchMapping(path = "/{id}", produces = MediaType.APPLICATION_JSON_VALUE)
    ResponseEntity<String> change(@PathVariable String id, HttpServletRequest request, IfMatch version)
            throws IOException, HttpMediaTypeNotSupportedException {
        var change = text(request);
        if (!isJson(request.getContentType())) {
            throw new HttpMediaTypeNotSupportedException("A change is sent as application/json");
        }
        return answer(own.change(id, change, version.version()));
    }

    @Operation(
            summary = "Throw a draft away",
            description =
                    "The sheet goes with it where nothing of it is published. 409 where there is no draft: what is"
                            + " published stays.")
    @DeleteMapping("/{id}")
    @ResponseStatus(HttpStatus.NO_CONTENT)
    void delete(@PathVariable String id, IfMatch version) {
        own.delete(id, version.version());
    }

    @Operation(
            summary = "Start the next version of a published sheet",
            description =
                    "A draft that says what the newest published version says. 409 where there is a draft already.")
    @ApiResponse(
            responseCode = "201",
            content =
                    @Content(
                            mediaType = MediaType.APPLICATION_JSON_VALUE,
                            schema = @Schema(type = "object", description = "The draft")))
    @PostMapping(path = "/{id}/versions", produces = MediaType.APPLICATION_JSON_VALUE)
    @ResponseStatus(HttpStatus.CREATED)
    ResponseEntity<String> startVersion(@PathVariable String id) {
        var draft = own.startVersion(id);
        return ResponseEntity.created(URI.create("/api/v1/rule-sheets/" + id))
                .eTag(Integer.toString(draft.version()))
                .body(draft.text());
    }

    @Operation(
            summary = "Publish a draft",
            description =
                    "From the beginning of that day where the organisation is it judges, and open damages are judged"
                            + " again where it is chosen. It never changes any more.")
    @ApiResponse(
            responseCode = "200",
            content =
                    @Content(
                            mediaType = MediaType.APPLICATION_JSON_VALUE,
                            schema = @Schema(type = "object", description = "The sheet")))
    @PostMapping(path = "/{id}/publish", produces = MediaType.APPLICATION_JSON_VALUE)
    ResponseEntity<String> publish(
            @PathVariable String id, @Valid @RequestBody PublishSheet command, @Nullable IfMatch version) {
        return answer(own.publish(id, command, version == null ? null : version.version()));
    }

    /** One limit of a shipped sheet, with all that is known of it. */
    record ShippedLimit(
            SheetReference sheet,
            Question question,
            @Nullable String country,
            @Nullable String subdivision,
            List<VehicleTest> sheetVehicles,
            String rule,
            Set<DamageKind> kinds,
            List<VehicleTest> vehicles,
            @Nullable String where,
            @Nullable String zone,
            Quantity quantity,
            Bound bound,
            @Nullable Double limitMm,
            @Nullable Integer limitCount,
            List<String> allowed,
            String sentence,
            @Nullable Grade ifBroken,
            boolean countsFinishedRepairs,
            boolean onlyFinishedRepairs,
            @Nullable Double togetherWithinMm,
            @Nullable String note,
            Source source) {
        private static Stream<ShippedLimit> of(Sheet sheet) {
            var limits = new SheetWords(sheet).limits();
            return IntStream.range(0, limits.size())
                    .mapToObj(i -> of(sheet, sheet.rules().get(i), limits.get(i)));
        }

        private static ShippedLimit of(Sheet sheet, Rule rule, SheetWords.Limit words) {
            return new ShippedLimit(
                    sheet.reference(),
                    sheet.question(),
                    sheet.country(),
                    sheet.subdivision(),
                    sheet.vehicles(),
                    rule.name(),
                    rule.kinds(),
                    rule.vehicles(),
                    rule.where(),
                    words.zone().isEmpty() ? null : words.zone(),
                    rule.quantity(),
                    rule.bound(),
                    rule.limitMm(),
                    rule.limitCount(),
                    rule.allowed(),
                    words.limit(),
                    rule.ifBroken(),
                    rule.countsFinishedRepairs(),
                    rule.onlyFinishedRepairs(),
                    rule.togetherWithinMm(),
                    rule.note(),
                    rule.source());
        }
    }

    @Operation(
            summary = "Every limit of every shipped sheet",
            description = "With its source, edition and section, how well that is known and when it was checked;"
                    + " `zone` says in words how the zone `where` is found, `sentence` what the limit asks. The list has"
                    + " one part.")
    @GetMapping("/limits")
    Slice<ShippedLimit> limits() {
        return new Slice<>(Sheets.shipped().stream().flatMap(ShippedLimit::of).toList(), null);
    }

    @Operation(
            summary = "Where sources of the shipped sheets disagree",
            description =
                    "Those conflicts that matter in the countries of the depots, or by whose sheets is judged. Each"
                            + " reading is a sheet of its own: `judges` where a vehicle of the organisation's may be judged"
                            + " by it, `starts` where an organisation begins with it, for the reason that `startsBecause`"
                            + " gives. Another is taken by choosing its sheet instead. There are few, so the list has one"
                            + " part.")
    @GetMapping("/disagreements")
    Slice<Readings.Conflict> disagreements() {
        return new Slice<>(readings.here(), null);
    }

    @GetMapping("/chosen")
    ResponseEntity<ChosenRules> chosen() {
        return answer(rulebook.chosen());
    }

    @PatchMapping("/chosen")
    ResponseEntity<ChosenRules> choose(@Valid @RequestBody ChooseRules command, IfMatch version) {
        return answer(rulebook.choose(command, version.version()));
    }

    @Operation(
            summary = "What a repair and a replacement cost the fleet",
            description = "Averages of its own, with which a preview reckons. Null until somebody has said them.")
    @GetMapping("/cost-rates")
    ResponseEntity<CostRates> costRates() {
        return answer(rulebook.costRates());
    }

    @PatchMapping("/cost-rates")
    ResponseEntity<CostRates> reckonWith(
            @io.swagger.v3.oas.annotations.parameters.RequestBody(
                            content = @Content(schema = @Schema(implementation = SaveCostRates.class)))
                    @RequestBody
                    ObjectNode change,
            IfMatch version) {
        var command = patch.apply(SaveCostRates.of(rulebook.costRates()), change, SaveCostRates.class);
        return answer(rulebook.reckonWith(command, version.version()));
    }

    private static ResponseEntity<CostRates> answer(CostRates rates) {
        return ResponseEntity.ok().eTag(Integer.toString(rates.version())).body(rates);
    }

    private static ResponseEntity<ChosenRules> answer(ChosenRules chosen) {
        return ResponseEntity.ok().eTag(Integer.toString(chosen.version())).body(chosen);
    }

    private static ResponseEntity<String> answer(OwnSheet sheet) {
        return ResponseEntity.ok().eTag(Integer.toString(sheet.version())).body(sheet.text());
    }
}

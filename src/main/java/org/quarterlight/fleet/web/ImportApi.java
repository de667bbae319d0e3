package org.quarterlight.fleet.web;

import com.fasterxml.jackson.annotation.JsonProperty;
import io.swagger.v3.oas.annotations.media.Content;
import io.swagger.v3.oas.annotations.media.Schema;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.io.IOException;
import java.net.URI;
import java.time.Clock;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.UUID;
import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.ScheduledFuture;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicReference;
import org.jspecify.annotations.Nullable;
import org.quarterlight.fleet.ImportDefaults;
import org.quarterlight.fleet.ImportMode;
import org.quarterlight.fleet.ImportRow;
import org.quarterlight.fleet.ImportState;
import org.quarterlight.fleet.ImportView;
import org.quarterlight.fleet.VehicleImports;
import org.quarterlight.fleet.list.ListRefused;
import org.quarterlight.glass.SteeringSide;
import org.quarterlight.glass.VehicleCategory;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.tenancy.Tenants;
import org.quarterlight.web.ActingAuthentication;
import org.quarterlight.web.Slice;
import org.quarterlight.web.SliceRequest;
import org.springframework.beans.factory.DisposableBean;
import org.springframework.http.ContentDisposition;
import org.springframework.http.HttpHeaders;
import org.springframework.http.HttpStatus;
import org.springframework.http.MediaType;
import org.springframework.http.ProblemDetail;
import org.springframework.http.ResponseEntity;
import org.springframework.security.core.context.SecurityContextHolder;
import org.springframework.web.bind.annotation.ExceptionHandler;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.RequestPart;
import org.springframework.web.bind.annotation.RestController;
import org.springframework.web.multipart.MultipartFile;
import org.springframework.web.servlet.mvc.method.annotation.SseEmitter;

@RestController
class ImportApi implements DisposableBean {
    private static final int TOLD_AT_ONCE = 100;
    private static final long LOOK_EVERY_MS = 500;
    private static final long FOLLOWED_AT_MOST_MS = TimeUnit.MINUTES.toMillis(15);

    private final VehicleImports imports;
    private final Clock clock;
    private final ScheduledExecutorService watch = Executors.newSingleThreadScheduledExecutor(
            Thread.ofPlatform().name("import-progress").daemon().factory());

    ImportApi(VehicleImports imports, Clock clock) {
        this.imports = imports;
        this.clock = clock;
    }

    /** An import with the first of its bad rows. */
    record ImportAnswer(@JsonProperty("import") ImportView made, Slice<ImportRow> badRows) {}

    @io.swagger.v3.oas.annotations.parameters.RequestBody(
            required = true,
            content = @Content(mediaType = "text/csv", schema = @Schema(type = "string", format = "binary")))
    @PostMapping(
            path = "/api/v1/vehicles/import",
            consumes = {"text/csv", "text/plain", "application/csv"})
    ResponseEntity<?> take(
            @RequestParam ImportMode mode,
            @RequestParam(required = false) @Nullable UUID depot,
            @RequestParam(required = false) @Nullable VehicleCategory category,
            @RequestParam(required = false) @Nullable SteeringSide steeringSide,
            @RequestParam(required = false) @Nullable String fileName,
            HttpServletRequest request)
            throws IOException {
        return answer(imports.take(
                mode,
                new ImportDefaults(depot, category, steeringSide),
                Objects.requireNonNullElse(fileName, ""),
                request.getInputStream()));
    }

    @PostMapping(path = "/api/v1/vehicles/import", consumes = MediaType.MULTIPART_FORM_DATA_VALUE)
    ResponseEntity<?> take(
            @RequestParam ImportMode mode,
            @RequestParam(required = false) @Nullable UUID depot,
            @RequestParam(required = false) @Nullable VehicleCategory category,
            @RequestParam(required = false) @Nullable SteeringSide steeringSide,
            @RequestPart MultipartFile file)
            throws IOException {
        try (var content = file.getInputStream()) {
            return answer(imports.take(
                    mode,
                    new ImportDefaults(depot, category, steeringSide),
                    Objects.requireNonNullElse(file.getOriginalFilename(), ""),
                    content));
        }
    }

    @GetMapping("/api/v1/imports")
    Slice<ImportView> list(SliceRequest wanted) {
        return imports.list(wanted);
    }

    @GetMapping("/api/v1/imports/{id}")
    ImportAnswer read(@PathVariable UUID id) {
        return whole(imports.read(id));
    }

    @GetMapping("/api/v1/imports/{id}/rows")
    Slice<ImportRow> rows(
            @PathVariable UUID id, @RequestParam(defaultValue = "bad") ImportRow.Kind kind, SliceRequest wanted) {
        return imports.rows(id, kind, wanted);
    }

    /** Takes a list that was looked over, as it was sent then. */
    @PostMapping("/api/v1/imports/{id}/take")
    ResponseEntity<?> again(@PathVariable UUID id, @RequestParam ImportMode mode) throws IOException {
        return answer(imports.again(id, mode));
    }

    /** The rows that were kept out, with the reason in the last column. */
    @GetMapping(path = "/api/v1/imports/{id}/rejected.csv", produces = "text/csv")
    void rejected(@PathVariable UUID id, HttpServletResponse response) throws IOException {
        imports.writeRejected(id, () -> {
            response.setContentType("text/csv;charset=UTF-8");
            response.setHeader(
                    HttpHeaders.CONTENT_DISPOSITION,
                    ContentDisposition.attachment()
                            .filename("rejected.csv")
                            .build()
                            .toString());
            return response.getOutputStream();
        });
    }

    /** Tells how far it is, and once that it has ended. */
    @GetMapping(path = "/api/v1/imports/{id}/events", produces = MediaType.TEXT_EVENT_STREAM_VALUE)
    SseEmitter events(@PathVariable UUID id) {
        imports.read(id);
        var emitter = new SseEmitter(FOLLOWED_AT_MOST_MS);
        var acting = Acting.require();
        var task = new AtomicReference<@Nullable ScheduledFuture<?>>();
        Runnable stop = () -> {
            var running = task.get();
            if (running != null) {
                running.cancel(false);
            }
        };
        emitter.onCompletion(stop);
        emitter.onTimeout(stop);
        emitter.onError(failure -> stop.run());
        task.set(watch.scheduleWithFixedDelay(
                () -> {
                    try {
                        if (tell(emitter, readAs(acting, id))) {
                            stop.run();
                        }
                    } catch (IOException | RuntimeException gone) {
                        stop.run();
                        emitter.complete();
                    }
                },
                0,
                LOOK_EVERY_MS,
                TimeUnit.MILLISECONDS));
        return emitter;
    }

    /** How far an import is. */
    record Progress(int done, int total, @Nullable Long secondsLeft) {}

    private boolean tell(SseEmitter emitter, ImportView made) throws IOException {
        emitter.send(SseEmitter.event()
                .name("progress")
                .data(new Progress(made.done(), made.total(), made.secondsLeft(clock.instant()))));
        if (!made.state().ended()) {
            return false;
        }
        emitter.send(SseEmitter.event().name("end").data(Map.of("location", "/imports/" + made.id())));
        emitter.complete();
        return true;
    }

    private ImportView readAs(Acting acting, UUID id) {
        var context = SecurityContextHolder.createEmptyContext();
        context.setAuthentication(new ActingAuthentication(acting));
        SecurityContextHolder.setContext(context);
        try {
            return Tenants.callAs(acting.organisation(), () -> imports.read(id));
        } finally {
            SecurityContextHolder.clearContext();
        }
    }

    /** 200 where it is done, 202 where it goes on by itself, 422 where a bad row kept all others out. */
    private ResponseEntity<?> answer(ImportView made) {
        var address = URI.create("/api/v1/imports/" + made.id());
        if (made.state() == ImportState.REFUSED) {
            record FieldProblem(String field, String message) {}
            var problem = ProblemDetail.forStatusAndDetail(HttpStatus.UNPROCESSABLE_CONTENT, made.problem());
            problem.setType(URI.create("/problems/bad-rows"));
            problem.setProperty("import", made.id());
            problem.setProperty(
                    "errors",
                    bad(made).items().stream()
                            .flatMap(row -> row.problems().stream()
                                    .map(each -> new FieldProblem(
                                            "row " + row.number() + ", " + each.column(), each.reason())))
                            .toList());
            return ResponseEntity.unprocessableContent().location(address).body(problem);
        }
        return made.state().ended()
                ? ResponseEntity.ok().location(address).body(whole(made))
                : ResponseEntity.accepted().location(address).body(whole(made));
    }

    private ImportAnswer whole(ImportView made) {
        return new ImportAnswer(made, made.bad() == 0 ? new Slice<>(List.of(), null) : bad(made));
    }

    private Slice<ImportRow> bad(ImportView made) {
        return imports.rows(made.id(), ImportRow.Kind.BAD, new SliceRequest(TOLD_AT_ONCE, null));
    }

    /** The list as a whole is wrong: not the state of anything here, so it is no conflict. */
    @ExceptionHandler
    ProblemDetail refused(ListRefused e) {
        var status = switch (e.reason()) {
            case TOO_LARGE, TOO_MANY_ROWS -> HttpStatus.CONTENT_TOO_LARGE;
            case NOT_TEXT -> HttpStatus.UNSUPPORTED_MEDIA_TYPE;
            default -> HttpStatus.UNPROCESSABLE_CONTENT;
        };
        var problem = ProblemDetail.forStatusAndDetail(status, String.valueOf(e.getMessage()));
        problem.setType(URI.create("/problems/" + e.code()));
        return problem;
    }

    @Override
    public void destroy() {
        watch.shutdownNow();
    }
}

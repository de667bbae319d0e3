package org.quarterlight.repair.web;

import io.swagger.v3.oas.annotations.Operation;
import jakarta.validation.Valid;
import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.util.Objects;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.bench.SunWindow;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.kernel.Stale;
import org.quarterlight.photo.PhotoSize;
import org.quarterlight.repair.Bench;
import org.quarterlight.repair.CalibrateCamera;
import org.quarterlight.repair.Certificates;
import org.quarterlight.repair.CloseJob;
import org.quarterlight.repair.ClosingGap;
import org.quarterlight.repair.EndPhase;
import org.quarterlight.repair.Gap;
import org.quarterlight.repair.InspectJob;
import org.quarterlight.repair.IssuedCertificate;
import org.quarterlight.repair.JobFilter;
import org.quarterlight.repair.JobPhoto;
import org.quarterlight.repair.JobReading;
import org.quarterlight.repair.JobRow;
import org.quarterlight.repair.JobView;
import org.quarterlight.repair.LotUse;
import org.quarterlight.repair.Materials;
import org.quarterlight.repair.PhotoShows;
import org.quarterlight.repair.ReadConditions;
import org.quarterlight.repair.RecordPhase;
import org.quarterlight.repair.RepairJobs;
import org.quarterlight.repair.RequestJob;
import org.quarterlight.repair.SayPayer;
import org.quarterlight.repair.ShareChoice;
import org.quarterlight.repair.UseLot;
import org.quarterlight.web.Flag;
import org.quarterlight.web.IfMatch;
import org.quarterlight.web.Slice;
import org.quarterlight.web.SliceRequest;
import org.springframework.core.io.Resource;
import org.springframework.format.annotation.DateTimeFormat;
import org.springframework.http.CacheControl;
import org.springframework.http.ContentDisposition;
import org.springframework.http.HttpHeaders;
import org.springframework.http.HttpStatus;
import org.springframework.http.MediaType;
import org.springframework.http.ResponseEntity;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
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
@RequestMapping("/api/v1/jobs")
class JobApi {
    private static final MediaType JOSE = MediaType.valueOf("application/jose");

    private final RepairJobs jobs;
    private final Bench bench;
    private final Materials materials;
    private final Certificates certificates;

    JobApi(RepairJobs jobs, Bench bench, Materials materials, Certificates certificates) {
        this.jobs = jobs;
        this.bench = bench;
        this.materials = materials;
        this.certificates = certificates;
    }

    /** When it was done; now where nobody says otherwise. */
    record Done(@Nullable Instant occurredAt) {}

    /** Without a method the one that ships is followed. */
    record Start(
            @Nullable UUID method,
            @Nullable Instant occurredAt,
            @Nullable Instant deviceClock) {}

    record AnswerFor(
            @NotNull Gap gap, @NotBlank @Size(max = 500) String reason) {}

    record Because(
            @NotBlank @Size(max = 500) String reason,
            @Nullable Instant occurredAt) {}

    record Share(@NotNull UUID partner) {}

    /** Null takes the job from whoever has it. */
    record Assign(@Nullable UUID technician) {}

    record Note(
            @NotBlank @Size(max = 4000) String text,
            @Nullable UUID phase,
            @Nullable Instant occurredAt) {}

    /** The state guards the verbs; where a program names the version that it has read, that counts too. */
    @ModelAttribute
    void check(@PathVariable(required = false) @Nullable UUID id, @Nullable IfMatch version) {
        if (id != null && version != null) {
            Stale.check("The job", version.version(), jobs.job(id).version());
        }
    }

    @GetMapping
    Slice<JobRow> list(
            @RequestParam(required = false) @Nullable String state,
            @RequestParam(required = false) @Nullable UUID performer,
            @RequestParam(required = false) @Nullable UUID technician,
            @RequestParam(required = false) @Nullable Flag mine,
            @RequestParam(required = false) @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) @Nullable LocalDate date,
            @RequestParam(required = false) @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) @Nullable LocalDate dueBy,
            @RequestParam(required = false) @Nullable UUID vehicle,
            @RequestParam(required = false) @Nullable String q,
            @RequestParam(required = false) JobFilter.@Nullable Sort sort,
            SliceRequest wanted) {
        return jobs.list(JobFilters.of(state, performer, technician, mine, date, dueBy, vehicle, q, sort), wanted);
    }

    @PostMapping
    @ResponseStatus(HttpStatus.CREATED)
    ResponseEntity<JobView> request(@Valid @RequestBody RequestJob command) {
        var job = jobs.request(command);
        var address =
                ServletUriComponentsBuilder.fromCurrentRequest().path("/{id}").build(job.id());
        return ResponseEntity.created(address)
                .eTag(Integer.toString(job.version()))
                .body(job);
    }

    @GetMapping("/{id}")
    ResponseEntity<JobView> read(@PathVariable UUID id) {
        return answer(jobs.job(id));
    }

    @PostMapping("/{id}/approve")
    ResponseEntity<JobView> approve(@PathVariable UUID id, @RequestBody(required = false) @Nullable Done done) {
        return answer(jobs.approve(id, done == null ? null : done.occurredAt()));
    }

    @PostMapping("/{id}/decline")
    ResponseEntity<JobView> decline(@PathVariable UUID id, @Valid @RequestBody Because because) {
        return answer(jobs.decline(id, because.reason(), because.occurredAt()));
    }

    @PostMapping("/{id}/withdraw")
    ResponseEntity<JobView> withdraw(@PathVariable UUID id, @Valid @RequestBody Because because) {
        return answer(jobs.withdraw(id, because.reason(), because.occurredAt()));
    }

    /** Whom the fleet can give the job to, and why the others not; all partners that work for it. */
    @GetMapping("/{id}/share-choices")
    Slice<ShareChoice> shareChoices(@PathVariable UUID id) {
        return new Slice<>(jobs.choices(id), null);
    }

    /** {@code partner} is the id of the agreement, or of the repairer. */
    @PostMapping("/{id}/share")
    ResponseEntity<JobView> share(@PathVariable UUID id, @Valid @RequestBody Share share) {
        return answer(jobs.share(id, share.partner()));
    }

    /** Who pays: the fleet or its insurer. After the job has ended a correction, with a reason. */
    @PostMapping("/{id}/payer")
    ResponseEntity<JobView> payer(@PathVariable UUID id, @Valid @RequestBody SayPayer command) {
        return answer(jobs.payer(id, command));
    }

    @PostMapping("/{id}/assign")
    ResponseEntity<JobView> assign(@PathVariable UUID id, @Valid @RequestBody Assign assign) {
        return answer(jobs.assign(id, assign.technician()));
    }

    @PostMapping("/{id}/hand-back")
    ResponseEntity<JobView> handBack(@PathVariable UUID id, @Valid @RequestBody Because because) {
        return answer(jobs.handBack(id, because.reason()));
    }

    /** A repair that came back has not failed, says its performer, once. It stays a claim and is counted as contested. */
    @PostMapping("/{id}/contest")
    ResponseEntity<JobView> contest(@PathVariable UUID id, @Valid @RequestBody Because because) {
        return answer(jobs.contest(id, because.reason()));
    }

    @PostMapping("/{id}/start")
    ResponseEntity<JobView> start(@PathVariable UUID id, @RequestBody(required = false) @Nullable Start start) {
        return answer(
                start == null
                        ? jobs.start(id, null, null)
                        : jobs.start(id, start.method(), start.occurredAt(), start.deviceClock()));
    }

    @PostMapping("/{id}/phases")
    ResponseEntity<JobView> recordPhase(@PathVariable UUID id, @Valid @RequestBody RecordPhase command) {
        return answer(jobs.recordPhase(id, command));
    }

    @PostMapping("/{id}/phases/{phase}/end")
    ResponseEntity<JobView> endPhase(
            @PathVariable UUID id, @PathVariable UUID phase, @RequestBody(required = false) @Nullable EndPhase end) {
        return answer(jobs.endPhase(id, phase, Objects.requireNonNullElse(end, EndPhase.NOW)));
    }

    /** Air, glass and sky are read; answers whether to go, wait or stop, with reasons and what to change. */
    @PostMapping("/{id}/conditions")
    JobReading readConditions(@PathVariable UUID id, @Valid @RequestBody ReadConditions command) {
        return bench.read(id, command);
    }

    @GetMapping("/{id}/conditions")
    Slice<JobReading> conditions(@PathVariable UUID id) {
        return new Slice<>(jobs.job(id).readings(), null);
    }

    /** When direct sun falls on the glass on a day, if the vehicle's front points to this bearing from north over east. */
    @GetMapping("/{id}/sun")
    Slice<SunWindow> sun(
            @PathVariable UUID id,
            @RequestParam(defaultValue = "180") double bearingDegrees,
            @RequestParam(required = false) @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) @Nullable LocalDate date) {
        return new Slice<>(bench.sun(id, bearingDegrees, date), null);
    }

    /** What keeps the job from being closed now, beside how it came out and the notes. */
    @GetMapping("/{id}/closing")
    Slice<ClosingGap> closing(@PathVariable UUID id) {
        return new Slice<>(bench.missing(id), null);
    }

    /** A dispatcher or manager of the performer answers for what blocks the job. */
    @PostMapping("/{id}/overrides")
    ResponseEntity<JobView> override(@PathVariable UUID id, @Valid @RequestBody AnswerFor command) {
        bench.override(id, command.gap(), command.reason());
        return answer(jobs.job(id));
    }

    /** The camera behind new glass was set again, or that failed. Only one that passed last lets the vehicle go. */
    @PostMapping("/{id}/calibrate")
    ResponseEntity<JobView> calibrate(@PathVariable UUID id, @Valid @RequestBody CalibrateCamera command) {
        bench.calibrate(id, command);
        return answer(jobs.job(id));
    }

    /** A lot goes into the job. One that has expired or was recalled is refused. */
    @PostMapping("/{id}/materials")
    Slice<LotUse> use(@PathVariable UUID id, @Valid @RequestBody UseLot command) {
        bench.use(id, command);
        return materials(id);
    }

    /** What went into the job, for its performer. */
    @GetMapping("/{id}/materials")
    Slice<LotUse> materials(@PathVariable UUID id) {
        jobs.job(id);
        return new Slice<>(materials.usedIn(id), null);
    }

    @PostMapping("/{id}/notes")
    ResponseEntity<JobView> addNote(@PathVariable UUID id, @Valid @RequestBody Note note) {
        return answer(jobs.addNote(id, note.text(), note.phase(), note.occurredAt()));
    }

    @GetMapping("/{id}/photos")
    Slice<JobPhoto> photos(@PathVariable UUID id) {
        return new Slice<>(jobs.job(id).photos(), null);
    }

    @PostMapping(path = "/{id}/photos", consumes = MediaType.MULTIPART_FORM_DATA_VALUE)
    ResponseEntity<JobView> addPhoto(
            @PathVariable UUID id,
            @RequestParam PhotoShows shows,
            @RequestParam(required = false) @Nullable UUID phase,
            @RequestParam MultipartFile photo,
            @RequestParam(required = false) @Nullable Instant occurredAt,
            @RequestParam(required = false) @Nullable Instant deviceClock) {
        try (var content = photo.getInputStream()) {
            return answer(jobs.addPhoto(id, shows, content, phase, occurredAt, deviceClock));
        } catch (IOException e) {
            throw new Invalid("photo", "The photo did not arrive whole");
        }
    }

    @GetMapping(path = "/{id}/photos/{photo}", produces = MediaType.IMAGE_JPEG_VALUE)
    ResponseEntity<Resource> photo(
            @PathVariable UUID id, @PathVariable UUID photo, @RequestParam(defaultValue = "large") PhotoSize size) {
        return picture(jobs.photo(id, photo, size));
    }

    /** A photo of the damage, by the name that the brief gives. */
    @GetMapping(path = "/{id}/brief-photos/{sha256}", produces = MediaType.IMAGE_JPEG_VALUE)
    ResponseEntity<Resource> briefPhoto(
            @PathVariable UUID id, @PathVariable String sha256, @RequestParam(defaultValue = "large") PhotoSize size) {
        return picture(jobs.briefPhoto(id, sha256, size));
    }

    @Operation(
            summary = "Look over the finished work",
            description =
                    "Passed, the sheets of the brief judge what was found of each repair; the job's `asked` says what"
                            + " they read. Where they say no the job is under way again, its `reason` says why and its"
                            + " `acceptance` holds every finding. Where they cannot tell, 409 says what to measure and how well.")
    @PostMapping("/{id}/inspect")
    ResponseEntity<JobView> inspect(@PathVariable UUID id, @Valid @RequestBody InspectJob inspection) {
        return answer(jobs.inspect(id, inspection));
    }

    @PostMapping("/{id}/close")
    ResponseEntity<JobView> close(@PathVariable UUID id, @Valid @RequestBody CloseJob command) {
        return answer(jobs.close(id, command));
    }

    @PostMapping("/{id}/abandon")
    ResponseEntity<JobView> abandon(@PathVariable UUID id, @Valid @RequestBody Because because) {
        return answer(jobs.abandon(id, because.reason(), because.occurredAt()));
    }

    /** The record of a closed job on paper, a PDF/A; the same bytes each time. */
    @GetMapping(path = "/{id}/certificate.pdf", produces = MediaType.APPLICATION_PDF_VALUE)
    ResponseEntity<byte[]> certificate(@PathVariable UUID id) {
        var page =
                ServletUriComponentsBuilder.fromCurrentContextPath().path("/c/").toUriString();
        var pdf = certificates.pdf(id, page);
        return file(certificates.of(id), "pdf", MediaType.APPLICATION_PDF, pdf);
    }

    /** What is signed of a closed job, as canonical JSON (RFC 8785). */
    @GetMapping(path = "/{id}/certificate.json", produces = MediaType.APPLICATION_JSON_VALUE)
    ResponseEntity<byte[]> certificateContent(@PathVariable UUID id) {
        var issued = certificates.of(id);
        return file(
                issued,
                "json",
                MediaType.APPLICATION_JSON,
                issued.signed().payload().getBytes(StandardCharsets.UTF_8));
    }

    /** The same with its signature: a JWS (RFC 7515) by Ed25519, whose key stands at {@code /.well-known/jwks.json}. */
    @GetMapping(path = "/{id}/certificate.jws", produces = "application/jose")
    ResponseEntity<byte[]> signedCertificate(@PathVariable UUID id) {
        var issued = certificates.of(id);
        return file(issued, "jws", JOSE, issued.signed().jws().getBytes(StandardCharsets.US_ASCII));
    }

    private static ResponseEntity<byte[]> file(
            IssuedCertificate issued, String ending, MediaType type, byte[] content) {
        var job = issued.content().job();
        var name = "job-" + job.number() + "-" + job.registration().replace(' ', '-') + "." + ending;
        return ResponseEntity.ok()
                .header(
                        HttpHeaders.CONTENT_DISPOSITION,
                        ContentDisposition.inline().filename(name).build().toString())
                .contentType(type)
                .body(content);
    }

    private static ResponseEntity<Resource> picture(Resource picture) {
        return ResponseEntity.ok()
                .cacheControl(CacheControl.maxAge(Duration.ofDays(30)).cachePrivate())
                .contentType(MediaType.IMAGE_JPEG)
                .body(picture);
    }

    private static ResponseEntity<JobView> answer(JobView job) {
        return ResponseEntity.ok().eTag(Integer.toString(job.version())).body(job);
    }
}

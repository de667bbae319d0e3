package org.quarterlight.fleet.web;

import java.net.URI;
import java.time.Instant;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.fleet.CabCodeView;
import org.quarterlight.fleet.CabCodes;
import org.quarterlight.fleet.Fleet;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.web.QrPicture;
import org.springframework.http.CacheControl;
import org.springframework.http.ContentDisposition;
import org.springframework.http.HttpHeaders;
import org.springframework.http.HttpStatus;
import org.springframework.http.MediaType;
import org.springframework.http.ResponseEntity;
import org.springframework.web.bind.annotation.DeleteMapping;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.ResponseStatus;
import org.springframework.web.bind.annotation.RestController;
import org.springframework.web.servlet.support.ServletUriComponentsBuilder;

@RestController
class CabCodeApi {
    private final CabCodes codes;
    private final Fleet fleet;
    private final CabCard cards;

    CabCodeApi(CabCodes codes, Fleet fleet, CabCard cards) {
        this.codes = codes;
        this.fleet = fleet;
        this.cards = cards;
    }

    /** A code with the address that it stands for. */
    record CabCode(UUID id, UUID vehicle, URI address, Instant madeAt) {
        static CabCode of(CabCodeView code) {
            return new CabCode(code.id(), code.vehicle(), addressOf(code), code.madeAt());
        }
    }

    static URI addressOf(CabCodeView code) {
        return ServletUriComponentsBuilder.fromCurrentContextPath()
                .path("/r/{code}")
                .build(code.code());
    }

    /** The vehicle's code, made where there is none. */
    @PostMapping("/api/v1/vehicles/{id}/cab-code")
    @ResponseStatus(HttpStatus.CREATED)
    ResponseEntity<CabCode> make(@PathVariable UUID id) {
        var code = CabCode.of(codes.make(id));
        return ResponseEntity.created(
                        ServletUriComponentsBuilder.fromCurrentRequest().build().toUri())
                .body(code);
    }

    @GetMapping("/api/v1/vehicles/{id}/cab-code")
    CabCode present(@PathVariable UUID id) {
        return CabCode.of(codes.present(id));
    }

    /** Ends the code in force: who has it can report no more. */
    @DeleteMapping("/api/v1/vehicles/{id}/cab-code")
    @ResponseStatus(HttpStatus.NO_CONTENT)
    void revoke(@PathVariable UUID id) {
        codes.revoke(id);
    }

    @GetMapping(path = "/api/v1/vehicles/{id}/cab-code.svg", produces = "image/svg+xml")
    ResponseEntity<String> picture(@PathVariable UUID id) {
        var code = codes.present(id);
        var registration = fleet.vehicle(id).registration();
        return ResponseEntity.ok()
                .cacheControl(CacheControl.noStore())
                .body(QrPicture.svg(addressOf(code).toString(), "Code for " + registration));
    }

    /** The card to print, A6 unless A4 is asked for. */
    @GetMapping(path = "/api/v1/vehicles/{id}/cab-code.pdf", produces = MediaType.APPLICATION_PDF_VALUE)
    ResponseEntity<byte[]> card(@PathVariable UUID id, @RequestParam(required = false) CabCard.@Nullable Paper paper) {
        var code = codes.present(id);
        var registration = fleet.vehicle(id).registration();
        var card = cards.pdf(
                registration,
                Acting.require().organisationName(),
                addressOf(code).toString(),
                paper == null ? CabCard.Paper.A6 : paper);
        var name = ContentDisposition.inline()
                .filename("cab-code-" + registration.replace(' ', '-') + ".pdf")
                .build();
        return ResponseEntity.ok()
                .cacheControl(CacheControl.noStore())
                .header(HttpHeaders.CONTENT_DISPOSITION, name.toString())
                .body(card);
    }
}

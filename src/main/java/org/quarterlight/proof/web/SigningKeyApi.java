package org.quarterlight.proof.web;

import org.quarterlight.proof.SigningKeyView;
import org.quarterlight.proof.SigningKeys;
import org.quarterlight.web.Slice;
import org.springframework.http.HttpStatus;
import org.springframework.http.ResponseEntity;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.ResponseStatus;
import org.springframework.web.bind.annotation.RestController;
import org.springframework.web.servlet.support.ServletUriComponentsBuilder;

@RestController
class SigningKeyApi {
    private final SigningKeys keys;

    SigningKeyApi(SigningKeys keys) {
        this.keys = keys;
    }

    @GetMapping("/api/v1/signing-keys")
    Slice<SigningKeyView> list() {
        return new Slice<>(keys.all(), null);
    }

    /** Takes the present key out of use and makes the next. What was signed stays valid. */
    @PostMapping("/api/v1/signing-keys")
    @ResponseStatus(HttpStatus.CREATED)
    ResponseEntity<SigningKeyView> rotate() {
        var made = keys.rotate();
        return ResponseEntity.created(ServletUriComponentsBuilder.fromCurrentContextPath()
                        .path("/.well-known/jwks.json")
                        .build()
                        .toUri())
                .body(made);
    }
}

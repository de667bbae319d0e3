package org.quarterlight.proof.web;

import java.time.Duration;
import java.util.List;
import org.quarterlight.proof.PublishedKeys;
import org.quarterlight.proof.SigningKeyView;
import org.springframework.http.CacheControl;
import org.springframework.http.ResponseEntity;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RestController;

/** The public keys as a JWK set (RFC 7517), for whoever checks a certificate. Retired keys stay in it. */
@RestController
class KeySetApi {
    private final PublishedKeys keys;

    KeySetApi(PublishedKeys keys) {
        this.keys = keys;
    }

    /** A key of RFC 8037. */
    record Key(String kty, String crv, String alg, String use, String kid, String x) {
        static Key of(SigningKeyView key) {
            return new Key("OKP", "Ed25519", "EdDSA", "sig", key.id(), key.x());
        }
    }

    record KeySet(List<Key> keys) {}

    @GetMapping(path = "/.well-known/jwks.json", produces = "application/jwk-set+json")
    ResponseEntity<KeySet> keys() {
        return ResponseEntity.ok()
                .cacheControl(CacheControl.maxAge(Duration.ofMinutes(5)).cachePublic())
                .body(new KeySet(keys.all().stream().map(Key::of).toList()));
    }
}

package org.quarterlight.history.web;

import org.jspecify.annotations.Nullable;
import org.quarterlight.history.ChainReport;
import org.quarterlight.history.HistoryChain;
import org.quarterlight.history.SealedHead;
import org.quarterlight.web.Slice;
import org.quarterlight.web.SliceRequest;
import org.springframework.http.HttpStatus;
import org.springframework.http.ResponseEntity;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.ResponseStatus;
import org.springframework.web.bind.annotation.RestController;
import org.springframework.web.servlet.support.ServletUriComponentsBuilder;

@RestController
class HistoryChainApi {
    private final HistoryChain chain;

    HistoryChainApi(HistoryChain chain) {
        this.chain = chain;
    }

    /**
     * Reads the whole history again and says what was changed, deleted, put in, reordered or cut off. {@code number} and
     * {@code hash} name an end that was kept elsewhere, such as on a certificate.
     */
    @GetMapping("/api/v1/history/chain")
    ChainReport check(
            @RequestParam(required = false) @Nullable Long number,
            @RequestParam(required = false) @Nullable String hash) {
        return chain.checked(number, hash);
    }

    @GetMapping("/api/v1/history/seals")
    Slice<SealedHead> seals(SliceRequest wanted) {
        return chain.seals(wanted);
    }

    /** Signs the present end of the history, to be kept elsewhere. */
    @PostMapping("/api/v1/history/seals")
    @ResponseStatus(HttpStatus.CREATED)
    ResponseEntity<SealedHead> seal() {
        // Whoever asks came in by a deed that was written down, so there is an end.
        return ResponseEntity.created(
                        ServletUriComponentsBuilder.fromCurrentRequest().build().toUri())
                .body(chain.sealNow().orElseThrow());
    }
}

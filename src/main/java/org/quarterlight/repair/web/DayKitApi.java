package org.quarterlight.repair.web;

import io.swagger.v3.oas.annotations.Operation;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;
import org.quarterlight.repair.DayKit;
import org.quarterlight.repair.DayKits;
import org.springframework.http.CacheControl;
import org.springframework.http.ResponseEntity;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RestController;
import tools.jackson.databind.json.JsonMapper;

@RestController
@RequestMapping("/api/v1/me/day-kit")
class DayKitApi {
    private final DayKits kits;
    private final JsonMapper json;

    DayKitApi(DayKits kits, JsonMapper json) {
        this.kits = kits;
        this.json = json;
    }

    @Operation(
            summary = "What a technician's device keeps to work through the day without a network",
            description =
                    "Jobs with brief, drawing, method and record so far, lots, lamps, and when the sun falls on each"
                            + " glass. Sent again only where it has changed.")
    @GetMapping
    ResponseEntity<DayKit> today() {
        var kit = kits.today();
        return ResponseEntity.ok()
                .cacheControl(CacheControl.noCache().cachePrivate())
                .eTag(digest(json.writeValueAsBytes(kit)))
                .body(kit);
    }

    private static String digest(byte[] bytes) {
        try {
            return HexFormat.of().formatHex(MessageDigest.getInstance("SHA-256").digest(bytes), 0, 12);
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException(e);
        }
    }
}

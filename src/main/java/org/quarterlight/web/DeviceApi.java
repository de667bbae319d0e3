package org.quarterlight.web;

import io.swagger.v3.oas.annotations.Operation;
import java.time.Clock;
import java.time.Instant;
import java.util.Objects;
import org.quarterlight.tenancy.Acting;
import org.springframework.http.CacheControl;
import org.springframework.http.ResponseEntity;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RestController;

@RestController
@RequestMapping("/api/v1/me/device")
class DeviceApi {
    private final Clock clock;

    DeviceApi(Clock clock) {
        this.clock = clock;
    }

    /**
     * What a device asks before it sends what it has kept.
     *
     * @param keptFor whose it may send; a hyphen where it keeps nothing for them
     */
    record Device(String keptFor, Instant now) {}

    @Operation(
            summary = "The time, and for whom a device keeps things",
            description =
                    "Asked once before a device sends what it has kept: how far its clock is ahead follows from it.")
    @GetMapping
    ResponseEntity<Device> device() {
        var own = Objects.requireNonNull(KeptFor.of(Acting.require()));
        return ResponseEntity.ok().cacheControl(CacheControl.noStore()).body(new Device(own, clock.instant()));
    }
}

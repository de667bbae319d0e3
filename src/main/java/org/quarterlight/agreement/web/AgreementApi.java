package org.quarterlight.agreement.web;

import io.swagger.v3.oas.annotations.media.Content;
import io.swagger.v3.oas.annotations.media.Schema;
import jakarta.validation.Valid;
import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.Size;
import java.util.UUID;
import org.quarterlight.agreement.LimitsView;
import org.quarterlight.agreement.PartnerLimits;
import org.quarterlight.agreement.PriceAgreements;
import org.quarterlight.agreement.PricesView;
import org.quarterlight.agreement.SaveLimits;
import org.quarterlight.agreement.SavePrices;
import org.quarterlight.web.IfMatch;
import org.quarterlight.web.MergePatch;
import org.quarterlight.web.Slice;
import org.quarterlight.web.SliceRequest;
import org.springframework.http.HttpStatus;
import org.springframework.http.ResponseEntity;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PatchMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestBody;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.ResponseStatus;
import org.springframework.web.bind.annotation.RestController;
import org.springframework.web.servlet.support.ServletUriComponentsBuilder;
import tools.jackson.databind.node.ObjectNode;

@RestController
@RequestMapping("/api/v1/partners/{id}")
class AgreementApi {
    private final PartnerLimits limits;
    private final PriceAgreements prices;
    private final MergePatch patch;

    AgreementApi(PartnerLimits limits, PriceAgreements prices, MergePatch patch) {
        this.limits = limits;
        this.prices = prices;
        this.patch = patch;
    }

    /** Why prices are not wanted. */
    record Declined(@NotBlank @Size(max = 500) String reason) {}

    /** What the fleet gives this partner; null is no limit. */
    @GetMapping("/limits")
    ResponseEntity<LimitsView> limits(@PathVariable UUID id) {
        return answer(limits.limits(id));
    }

    @PatchMapping("/limits")
    ResponseEntity<LimitsView> limit(
            @PathVariable UUID id,
            @io.swagger.v3.oas.annotations.parameters.RequestBody(
                            content = @Content(schema = @Schema(implementation = SaveLimits.class)))
                    @RequestBody
                    ObjectNode change,
            IfMatch version) {
        var present = limits.limits(id);
        var before =
                new SaveLimits(present.depots(), present.worksFrom(), present.worksUntil(), present.agreedPricesOnly());
        return answer(limits.change(id, patch.apply(before, change, SaveLimits.class), version.version()));
    }

    /**
     * All prices that were proposed, those of the latest day first. What holds on a day are the accepted ones of the latest day
     * up to it.
     */
    @GetMapping("/prices")
    Slice<PricesView> prices(@PathVariable UUID id, SliceRequest wanted) {
        return prices.list(id, wanted);
    }

    /** Proposes prices from a day on. They hold once the other side has accepted, and are never changed; others may follow. */
    @PostMapping("/prices")
    @ResponseStatus(HttpStatus.CREATED)
    ResponseEntity<PricesView> propose(@PathVariable UUID id, @Valid @RequestBody SavePrices command) {
        var made = prices.propose(id, command);
        return ResponseEntity.created(ServletUriComponentsBuilder.fromCurrentRequest()
                        .path("/{prices}")
                        .build(made.id()))
                .body(made);
    }

    @GetMapping("/prices/{prices}")
    PricesView prices(@PathVariable UUID id, @PathVariable("prices") UUID proposed) {
        return prices.prices(id, proposed);
    }

    /** By the side that did not propose them. Answered once: 409 after that. */
    @PostMapping("/prices/{prices}/accept")
    PricesView accept(@PathVariable UUID id, @PathVariable("prices") UUID proposed) {
        return prices.accept(id, proposed);
    }

    /** By the side that did not propose them. */
    @PostMapping("/prices/{prices}/decline")
    PricesView decline(
            @PathVariable UUID id, @PathVariable("prices") UUID proposed, @Valid @RequestBody Declined declined) {
        return prices.decline(id, proposed, declined.reason());
    }

    /** By the side that proposed them, until they are answered. */
    @PostMapping("/prices/{prices}/withdraw")
    PricesView withdraw(@PathVariable UUID id, @PathVariable("prices") UUID proposed) {
        return prices.withdraw(id, proposed);
    }

    private static ResponseEntity<LimitsView> answer(LimitsView limits) {
        return ResponseEntity.ok().eTag(Integer.toString(limits.version())).body(limits);
    }
}

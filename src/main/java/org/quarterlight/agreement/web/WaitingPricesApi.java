package org.quarterlight.agreement.web;

import org.quarterlight.agreement.PriceAgreements;
import org.quarterlight.agreement.WaitingPrices;
import org.quarterlight.web.Slice;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RestController;

@RestController
class WaitingPricesApi {
    private final PriceAgreements prices;

    WaitingPricesApi(PriceAgreements prices) {
        this.prices = prices;
    }

    /** Prices of any partner that wait for this organisation's answer, those proposed first at the top; at most 200. */
    @GetMapping("/api/v1/partners/waiting-prices")
    Slice<WaitingPrices> waiting() {
        return new Slice<>(prices.waiting(), null);
    }
}

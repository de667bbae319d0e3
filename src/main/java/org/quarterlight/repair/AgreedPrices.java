package org.quarterlight.repair;

import java.util.Optional;
import java.util.stream.Stream;
import org.quarterlight.account.PartnerState;
import org.quarterlight.account.Partners;
import org.quarterlight.agreement.PriceAgreements;
import org.quarterlight.damage.AgreedRates;
import org.quarterlight.kernel.Money;
import org.quarterlight.web.SliceRequest;
import org.quarterlight.web.Today;
import org.springframework.stereotype.Component;

/** The prices of the first active partner with whom both a repair and new glass are agreed. */
@Component
class AgreedPrices implements AgreedRates {
    private final Partners partners;
    private final PriceAgreements prices;
    private final Today today;

    AgreedPrices(Partners partners, PriceAgreements prices, Today today) {
        this.partners = partners;
        this.prices = prices;
        this.today = today;
    }

    @Override
    public Optional<Rates> ofToday() {
        return partners.list(PartnerState.ACTIVE, SliceRequest.most()).items().stream()
                .flatMap(partner -> prices.inForce(partner.fleet(), partner.repairer(), today.here()).stream()
                        .flatMap(agreed -> {
                            var glass = agreed.replacementMinor();
                            return glass == null
                                    ? Stream.<Rates>empty()
                                    : Stream.of(new Rates(
                                            new Money(
                                                    Math.addExact(agreed.repairMinor(), agreed.callOutMinor()),
                                                    agreed.currency()),
                                            new Money(Math.addExact(glass, agreed.callOutMinor()), agreed.currency()),
                                            partner.repairerName()));
                        }))
                .findFirst();
    }
}

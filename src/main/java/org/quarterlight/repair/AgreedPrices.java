package org.quarterlight.repair;

import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.quarterlight.account.PartnerState;
import org.quarterlight.account.Partners;
import org.quarterlight.agreement.PriceAgreements;
import org.quarterlight.agreement.Prices;
import org.quarterlight.damage.AgreedRates;
import org.quarterlight.kernel.Money;
import org.quarterlight.tenancy.Tenants;
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
        var fleet = Tenants.require().value();
        var inForce = prices.inForce(fleet, today.here());
        return partners.list(PartnerState.ACTIVE, SliceRequest.most()).items().stream()
                .filter(partner -> partner.fleet().equals(fleet))
                .flatMap(partner -> rates(inForce.get(partner.repairer()), partner.repairerName()).stream())
                .findFirst();
    }

    private static Optional<Rates> rates(@Nullable Prices agreed, String with) {
        var glass = agreed == null ? null : agreed.replacementMinor();
        return agreed == null || glass == null
                ? Optional.empty()
                : Optional.of(new Rates(
                        new Money(Math.addExact(agreed.repairMinor(), agreed.callOutMinor()), agreed.currency()),
                        new Money(Math.addExact(glass, agreed.callOutMinor()), agreed.currency()),
                        with));
    }
}

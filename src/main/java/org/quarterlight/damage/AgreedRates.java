package org.quarterlight.damage;

import java.util.Optional;
import org.quarterlight.kernel.Money;

/** What a fleet has agreed to pay, where it has not said what repairs cost it: previews ask, whoever knows prices answers. */
public interface AgreedRates {
    /**
     * Prices that are in force today.
     *
     * @param repair of one damage on a visit of its own
     * @param with the repairer they are agreed with
     */
    record Rates(Money repair, Money replacement, String with) {}

    Optional<Rates> ofToday();
}

package org.quarterlight.agreement;

import org.quarterlight.kernel.Refused;

/** Prices are answered once. */
public class PricesAnswered extends Refused {
    PricesAnswered(String how) {
        super("prices-answered", how);
    }
}

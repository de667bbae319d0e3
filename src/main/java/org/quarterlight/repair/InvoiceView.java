package org.quarterlight.repair;

import java.util.List;

/** One invoice as both parties see it: what is on it, and what its number was before. */
public record InvoiceView(String number, List<ChargeView> charges, List<InvoiceChangeView> changes) {
    public InvoiceView {
        charges = List.copyOf(charges);
        changes = List.copyOf(changes);
    }
}

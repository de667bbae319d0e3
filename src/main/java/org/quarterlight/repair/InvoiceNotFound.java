package org.quarterlight.repair;

import org.quarterlight.kernel.NotFound;

/** A charge that is on no invoice, or not any more. */
public class InvoiceNotFound extends NotFound {
    InvoiceNotFound(int job) {
        super("Job " + job + " is on no invoice");
    }
}

package org.quarterlight.repair;

import org.quarterlight.kernel.Refused;

/** What is invoiced stays as it is, and so does a price. */
public class ChargeRefused extends Refused {
    ChargeRefused(int job, String invoice) {
        super("charge-invoiced", "Job " + job + " is on invoice " + invoice + " already");
    }

    ChargeRefused(String message) {
        super("charge-priced", message);
    }
}

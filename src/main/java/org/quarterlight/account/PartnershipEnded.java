package org.quarterlight.account;

import org.quarterlight.kernel.Refused;

/** What was withdrawn cannot be accepted any more. */
public class PartnershipEnded extends Refused {
    PartnershipEnded() {
        super("partnership-ended", "This agreement has ended. The fleet may invite again.");
    }
}

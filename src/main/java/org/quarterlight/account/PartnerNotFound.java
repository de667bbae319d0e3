package org.quarterlight.account;

import java.util.UUID;
import org.quarterlight.kernel.NotFound;

/** No agreement of this organisation has the id. */
public class PartnerNotFound extends NotFound {
    PartnerNotFound(UUID id) {
        super("There is no partner " + id);
    }
}

package org.quarterlight.account;

import java.util.UUID;
import org.quarterlight.kernel.NotFound;

/** There is no such organisation, or the person is not in it. */
public class OrganisationNotFound extends NotFound {
    OrganisationNotFound(UUID id) {
        super("There is no organisation " + id + " for you");
    }
}

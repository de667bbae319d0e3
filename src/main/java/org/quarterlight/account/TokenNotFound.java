package org.quarterlight.account;

import java.util.UUID;
import org.quarterlight.kernel.NotFound;

/** No key of this organisation, or of this person, has the id. */
public class TokenNotFound extends NotFound {
    TokenNotFound(UUID id) {
        super("There is no key " + id);
    }
}

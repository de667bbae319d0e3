package org.quarterlight.agreement;

import java.util.UUID;
import org.quarterlight.kernel.NotFound;

/** There are no such prices between these two. */
public class PricesNotFound extends NotFound {
    PricesNotFound(UUID id) {
        super("There are no prices " + id);
    }
}

package org.quarterlight.fleet;

import java.util.UUID;
import org.quarterlight.kernel.NotFound;

/** No depot of this organisation has the id. */
public class DepotNotFound extends NotFound {
    DepotNotFound(UUID id) {
        super("There is no depot " + id);
    }
}

package org.quarterlight.repair;

import java.util.UUID;
import org.quarterlight.kernel.NotFound;

/** No lot of this organisation has the id. */
public class LotNotFound extends NotFound {
    LotNotFound(UUID id) {
        super("There is no resin lot " + id);
    }
}

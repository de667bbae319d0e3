package org.quarterlight.repair;

import java.util.UUID;
import org.quarterlight.kernel.NotFound;

/** No place of this organisation has the id. */
public class StockPlaceNotFound extends NotFound {
    StockPlaceNotFound(UUID id) {
        super("There is no stock place " + id);
    }
}

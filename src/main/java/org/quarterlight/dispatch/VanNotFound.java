package org.quarterlight.dispatch;

import java.util.UUID;
import org.quarterlight.kernel.NotFound;

/** No van of this organisation has the id. */
public class VanNotFound extends NotFound {
    VanNotFound(UUID id) {
        super("There is no van " + id);
    }
}

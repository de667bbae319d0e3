package org.quarterlight.fleet;

import java.util.UUID;
import org.quarterlight.kernel.NotFound;

/** No windscreen of this organisation has the id. */
public class WindscreenNotFound extends NotFound {
    WindscreenNotFound(UUID id) {
        super("There is no windscreen " + id);
    }
}

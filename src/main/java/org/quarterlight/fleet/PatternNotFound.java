package org.quarterlight.fleet;

import java.util.UUID;
import org.quarterlight.kernel.NotFound;

/** No glass pattern of this organisation has the id. */
public class PatternNotFound extends NotFound {
    PatternNotFound(UUID id) {
        super("There is no glass pattern " + id);
    }
}

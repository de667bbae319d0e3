package org.quarterlight.fleet;

import java.util.UUID;
import org.quarterlight.kernel.NotFound;

/** No import of this organisation has the id. */
public class ImportNotFound extends NotFound {
    ImportNotFound(UUID id) {
        super("There is no import " + id);
    }
}

package org.quarterlight.repair;

import java.util.UUID;
import org.quarterlight.kernel.NotFound;

/** There is no such lamp here. */
public class LampNotFound extends NotFound {
    LampNotFound(UUID id) {
        super("There is no lamp " + id);
    }
}

package org.quarterlight.repair;

import java.util.UUID;
import org.quarterlight.kernel.NotFound;

/** There is no such method here. */
public class MethodNotFound extends NotFound {
    MethodNotFound(UUID id) {
        super("There is no method " + id);
    }
}

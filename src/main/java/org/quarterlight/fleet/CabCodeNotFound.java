package org.quarterlight.fleet;

import java.util.UUID;
import org.quarterlight.kernel.NotFound;

/** The vehicle has no cab code in force. */
public class CabCodeNotFound extends NotFound {
    CabCodeNotFound(UUID vehicle) {
        super("Vehicle " + vehicle + " has no cab code");
    }
}

package org.quarterlight.fleet;

import org.quarterlight.kernel.NotFound;

/** No vehicle of this organisation is meant. */
public class VehicleNotFound extends NotFound {
    VehicleNotFound(Object named) {
        super("There is no vehicle " + named);
    }
}

package org.quarterlight.fleet;

import org.quarterlight.kernel.Refused;

/** Vehicles stand there. */
public class DepotInUse extends Refused {
    DepotInUse(String name, long vehicles) {
        super("depot-in-use", name + " has " + vehicles + " vehicles. Move them first.");
    }
}

package org.quarterlight.fleet;

import org.quarterlight.kernel.Refused;

/** A vehicle that left the fleet keeps its history and takes nothing new. */
public class VehicleRetired extends Refused {
    VehicleRetired(String registration) {
        super("vehicle-retired", registration + " has left the fleet");
    }
}

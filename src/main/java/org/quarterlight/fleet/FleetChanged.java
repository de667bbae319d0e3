package org.quarterlight.fleet;

import org.quarterlight.kernel.Refused;

/** While a list was being taken, somebody changed what it was checked against. */
public class FleetChanged extends Refused {
    FleetChanged() {
        super(
                "fleet-changed",
                "Somebody changed the fleet while the list was being taken, so nothing was. Send it again.");
    }
}

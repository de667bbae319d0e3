package org.quarterlight.fleet;

import java.util.List;
import java.util.UUID;
import org.quarterlight.tenancy.TenantEvent;
import org.quarterlight.tenancy.TenantId;

/**
 * What rules read of these vehicles has changed: category, mass, side of the wheel, generic glass, or the depot and its
 * country. Only vehicles with open damage are named.
 */
public record VehicleFactsChanged(TenantId tenant, List<UUID> vehicles) implements TenantEvent {
    public VehicleFactsChanged {
        vehicles = List.copyOf(vehicles);
    }
}

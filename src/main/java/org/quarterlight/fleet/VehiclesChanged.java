package org.quarterlight.fleet;

import java.util.List;
import java.util.UUID;
import org.quarterlight.tenancy.TenantEvent;
import org.quarterlight.tenancy.TenantId;

/**
 * Vehicles came, changed their depot, category or another fact, or left. Published in the transaction that writes them, so
 * that whoever listens without delay keeps step with the fleet.
 */
public record VehiclesChanged(TenantId tenant, List<UUID> vehicles) implements TenantEvent {
    public VehiclesChanged {
        vehicles = List.copyOf(vehicles);
    }
}

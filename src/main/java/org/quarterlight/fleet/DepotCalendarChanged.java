package org.quarterlight.fleet;

import java.util.UUID;
import org.quarterlight.tenancy.TenantEvent;
import org.quarterlight.tenancy.TenantId;

/** A depot is closed on other days than before. Published in the transaction that says so, like {@link VehiclesChanged}. */
public record DepotCalendarChanged(TenantId tenant, UUID depot) implements TenantEvent {}

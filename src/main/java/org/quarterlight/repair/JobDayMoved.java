package org.quarterlight.repair;

import java.util.UUID;
import org.quarterlight.tenancy.TenantEvent;
import org.quarterlight.tenancy.TenantId;

/** A job stands on another day than before, or on none; handled as the fleet, whose damages may grow until then. */
record JobDayMoved(TenantId tenant, UUID job) implements TenantEvent {}

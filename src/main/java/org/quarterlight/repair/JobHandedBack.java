package org.quarterlight.repair;

import java.util.UUID;
import org.quarterlight.tenancy.TenantEvent;
import org.quarterlight.tenancy.TenantId;

/** The performer cannot do a job; handled as the fleet, which performs it itself again. */
public record JobHandedBack(TenantId tenant, UUID job, String reason) implements TenantEvent {}

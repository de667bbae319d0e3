package org.quarterlight.repair;

import java.time.Instant;
import java.util.UUID;
import org.quarterlight.tenancy.TenantEvent;
import org.quarterlight.tenancy.TenantId;

/** The performer has given a job up; handled as the fleet, which then needs new glass. */
public record JobAbandoned(TenantId tenant, UUID job, String reason, Instant at) implements TenantEvent {}

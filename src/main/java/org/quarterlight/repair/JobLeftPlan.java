package org.quarterlight.repair;

import java.util.UUID;
import org.quarterlight.tenancy.TenantEvent;
import org.quarterlight.tenancy.TenantId;

/** A planned job will not be done on its day: whoever planned it takes it off. The tenant is the performer. */
public record JobLeftPlan(TenantId tenant, UUID job) implements TenantEvent {}

package org.quarterlight.repair;

import java.time.Instant;
import java.util.UUID;
import org.quarterlight.damage.SeenDamage;
import org.quarterlight.tenancy.TenantEvent;
import org.quarterlight.tenancy.TenantId;

/** The performer has measured a damage again; handled as the fleet, whose damage it is. */
public record MeasuredOnSite(TenantId tenant, UUID job, UUID damage, SeenDamage seen, Instant at, String by)
        implements TenantEvent {}

package org.quarterlight.fleet;

import java.time.Instant;
import java.util.UUID;
import org.quarterlight.tenancy.TenantEvent;
import org.quarterlight.tenancy.TenantId;

/** A vehicle carries new glass; what was wrong with the old is over. */
public record WindscreenFitted(TenantId tenant, UUID vehicle, UUID removed, UUID fitted, Instant at)
        implements TenantEvent {}

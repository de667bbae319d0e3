package org.quarterlight.repair;

import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.tenancy.TenantEvent;
import org.quarterlight.tenancy.TenantId;

/**
 * A planned job will not be done by whoever planned it, so it leaves its day.
 *
 * @param next told when it has left the day: the job may only then change hands
 */
public record JobLeftPlan(
        TenantId tenant, UUID job, @Nullable JobHandedBack next) implements TenantEvent {}

package org.quarterlight.repair;

import java.time.Instant;
import java.util.List;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.tenancy.TenantEvent;
import org.quarterlight.tenancy.TenantId;

/** The performer has closed a job; handled as the fleet, whose glass it is. */
public record JobClosed(
        TenantId tenant,
        UUID job,
        Work work,
        UUID vehicle,
        @Nullable UUID fitted,
        @Nullable String glassMarking,
        List<UUID> damages,
        Instant at)
        implements TenantEvent {
    public JobClosed {
        damages = List.copyOf(damages);
    }
}

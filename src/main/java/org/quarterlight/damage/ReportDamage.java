package org.quarterlight.damage;

import jakarta.validation.Valid;
import jakarta.validation.constraints.NotNull;
import java.time.Instant;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.glass.DamageKind;

/** What somebody tells us about a new damage. {@code occurredAt} is now where nobody says otherwise. */
public record ReportDamage(
        @NotNull UUID vehicleId,
        @NotNull DamageKind kind,
        @Nullable Instant occurredAt,
        @NotNull @Valid SeenDamage observation) {}

package org.quarterlight.damage;

import jakarta.validation.Valid;
import jakarta.validation.constraints.NotNull;
import java.time.Instant;
import org.jspecify.annotations.Nullable;
import org.quarterlight.glass.DamageKind;

/** Somebody looked at a damage again, and may know its kind better now. */
public record ObserveDamage(
        @Nullable DamageKind kind,
        @Nullable Instant occurredAt,
        @NotNull @Valid SeenDamage observation) {}

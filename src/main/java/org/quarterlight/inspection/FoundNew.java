package org.quarterlight.inspection;

import jakarta.validation.Valid;
import jakarta.validation.constraints.NotNull;
import org.quarterlight.damage.SeenDamage;
import org.quarterlight.glass.DamageKind;

/** A damage that nobody knew of before this inspection. */
public record FoundNew(
        @NotNull DamageKind kind, @NotNull @Valid SeenDamage observation) {}

package org.quarterlight.inspection;

import jakarta.validation.Valid;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.damage.SeenDamage;
import org.quarterlight.eligibility.Grade;
import org.quarterlight.glass.DamageKind;

/**
 * What an inspector says of a known damage.
 *
 * @param answer new for one that was reported during this inspection; failed for a finished repair that has failed
 * @param kind of a changed one, where it is known better now
 * @param observation of a changed one; may be left out where it was told to the damage itself within two hours of the
 *     inspection
 * @param goneAs of one that is gone
 * @param reason of one that is gone, or of a finished repair that has failed
 * @param found of a confirmed one: the inspector's own grade of what it does to the view; left out, the last one stays
 */
public record SeenAgain(
        @NotNull UUID damage,
        @NotNull InspectionAnswer answer,
        @Nullable DamageKind kind,
        @Valid @Nullable SeenDamage observation,
        @Nullable GoneAs goneAs,
        @Size(max = 500) @Nullable String reason,
        @Nullable Grade found) {}

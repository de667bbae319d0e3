package org.quarterlight.damage;

import java.util.List;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.eligibility.Outcome;
import org.quarterlight.glass.DamageKind;

/**
 * A damage of a glass with all that was ever seen of it.
 *
 * @param number on its glass
 * @param outcome of its newest verdict
 * @param observations oldest first
 */
public record DamageOverTime(
        UUID id,
        int number,
        DamageKind kind,
        DamageState state,
        @Nullable ClosedAs closedAs,
        Outcome outcome,
        List<ObservationView> observations) {
    public DamageOverTime {
        observations = List.copyOf(observations);
    }
}

package org.quarterlight.damage;

import java.time.Instant;
import java.time.LocalDate;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.eligibility.Verdict;
import org.quarterlight.glass.DamageKind;

/**
 * A damage with what was last seen of it and how it was last judged.
 *
 * @param samePlace the repaired damage that it lies on; null where there is none, or somebody said that it is another
 * @param failedAt when an inspection found its repair failed; null once the job that makes it good is asked for
 */
public record DamageView(
        UUID id,
        int number,
        UUID vehicle,
        String registration,
        UUID windscreen,
        DamageKind kind,
        DamageState state,
        @Nullable ClosedAs closedAs,
        @Nullable Instant closedAt,
        @Nullable String closedBecause,
        @Nullable UUID job,
        @Nullable SamePlace samePlace,
        @Nullable Instant failedAt,
        @Nullable String failedBecause,
        Instant occurredAt,
        String reportedBy,
        LocalDate actBy,
        ObservationView observation,
        Verdict verdict,
        int version) {}

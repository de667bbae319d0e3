package org.quarterlight.fleet;

import java.time.Instant;
import java.time.LocalDate;
import org.jspecify.annotations.Nullable;
import org.quarterlight.eligibility.Outcome;

/**
 * How a vehicle's open damages stand together: the worst outcome, how many, since when, and by when to act.
 *
 * @param untilMeasured one of them may be dangerous: nobody may drive until it is measured
 */
public record Condition(
        @Nullable Outcome worst,
        int openDamages,
        @Nullable Instant since,
        @Nullable LocalDate actBy,
        boolean untilMeasured) {}

package org.quarterlight.damage;

import java.math.BigDecimal;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.eligibility.Outcome;
import org.quarterlight.glass.DamageKind;

/**
 * A damage in a list. Lengths in mm.
 *
 * @param growing there where it is expected to pass a limit no later than the day on which somebody sees to it
 */
public record DamageRow(
        UUID id,
        int number,
        UUID vehicle,
        String registration,
        UUID depot,
        String depotName,
        ZoneId zone,
        DamageKind kind,
        DamageState state,
        @Nullable ClosedAs closedAs,
        Outcome outcome,
        LocalDate actBy,
        BigDecimal diameterMm,
        Instant occurredAt,
        String reportedBy,
        @Nullable UUID job,
        @Nullable Growing growing) {
    /**
     * @param passesOn when its rate takes it past a limit
     * @param plannedFor the next day on which somebody sees to it; null where every such day was missed
     */
    public record Growing(
            LocalDate passesOn,
            @Nullable LocalDate plannedFor,
            @Nullable PlannedBy plannedBy) {}
}

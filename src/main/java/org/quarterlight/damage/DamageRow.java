package org.quarterlight.damage;

import java.math.BigDecimal;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.eligibility.Outcome;
import org.quarterlight.glass.DamageKind;

/** A damage in a list. Lengths in mm. */
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
        @Nullable UUID job) {}

package org.quarterlight.repair;

import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/** A job in a list. */
public record JobRow(
        UUID id,
        int number,
        Work work,
        JobState state,
        UUID fleet,
        String fleetName,
        UUID performer,
        String performerName,
        UUID vehicle,
        String registration,
        String depotName,
        ZoneId zone,
        LocalDate actBy,
        @Nullable UUID technician,
        @Nullable String technicianName,
        @Nullable LocalDate plannedOn,
        Instant requestedAt,
        @Nullable Instant endedAt) {}

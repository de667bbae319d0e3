package org.quarterlight.repair;

import java.time.Instant;
import java.time.ZoneId;
import java.util.UUID;

/** A lot in a job, with the vehicle it went onto. */
public record LotUse(
        UUID id,
        UUID lot,
        String lotNumber,
        LotKind kind,
        UUID job,
        int jobNumber,
        JobState state,
        String registration,
        String depotName,
        ZoneId zone,
        String amount,
        Instant usedAt,
        String usedBy) {}

package org.quarterlight.dispatch;

import java.time.LocalDate;
import java.time.LocalTime;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/** Who is out with a van on one day, and when, in the zone of the van's base. */
public record ShiftView(
        UUID id,
        UUID van,
        String vanName,
        LocalDate day,
        @Nullable UUID technician,
        @Nullable String technicianName,
        LocalTime startsAt,
        LocalTime endsAt,
        int version) {}

package org.quarterlight.dispatch;

import java.math.BigDecimal;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/** A van, where it starts, who drives it, and its shift in the zone of its base. */
public record VanView(
        UUID id,
        String name,
        String base,
        BigDecimal latitude,
        BigDecimal longitude,
        ZoneId zone,
        @Nullable UUID technician,
        @Nullable String technicianName,
        LocalTime startsAt,
        LocalTime endsAt,
        int version) {}

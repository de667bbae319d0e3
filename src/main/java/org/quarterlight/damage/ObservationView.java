package org.quarterlight.damage;

import java.math.BigDecimal;
import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.eligibility.Condition;
import org.quarterlight.eligibility.Grade;
import org.quarterlight.eligibility.Layers;
import org.quarterlight.eligibility.Seen;
import org.quarterlight.glass.DamageKind;

/** What was seen of a damage at one time, lengths in mm as they were typed. */
public record ObservationView(
        UUID id,
        DamageKind kind,
        BigDecimal xMm,
        BigDecimal yMm,
        @Nullable BigDecimal toXMm,
        @Nullable BigDecimal toYMm,
        BigDecimal diameterMm,
        BigDecimal diameterStandardUncertaintyMm,
        @Nullable BigDecimal pitMm,
        @Nullable BigDecimal longestLegMm,
        @Nullable Layers layers,
        @Nullable Condition condition,
        Seen source,
        @Nullable Grade found,
        String note,
        Instant seenAt,
        Instant arrivedAt,
        String seenBy,
        List<Corner> course,
        List<Leg> legs,
        @Nullable BigDecimal bodyMm,
        @Nullable LocalDate arisenOn)
        implements SeenShape {
    public ObservationView {
        course = List.copyOf(course);
        legs = List.copyOf(legs);
    }
}

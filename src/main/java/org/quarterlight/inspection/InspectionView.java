package org.quarterlight.inspection;

import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.List;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.eligibility.Grade;
import org.quarterlight.glass.VehicleCategory;

/**
 * An inspection with what it found.
 *
 * @param dueOn a day where the vehicle's depot is
 * @param windscreen the glass that was looked at, once it was
 * @param arrivedAt when the service heard of it
 * @param grade the inspector's, of the view through the whole glass
 */
public record InspectionView(
        UUID id,
        UUID vehicle,
        String registration,
        VehicleCategory category,
        UUID depot,
        String depotName,
        ZoneId zone,
        @Nullable UUID plan,
        @Nullable String planName,
        InspectionState state,
        LocalDate dueOn,
        boolean readingNeeded,
        @Nullable LocalDate plannedOn,
        @Nullable Instant doneAt,
        @Nullable Instant arrivedAt,
        @Nullable String inspector,
        @Nullable UUID windscreen,
        @Nullable Grade grade,
        @Nullable Integer odometerKm,
        String note,
        List<InspectionFinding> findings,
        int version) {
    public InspectionView {
        findings = List.copyOf(findings);
    }
}

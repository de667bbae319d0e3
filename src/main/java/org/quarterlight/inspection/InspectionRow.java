package org.quarterlight.inspection;

import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.eligibility.Grade;
import org.quarterlight.glass.VehicleCategory;

/**
 * An inspection in a list.
 *
 * @param dueOn a day where the vehicle's depot is
 * @param readingNeeded its plan counts kilometres alone and nobody knows yet how far the vehicle runs: due after a year instead
 * @param plannedOn the day on which somebody means to do it
 * @param zone the depot's
 */
public record InspectionRow(
        UUID id,
        UUID vehicle,
        String registration,
        String makeModel,
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
        @Nullable String inspector,
        @Nullable Grade grade) {
    /** What the vehicle is, in words. */
    public String words() {
        return makeModel.isEmpty() ? category.name() : makeModel + ", " + category.name();
    }
}

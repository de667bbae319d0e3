package org.quarterlight.fleet;

import java.time.Instant;
import java.time.LocalDate;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.eligibility.Outcome;
import org.quarterlight.glass.SteeringSide;
import org.quarterlight.glass.VehicleCategory;

/**
 * A vehicle with how it stands: {@code worst} of its open damages, and since when and why it must not be driven.
 *
 * @param untilMeasured it does not stand down, but an open damage may be dangerous: not to be driven until measured
 * @param version changes with the vehicle and with how it stands
 */
public record VehicleView(
        UUID id,
        UUID depot,
        String depotName,
        String registration,
        @Nullable String vin,
        VehicleCategory category,
        @Nullable Integer maxMassKg,
        SteeringSide steeringSide,
        String makeModel,
        String fleetNumber,
        String notes,
        @Nullable LocalDate firstRegistered,
        @Nullable Outcome worst,
        int openDamages,
        @Nullable LocalDate actBy,
        @Nullable Instant standsDownSince,
        @Nullable String standsDownBecause,
        boolean untilMeasured,
        boolean retired,
        int version) {
    /** What it is, in words: the make and model where somebody typed them, else the category. */
    public String words() {
        return makeModel.isEmpty() ? category.name() : makeModel + ", " + category.name();
    }
}

package org.quarterlight.fleet;

import jakarta.validation.constraints.Max;
import jakarta.validation.constraints.Min;
import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.PastOrPresent;
import jakarta.validation.constraints.Pattern;
import jakarta.validation.constraints.Size;
import java.time.LocalDate;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.glass.SteeringSide;
import org.quarterlight.glass.VehicleCategory;

/** All that is known of a vehicle but its glass. */
public record SaveVehicle(
        @NotNull UUID depot,
        @NotBlank @Size(max = 20) String registration,

        @Pattern(
                regexp = "\\s*|\\s*[A-HJ-NPR-Za-hj-npr-z0-9]{17}\\s*",
                message = "has 17 letters and digits, without I, O and Q")
        @Nullable
        String vin,

        @NotNull VehicleCategory category,
        @Min(200) @Max(100000) @Nullable Integer maxMassKg,
        @NotNull SteeringSide steeringSide,
        @Size(max = LONGEST_MAKE_MODEL) @Nullable String makeModel,
        @Size(max = LONGEST_FLEET_NUMBER) @Nullable String fleetNumber,
        @Size(max = LONGEST_NOTES) @Nullable String notes,
        @PastOrPresent @Nullable LocalDate firstRegistered) {
    static final int LONGEST_MAKE_MODEL = 200;
    static final int LONGEST_FLEET_NUMBER = 60;
    static final int LONGEST_NOTES = 4000;

    /** Without the date of its first registration. */
    public SaveVehicle(
            UUID depot,
            String registration,
            @Nullable String vin,
            VehicleCategory category,
            @Nullable Integer maxMassKg,
            SteeringSide steeringSide,
            @Nullable String makeModel,
            @Nullable String fleetNumber,
            @Nullable String notes) {
        this(depot, registration, vin, category, maxMassKg, steeringSide, makeModel, fleetNumber, notes, null);
    }

    /** A vehicle as it is, to change from. */
    public static SaveVehicle of(VehicleView vehicle) {
        return new SaveVehicle(
                vehicle.depot(),
                vehicle.registration(),
                vehicle.vin(),
                vehicle.category(),
                vehicle.maxMassKg(),
                vehicle.steeringSide(),
                vehicle.makeModel(),
                vehicle.fleetNumber(),
                vehicle.notes(),
                vehicle.firstRegistered());
    }
}

package org.quarterlight.fleet;

import jakarta.validation.constraints.Max;
import jakarta.validation.constraints.Min;
import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Pattern;
import jakarta.validation.constraints.Size;
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
        @Size(max = 120) @Nullable String makeModel,
        @Size(max = 40) @Nullable String fleetNumber,
        @Size(max = 2000) @Nullable String notes) {}

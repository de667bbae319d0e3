package org.quarterlight.fleet.web;

import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.NotNull;
import java.time.LocalDate;
import java.util.Objects;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.fleet.SaveVehicle;
import org.quarterlight.fleet.VehicleView;
import org.quarterlight.glass.SteeringSide;
import org.quarterlight.glass.VehicleCategory;

/** A vehicle as it is typed. Any field may still be missing; a command is made only of a checked form. */
class VehicleForm {
    @NotBlank(message = "Give the registration")
    @Nullable
    String registration;

    @NotNull(message = "Choose the depot")
    @Nullable
    UUID depot;

    @NotNull(message = "Choose the category")
    @Nullable
    VehicleCategory category;

    @NotNull(message = "Say on which side the steering wheel is")
    @Nullable
    SteeringSide steeringSide;

    @Nullable
    Integer maxMassKg;

    @Nullable
    String vin;

    @Nullable
    String makeModel;

    @Nullable
    String fleetNumber;

    @Nullable
    LocalDate firstRegistered;

    @Nullable
    String notes;

    /** The version that the form was filled from. */
    int version;

    void fill(VehicleView vehicle) {
        registration = vehicle.registration();
        depot = vehicle.depot();
        category = vehicle.category();
        steeringSide = vehicle.steeringSide();
        maxMassKg = vehicle.maxMassKg();
        vin = vehicle.vin();
        makeModel = vehicle.makeModel();
        fleetNumber = vehicle.fleetNumber();
        firstRegistered = vehicle.firstRegistered();
        notes = vehicle.notes();
        version = vehicle.version();
    }

    SaveVehicle command() {
        return new SaveVehicle(
                Objects.requireNonNull(depot),
                Objects.requireNonNull(registration),
                vin,
                Objects.requireNonNull(category),
                maxMassKg,
                Objects.requireNonNull(steeringSide),
                makeModel,
                fleetNumber,
                notes,
                firstRegistered);
    }
}

package org.quarterlight.fleet.list;

import java.time.LocalDate;
import org.jspecify.annotations.Nullable;
import org.quarterlight.glass.SteeringSide;
import org.quarterlight.glass.VehicleCategory;

/**
 * What a list says of one vehicle. Null where it says nothing: a known vehicle then keeps what is known of it, and a new
 * one gets what the caller holds right for its depot.
 *
 * @param depot a name or a code, as it stands in the list
 * @param glassFitted when the present windscreen was fitted
 */
public record VehicleLine(
        Registration registration,
        @Nullable Vin vin,
        @Nullable VehicleCategory category,
        @Nullable Integer maximumMassKg,
        @Nullable SteeringSide steeringSide,
        @Nullable String depot,
        @Nullable String make,
        @Nullable String model,
        @Nullable String fleetNumber,
        @Nullable LocalDate firstRegistered,
        @Nullable LocalDate glassFitted,
        @Nullable String notes) {

    /** Texts lose the blanks around them; what is blank or a mere dash says nothing. */
    public VehicleLine {
        depot = Cells.said(depot);
        make = Cells.said(make);
        model = Cells.said(model);
        fleetNumber = Cells.said(fleetNumber);
        notes = Cells.said(notes);
    }
}

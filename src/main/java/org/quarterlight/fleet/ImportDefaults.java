package org.quarterlight.fleet;

import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.glass.SteeringSide;
import org.quarterlight.glass.VehicleCategory;

/**
 * What holds for a new vehicle where the list says nothing. Without a depot it is the only one there is; without a side,
 * that of its depot's country.
 */
public record ImportDefaults(
        @Nullable UUID depot,
        @Nullable VehicleCategory category,
        @Nullable SteeringSide steeringSide) {
    /** Nothing but what follows from the depots. */
    public static ImportDefaults none() {
        return new ImportDefaults(null, null, null);
    }
}

package org.quarterlight.fleet;

import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.eligibility.Outcome;
import org.quarterlight.glass.VehicleCategory;

/**
 * Which vehicles, in which order. What is null does not narrow the list.
 *
 * @param search the beginning of a registration or VIN
 * @param damaged with open damage, or without
 * @param standsDown must not be driven until somebody clears it, or may be driven; damage need not be open
 * @param notToBeDriven stands down, or is not to be driven until a damage is measured that may be dangerous; or neither
 */
public record VehicleFilter(
        @Nullable String search,
        @Nullable UUID depot,
        @Nullable VehicleCategory category,
        @Nullable Boolean damaged,
        @Nullable Outcome worst,
        @Nullable Boolean standsDown,
        @Nullable Boolean notToBeDriven,
        @Nullable Sort sort) {
    /** The order of the list. */
    public enum Sort {
        REGISTRATION,
        WORST_FIRST,
        NEWEST
    }

    /** Vehicles whose registration or VIN begins like this. */
    public static VehicleFilter beginning(String search) {
        return new VehicleFilter(search, null, null, null, null, null, null, null);
    }

    /** Vehicles that must not be driven, or not until a damage is measured. */
    public static VehicleFilter offTheRoad() {
        return new VehicleFilter(null, null, null, null, null, null, true, null);
    }

    /** All vehicles, by registration. */
    public static VehicleFilter none() {
        return new VehicleFilter(null, null, null, null, null, null, null, null);
    }
}

package org.quarterlight.eligibility;

import org.jspecify.annotations.Nullable;
import org.quarterlight.glass.VehicleCategory;

/** What limits depend on besides the glass. A mass that nobody knows counts as the heaviest of its category. */
public record VehicleFacts(
        VehicleCategory category, @Nullable Double maximumMassKg) {
    double massKg() {
        if (maximumMassKg != null) {
            return maximumMassKg;
        }
        return switch (category) { // the categories' own bounds, UNECE R.E.3
            case M1, N1 -> 3500;
            case M2 -> 5000;
            case N2 -> 12000;
            case M3, N3 -> Double.MAX_VALUE;
        };
    }
}

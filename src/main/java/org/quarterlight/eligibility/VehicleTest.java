package org.quarterlight.eligibility;

import java.util.List;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import org.quarterlight.glass.VehicleCategory;

/** Which vehicles a sheet, a rule or a way to draw a zone is for. Mass is the maximum mass in kg. */
public record VehicleTest(
        Set<VehicleCategory> categories,
        @Nullable Double massOverKg,
        @Nullable Double massUpToKg) {
    public VehicleTest {
        categories = Set.copyOf(categories);
    }

    /** No test at all takes every vehicle. */
    static boolean anyHolds(List<VehicleTest> tests, VehicleFacts vehicle) {
        return tests.isEmpty() || tests.stream().anyMatch(test -> test.holds(vehicle));
    }

    private boolean holds(VehicleFacts vehicle) {
        return (categories.isEmpty() || categories.contains(vehicle.category()))
                && (massOverKg == null || vehicle.massKg() > massOverKg)
                && (massUpToKg == null || vehicle.massKg() <= massUpToKg);
    }
}

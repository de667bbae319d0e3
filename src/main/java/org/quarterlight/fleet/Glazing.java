package org.quarterlight.fleet;

import java.time.LocalDate;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.eligibility.PatternReference;
import org.quarterlight.eligibility.VehicleFacts;
import org.quarterlight.glass.GlassPattern;

/** A vehicle, where it stands, and one of its windscreens with its geometry: what a damage is judged on. */
public record Glazing(
        VehicleView vehicle,
        DepotView depot,
        UUID windscreen,
        @Nullable LocalDate fittedOn,
        boolean fitted,
        UUID patternId,
        int patternVersion,
        boolean genericGlass,
        GlassPattern pattern) {
    /** As the rules see it. */
    public org.quarterlight.eligibility.Glazing facts() {
        var mass = vehicle.maxMassKg();
        return new org.quarterlight.eligibility.Glazing(
                pattern,
                new PatternReference(patternId.toString(), patternVersion, genericGlass),
                new VehicleFacts(vehicle.category(), mass == null ? null : mass.doubleValue()));
    }
}

package org.quarterlight.rulebook;

import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.quarterlight.eligibility.Sheet;
import org.quarterlight.eligibility.Sheets;
import org.quarterlight.eligibility.VehicleFacts;
import org.quarterlight.glass.VehicleCategory;

/**
 * By which sheets an organisation judges, as it was at one time.
 *
 * @param chosen those chosen for a category; a category that is not here is judged by those of the depot's country
 */
public record Judging(Map<VehicleCategory, List<Sheet>> chosen) {
    public Judging {
        chosen = Map.copyOf(chosen);
    }

    /** The sheets for a vehicle standing in this place. Those that are not for its mass take no part. */
    public List<Sheet> sheetsFor(VehicleFacts vehicle, String country, @Nullable String subdivision) {
        return chosenFor(vehicle.category(), country, subdivision).stream()
                .filter(sheet -> sheet.appliesTo(vehicle))
                .toList();
    }

    /** The same for every mass. */
    public List<Sheet> chosenFor(VehicleCategory category, String country, @Nullable String subdivision) {
        var of = chosen.getOrDefault(category, List.of());
        return of.isEmpty() ? Sheets.startingFor(country, subdivision) : of;
    }
}

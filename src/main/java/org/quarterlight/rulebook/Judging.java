package org.quarterlight.rulebook;

import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.quarterlight.eligibility.Question;
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

    /**
     * The sheets by which a finished repair on such a vehicle is looked over: those chosen for its category, and where none
     * of them speaks of finished repairs its country's, else common practice.
     */
    public List<Sheet> acceptanceFor(VehicleFacts vehicle, String country, @Nullable String subdivision) {
        var of = chosen.getOrDefault(vehicle.category(), List.of()).stream()
                .filter(sheet -> sheet.question() == Question.ACCEPTABLE)
                .toList();
        return (of.isEmpty() ? Sheets.acceptingFor(country, subdivision) : of)
                .stream().filter(sheet -> sheet.appliesTo(vehicle)).toList();
    }

    /** The same for every mass. */
    public List<Sheet> chosenFor(VehicleCategory category, String country, @Nullable String subdivision) {
        var of = chosen.getOrDefault(category, List.of());
        return of.isEmpty() ? Sheets.startingFor(country, subdivision) : of;
    }
}

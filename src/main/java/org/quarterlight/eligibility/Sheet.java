package org.quarterlight.eligibility;

import java.time.LocalDate;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;

/**
 * A versioned, dated set of limits for one question, one region and some vehicles. One that is
 * {@code onlyByChoice} judges nobody who has not chosen it: a withdrawn edition, or a reading on doubtful grounds. Made by {@link Sheets}, which refuses
 * what contradicts itself.
 */
public record Sheet(
        String id,
        String name,
        int version,
        Question question,
        @Nullable String country,
        @Nullable String subdivision,
        List<VehicleTest> vehicles,
        LocalDate validFrom,
        boolean onlyByChoice,
        @Nullable String note,
        Map<String, List<Zone.Drawn>> zones,
        List<Rule> rules) {
    public Sheet {
        vehicles = List.copyOf(vehicles);
        var drawn = new LinkedHashMap<String, List<Zone.Drawn>>();
        zones.forEach((zone, ways) -> drawn.put(zone, List.copyOf(ways)));
        zones = Collections.unmodifiableMap(drawn);
        rules = List.copyOf(rules);
    }

    public SheetReference reference() {
        return new SheetReference(id, name, version);
    }

    /** Whether the sheet is for vehicles of this category and mass. */
    public boolean appliesTo(VehicleFacts vehicle) {
        return VehicleTest.anyHolds(vehicles, vehicle);
    }

    /** The worst status of its sources, for a mark beside the sheet's name. */
    public Status weakestStatus() {
        return rules.stream()
                .map(rule -> rule.source().status())
                .max(Status::compareTo)
                .orElse(Status.MEMORY);
    }

    /** The same sheet under another name and number, as an organisation's own. */
    public Sheet as(String newId, String newName, int newVersion) {
        return new Sheet(
                newId,
                newName,
                newVersion,
                question,
                country,
                subdivision,
                vehicles,
                validFrom,
                onlyByChoice,
                note,
                zones,
                rules);
    }
}

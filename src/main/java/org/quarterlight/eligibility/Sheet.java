package org.quarterlight.eligibility;

import java.time.LocalDate;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.stream.Collectors;
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
        List<String> alsoIn,
        List<VehicleTest> vehicles,
        LocalDate validFrom,
        boolean onlyByChoice,
        @Nullable Disagreement disagreement,
        @Nullable String note,
        Map<String, List<Zone.Drawn>> zones,
        List<Rule> rules) {
    public Sheet {
        alsoIn = List.copyOf(alsoIn);
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
                alsoIn,
                vehicles,
                validFrom,
                onlyByChoice,
                disagreement,
                note,
                zones,
                rules);
    }

    /** The same sheet with these rules alone. */
    Sheet with(List<Rule> only) {
        return new Sheet(
                id,
                name,
                version,
                question,
                country,
                subdivision,
                alsoIn,
                vehicles,
                validFrom,
                onlyByChoice,
                disagreement,
                note,
                zones,
                only);
    }

    /** Whether the sheet is that of this country, in all of it or in a part. */
    public boolean isOf(String land) {
        return land.equals(country) || alsoIn.contains(land);
    }

    /** The other readings that its limits conflict with, by the ids of their sheets. */
    public Set<String> otherReadings() {
        return rules.stream()
                .map(rule -> rule.source().conflictsWith())
                .filter(Objects::nonNull)
                .flatMap(List::stream)
                .map(OtherReading::sheet)
                .collect(Collectors.toCollection(LinkedHashSet::new));
    }
}

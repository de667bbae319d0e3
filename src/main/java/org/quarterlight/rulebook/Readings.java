package org.quarterlight.rulebook;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Objects;
import java.util.Set;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.quarterlight.eligibility.Disagreement;
import org.quarterlight.eligibility.Sheet;
import org.quarterlight.eligibility.Sheets;
import org.quarterlight.eligibility.VehicleFacts;
import org.quarterlight.glass.VehicleCategory;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Where sources of the shipped sheets disagree: which reading the organisation judges by, and which it may choose instead. */
@Service
public class Readings {
    private final Rulebook rulebook;
    private final HomeCountries countries;

    Readings(Rulebook rulebook, HomeCountries countries) {
        this.rulebook = rulebook;
        this.countries = countries;
    }

    /**
     * One thing that sources disagree on.
     *
     * @param on to follow "Sources disagree on"
     * @param readings each a sheet, those that judge here first
     * @param startsBecause why an organisation starts with the reading that it does
     */
    public record Conflict(
            String on,
            List<SourceReading> readings,
            @Nullable String startsBecause) {
        public Conflict {
            readings = List.copyOf(readings);
        }
    }

    /**
     * One way to read them.
     *
     * @param sheet the id of the sheet that takes it
     * @param judges whether any vehicle of the organisation's may be judged by it
     * @param starts whether an organisation begins with it
     */
    public record SourceReading(String sheet, String name, String reading, boolean judges, boolean starts) {}

    /** The conflicts that matter where the organisation has depots, or by whose sheets it judges. */
    @Transactional(readOnly = true)
    @PreAuthorize("hasAnyRole('MANAGER', 'DISPATCHER', 'TECHNICIAN')")
    public List<Conflict> here() {
        var home = countries.homeCountries();
        var judging = judging(home);
        return families().stream()
                .filter(family -> family.stream()
                        .anyMatch(sheet ->
                                judging.contains(sheet.id()) || home.stream().anyMatch(sheet::isOf)))
                .map(family -> conflict(family, judging))
                .toList();
    }

    private static Conflict conflict(List<Sheet> family, Set<String> judging) {
        var readings = family.stream()
                .map(sheet -> new SourceReading(
                        sheet.id(),
                        sheet.name(),
                        said(sheet).reading(),
                        judging.contains(sheet.id()),
                        said(sheet).startsBecause() != null))
                .toList();
        return new Conflict(
                said(family.getFirst()).on(),
                Stream.concat(
                                readings.stream().filter(SourceReading::judges),
                                readings.stream().filter(reading -> !reading.judges()))
                        .toList(),
                family.stream()
                        .map(sheet -> said(sheet).startsBecause())
                        .filter(Objects::nonNull)
                        .findFirst()
                        .orElse(null));
    }

    private static Disagreement said(Sheet sheet) {
        return Objects.requireNonNull(sheet.disagreement(), "a sheet that others conflict with says so");
    }

    private Set<String> judging(Set<String> home) {
        var chosen = rulebook.judging().chosen();
        var judging = new HashSet<String>();
        for (var category : VehicleCategory.values()) {
            var of = chosen.getOrDefault(category, List.of());
            var vehicle = new VehicleFacts(category, null);
            (of.isEmpty() ? home.stream().flatMap(country -> Sheets.startingFor(country, null).stream()) : of.stream())
                    .filter(sheet -> sheet.appliesTo(vehicle))
                    .forEach(sheet -> judging.add(sheet.id()));
        }
        return judging;
    }

    /** Sheets that conflict with each other, directly or by way of others, in the order in which they are offered. */
    private static List<List<Sheet>> families() {
        var families = new ArrayList<List<Sheet>>();
        var placed = new HashSet<String>();
        for (var sheet : Sheets.shipped()) {
            if (!sheet.otherReadings().isEmpty() && !placed.contains(sheet.id())) {
                var family = new LinkedHashSet<>(Set.of(sheet.id()));
                var before = 0;
                while (before < family.size()) {
                    before = family.size();
                    Sheets.shipped().stream()
                            .filter(each -> family.contains(each.id()))
                            .map(Sheet::otherReadings)
                            .toList()
                            .forEach(family::addAll);
                }
                placed.addAll(family);
                families.add(Sheets.shipped().stream()
                        .filter(each -> family.contains(each.id()))
                        .toList());
            }
        }
        return families;
    }
}

package org.quarterlight.damage;

import java.time.Instant;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.quarterlight.eligibility.Choices;
import org.quarterlight.eligibility.DamageFacts;
import org.quarterlight.eligibility.Glazing;
import org.quarterlight.eligibility.Outcome;
import org.quarterlight.eligibility.OutcomeJudge;
import org.quarterlight.eligibility.PatternReference;
import org.quarterlight.eligibility.Sheet;
import org.quarterlight.eligibility.VehicleFacts;
import org.quarterlight.fleet.GlassPatterns;
import org.quarterlight.glass.VehicleCategory;
import org.quarterlight.rulebook.Judging;
import org.quarterlight.tenancy.Tenants;
import org.springframework.jdbc.core.simple.JdbcClient;

/**
 * Judges open damages some windscreens at a time, by the present sheets and with one of them exchanged. Holds no more than
 * those windscreens and some judges, however large the fleet is.
 */
final class WhatIf {
    private static final int JUDGES_KEPT = 64;

    private final JdbcClient jdbc;
    private final ObservationRepository observations;
    private final GlassPatterns patterns;
    private final Judging judging;
    private final Choices choices;
    private final Sheet candidate;
    private final @Nullable String replaces;
    private final Instant judgedAt;
    private final Map<Place, Sheets> sheetsOfPlaces = new HashMap<>();

    /** Those used last. */
    private final Map<Key, Judges> judges = new LinkedHashMap<>(16, 0.75f, true) {
        @Override
        protected boolean removeEldestEntry(Map.Entry<Key, Judges> eldest) {
            return size() > JUDGES_KEPT;
        }
    };

    WhatIf(
            JdbcClient jdbc,
            ObservationRepository observations,
            GlassPatterns patterns,
            Judging judging,
            Choices choices,
            Sheet candidate,
            @Nullable String replaces,
            Instant judgedAt) {
        this.jdbc = jdbc;
        this.observations = observations;
        this.patterns = patterns;
        this.judging = judging;
        this.choices = choices;
        this.candidate = candidate;
        this.replaces = replaces;
        this.judgedAt = judgedAt;
    }

    /** A damage and what it comes to. */
    record Judged(UUID damage, Outcome from, Outcome to) {}

    private record Place(
            VehicleCategory category,
            String country,
            @Nullable String subdivision) {}

    /** Not yet narrowed to those for a vehicle's mass. */
    private record Sheets(List<Sheet> present, List<Sheet> proposed) {}

    private record Key(UUID pattern, int version, Place place, List<Boolean> kind) {}

    private record Judges(OutcomeJudge present, OutcomeJudge proposed) {}

    private record Row(
            UUID windscreen,
            UUID damage,
            boolean repaired,
            UUID pattern,
            int version,
            boolean generic,
            VehicleFacts vehicle,
            String country,
            @Nullable String subdivision,
            ZoneId zone) {}

    /** The outcomes of what is open on these windscreens; within a transaction of the caller. */
    List<Judged> judge(List<UUID> windscreens) {
        var rows = jdbc.sql("""
            select g.windscreen_id, g.id, g.state, w.pattern_id, w.pattern_number, p.generic, v.category, v.max_mass_kg,
                d.country, d.subdivision, d.zone
            from damage g
            join windscreen w on w.tenant_id = g.tenant_id and w.id = g.windscreen_id
            join glass_pattern p on p.tenant_id = w.tenant_id and p.id = w.pattern_id
            join vehicle v on v.tenant_id = w.tenant_id and v.id = w.vehicle_id
            join depot d on d.tenant_id = v.tenant_id and d.id = v.depot_id
            where g.tenant_id = :organisation and g.windscreen_id in (:windscreens)
                and (g.state <> 'CLOSED' or g.closed_as = 'REPAIRED')
            order by g.windscreen_id, g.number\
            """)
                .param("organisation", Tenants.require().value())
                .param("windscreens", windscreens)
                .query((row, number) -> {
                    var mass = row.getObject("max_mass_kg", Integer.class);
                    return new Row(
                            row.getObject("windscreen_id", UUID.class),
                            row.getObject("id", UUID.class),
                            row.getString("state").equals(DamageState.CLOSED.name()),
                            row.getObject("pattern_id", UUID.class),
                            row.getInt("pattern_number"),
                            row.getString("generic") != null,
                            new VehicleFacts(
                                    VehicleCategory.valueOf(row.getString("category")),
                                    mass == null ? null : mass.doubleValue()),
                            row.getString("country"),
                            row.getString("subdivision"),
                            ZoneId.of(row.getString("zone")));
                })
                .list();
        if (rows.isEmpty()) {
            return List.of();
        }
        var seen = observations
                .newest(
                        Tenants.require().value(),
                        rows.stream().map(Row::damage).toList())
                .stream()
                .collect(Collectors.toMap(Observation::damage, Function.identity()));
        var judged = new ArrayList<Judged>();
        for (var from = 0; from < rows.size(); ) {
            var to = from + 1;
            while (to < rows.size()
                    && rows.get(to).windscreen().equals(rows.get(from).windscreen())) {
                to++;
            }
            var onGlass = rows.subList(from, to);
            var facts = onGlass.stream()
                    .map(row -> Objects.requireNonNull(seen.get(row.damage()), "a damage was seen at least once")
                            .facts(row.repaired(), row.zone()))
                    .toList();
            judged.addAll(judge(onGlass.getFirst(), facts));
            from = to;
        }
        return judged;
    }

    private List<Judged> judge(Row glass, List<DamageFacts> facts) {
        var judges = judges(glass);
        var present = judges.present().outcomes(facts, judgedAt);
        var proposed = judges.proposed() == judges.present()
                ? present
                : judges.proposed().outcomes(facts, judgedAt);
        return present.entrySet().stream()
                .map(each ->
                        new Judged(each.getKey(), each.getValue(), Objects.requireNonNull(proposed.get(each.getKey()))))
                .toList();
    }

    private Judges judges(Row glass) {
        var place = new Place(glass.vehicle().category(), glass.country(), glass.subdivision());
        var sheets = sheetsOfPlaces.computeIfAbsent(place, this::sheets);
        var all = new ArrayList<>(sheets.present());
        all.addAll(sheets.proposed());
        var key = new Key(glass.pattern(), glass.version(), place, OutcomeJudge.kindOf(glass.vehicle(), all));
        var known = judges.get(key);
        if (known == null) {
            var glazing = new Glazing(
                    patterns.drawn(glass.pattern(), glass.version()),
                    new PatternReference(glass.pattern().toString(), glass.version(), glass.generic()),
                    glass.vehicle());
            var present = OutcomeJudge.on(glazing, sheets.present(), choices);
            known = new Judges(
                    present,
                    sheets.proposed().equals(sheets.present())
                            ? present
                            : OutcomeJudge.on(glazing, sheets.proposed(), choices));
            judges.put(key, known);
        }
        return known;
    }

    private Sheets sheets(Place place) {
        var present = judging.chosenFor(place.category(), place.country(), place.subdivision());
        var proposed = new ArrayList<Sheet>();
        for (var sheet : present) {
            if (!sheet.id().equals(candidate.id())) {
                proposed.add(sheet.id().equals(replaces) ? candidate : sheet);
            }
        }
        var stood = present.stream().anyMatch(sheet -> sheet.id().equals(candidate.id()));
        if ((stood || replaces == null) && !proposed.contains(candidate)) {
            proposed.add(candidate);
        }
        return new Sheets(present, List.copyOf(proposed));
    }
}

package org.quarterlight.eligibility;

import java.time.Instant;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.UUID;
import org.locationtech.jts.geom.Geometry;
import org.quarterlight.glass.DamageKind;
import org.quarterlight.glass.DamageShape;
import org.quarterlight.glass.VehicleCategory;

/** Judges the damages of one glass by rule sheets. Pure: the same facts, sheets and choices give the same verdict. */
public final class Eligibility {
    private Eligibility() {}

    /** Between the nearest points of two damages of one glass; negative where they overlap, 0 where lines meet. */
    public static double gapMm(DamageShape one, DamageShape other) {
        return Place.of(one).gapMm(Place.of(other));
    }

    /**
     * Draws the sheets' zones on the glass once, for judging there more than once. Sheets that are not for the vehicle
     * take no part.
     */
    public static GlassJudge on(Glazing glazing, List<Sheet> sheets, Choices choices) {
        return new GlassJudge(glazing, sheets, choices);
    }

    /**
     * A verdict for every open damage, by its id and in the order given. Finished repairs that are still on the glass
     * stand beside them in the list and get no verdict of their own; sheets decide whether they count.
     */
    public static Map<UUID, Verdict> judge(
            Glazing glazing, List<DamageFacts> damages, List<Sheet> sheets, Choices choices, Instant judgedAt) {
        return on(glazing, sheets, choices).judge(damages, judgedAt);
    }

    /**
     * Where the centre of a round damage of this kind and size may lie so that no repair sheet forbids its place; the
     * damages given are kept clear as the sheets say. What depends on more than place, kind and size is told beside it.
     */
    public static Permitted permitted(
            Glazing glazing, DamageKind kind, double diameterMm, List<DamageFacts> others, List<Sheet> sheets) {
        return new PermittedPlaces(glazing, kind, diameterMm, others, sheets).permitted();
    }

    /** Whether this verdict takes the vehicle off the road: by itself, or because the organisation chose so for a major grade. */
    public static boolean standsDown(Verdict verdict, VehicleCategory category, Choices choices) {
        var road = verdict.answers().roadworthy();
        return verdict.outcome() == Outcome.STAND_DOWN
                || (road.grade() == Grade.MAJOR && choices.majorStandsDownFor().contains(category));
    }

    /** Whether nobody may drive until it is measured: it does not stand down for certain, but it may be dangerous. */
    public static boolean untilMeasured(Verdict verdict, VehicleCategory category, Choices choices) {
        return !standsDown(verdict, category, choices)
                && verdict.answers().roadworthy().worstPossible() == Grade.DANGEROUS;
    }

    /** The damage with the worst outcome speaks for the vehicle; none where nothing is wrong. */
    public static Optional<Outcome> worst(Iterable<Verdict> verdicts) {
        Optional<Outcome> worst = Optional.empty();
        for (var verdict : verdicts) {
            if (worst.isEmpty() || verdict.outcome().compareTo(worst.get()) < 0) {
                worst = Optional.of(verdict.outcome());
            }
        }
        return worst;
    }

    /** One or two sentences for the driver: whether to drive on. */
    public static String forDriver(Verdict verdict, VehicleCategory category, Choices choices) {
        return Sentences.forDriver(
                verdict, standsDown(verdict, category, choices), untilMeasured(verdict, category, choices));
    }

    /** The zones of its own that a sheet's rules name, as they lie on this glass, in the order in which they are written. */
    public static Map<String, Geometry> zones(Glazing glazing, Sheet sheet) {
        var areas = new Areas(glazing);
        var zones = new LinkedHashMap<String, Geometry>();
        for (var name : sheet.zones().keySet()) {
            if (sheet.rules().stream().anyMatch(rule -> name.equals(rule.where()))) {
                var geometry = areas.zone(sheet, name).geometry();
                if (!geometry.isEmpty()) {
                    zones.put(name, geometry);
                }
            }
        }
        if (sheet.rules().stream().anyMatch(Rule::readsVisibleEdge)) {
            zones.put(Zone.VISIBLE_GLASS, areas.zone(sheet, Zone.VISIBLE_GLASS).geometry());
        }
        return zones;
    }

    /**
     * How wide the widest driver's zone of these sheets is on this vehicle, mm: what a drawing shows. Empty where none
     * has one.
     */
    public static OptionalDouble driversZoneWidthMm(Glazing glazing, List<Sheet> sheets) {
        return sheets.stream()
                .filter(sheet -> sheet.appliesTo(glazing.vehicle()))
                .flatMap(sheet -> sheet.zones().getOrDefault(Zone.DRIVERS_ZONE, List.of()).stream()
                        .filter(drawn -> VehicleTest.anyHolds(drawn.vehicles(), glazing.vehicle()))
                        .limit(1))
                .filter(drawn -> drawn.zone() instanceof Zone.Band)
                .mapToDouble(drawn -> ((Zone.Band) drawn.zone()).widthMm())
                .max();
    }
}

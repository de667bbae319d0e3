package org.quarterlight.eligibility;

import java.util.List;
import org.locationtech.jts.geom.Geometry;
import org.locationtech.jts.operation.buffer.BufferOp;
import org.locationtech.jts.operation.overlayng.OverlayNG;
import org.quarterlight.glass.DamageKind;

/** Where the centre of a round damage may lie: the glass, less every place where a repair sheet says no. */
final class PermittedPlaces {
    /** Sides of a quarter circle; at a radius of 300 mm the chord stays within 0.1 mm of the arc. */
    private static final int QUARTER_SIDES = 32;

    private final Glazing glazing;
    private final DamageKind kind;
    private final double diameterMm;
    private final List<DamageFacts> others;
    private final Areas areas;
    private Geometry left;

    PermittedPlaces(Glazing glazing, DamageKind kind, double diameterMm, List<DamageFacts> others, List<Sheet> sheets) {
        this.glazing = glazing;
        this.kind = kind;
        this.diameterMm = diameterMm;
        this.others = others;
        areas = new Areas(glazing);
        left = areas.wholeGlass().geometry();
        for (var sheet : sheets) {
            if (sheet.question() == Question.REPAIRABLE && sheet.appliesTo(glazing.vehicle())) {
                sheet.rules().forEach(rule -> take(sheet, rule));
            }
        }
    }

    Geometry geometry() {
        return left;
    }

    private void take(Sheet sheet, Rule rule) {
        var limitMm = rule.limitMm();
        if (limitMm == null || !rule.speaksOf(kind) || !VehicleTest.anyHolds(rule.vehicles(), glazing.vehicle())) {
            return;
        }
        var zone = rule.where() == null
                ? areas.wholeGlass().geometry()
                : areas.zone(sheet, rule.where()).geometry();
        switch (rule.quantity()) {
            case OVERALL_DIAMETER -> {
                if (isBroken(rule, limitMm)) {
                    without(grown(zone, 0));
                }
            }
            case CRACK_LENGTH -> {
                if (kind == DamageKind.CRACK && isBroken(rule, limitMm)) {
                    without(grown(zone, 0));
                }
            }
            case DISTANCE_TO_ZONE -> {
                if (isLower(rule)) {
                    without(grown(zone, limitMm));
                }
            }
            case DISTANCE_TO_EDGE -> {
                if (isLower(rule)) {
                    var inside = buffer(areas.wholeGlass().geometry(), -(limitMm + diameterMm / 2));
                    var tooClose = Areas.overlay(areas.wholeGlass().geometry(), inside, OverlayNG.DIFFERENCE);
                    without(
                            rule.where() == null
                                    ? tooClose
                                    : Areas.overlay(tooClose, grown(zone, 0), OverlayNG.INTERSECTION));
                }
            }
            case DISTANCE_TO_OTHER_DAMAGE, DISTANCE_TO_FINISHED_REPAIR -> {
                if (isLower(rule)) {
                    others.stream().filter(other -> isKeptFrom(rule, other)).forEach(other -> {
                        var place = Place.of(other.shape());
                        var clear = buffer(place.lines(), place.reachMm() + limitMm + diameterMm / 2);
                        without(
                                rule.where() == null
                                        ? clear
                                        : Areas.overlay(clear, grown(zone, 0), OverlayNG.INTERSECTION));
                    });
                }
            }
            case PIT_DIAMETER,
                    LONGEST_LEG,
                    BODY_DIAMETER,
                    LENGTH_IN_ZONE,
                    COUNT,
                    EARLIER_REPAIRS,
                    ENDS_AT_EDGE,
                    AGE_DAYS,
                    LAYERS,
                    CONDITION,
                    CROSSES_ZONE,
                    VIEW -> {
                // these depend on more than place and size
            }
        }
    }

    private static boolean isLower(Rule rule) {
        return rule.bound() == Bound.AT_LEAST || rule.bound() == Bound.MORE_THAN;
    }

    private boolean isBroken(Rule rule, double limitMm) {
        return !rule.bound().holdsAt(rule.bound().margin(diameterMm, limitMm));
    }

    private static boolean isKeptFrom(Rule rule, DamageFacts other) {
        if (rule.quantity() == Quantity.DISTANCE_TO_FINISHED_REPAIR) {
            return other.finishedRepair();
        }
        return (!other.finishedRepair() || rule.countsFinishedRepairs()) && rule.countsAsOther(other.kind());
    }

    /** Where a damage of this size would come closer to the zone than that. */
    private Geometry grown(Geometry zone, double limitMm) {
        return buffer(zone, limitMm + diameterMm / 2);
    }

    private static Geometry buffer(Geometry geometry, double byMm) {
        return BufferOp.bufferOp(geometry, byMm, QUARTER_SIDES);
    }

    private void without(Geometry taken) {
        left = Areas.overlay(left, taken, OverlayNG.DIFFERENCE);
    }
}

package org.quarterlight.eligibility;

import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Objects;
import java.util.Set;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.locationtech.jts.geom.Geometry;
import org.locationtech.jts.geom.GeometryFactory;
import org.locationtech.jts.operation.buffer.BufferOp;
import org.locationtech.jts.operation.overlayng.OverlayNG;
import org.quarterlight.glass.DamageKind;
import org.quarterlight.glass.DamageShape;
import org.quarterlight.glass.Measured;

/**
 * Where the centre of a round damage may lie: the glass, less every place where a repair sheet says no. Kind, size and place
 * are certain. Of what a rule asks besides, the most favourable is taken for granted and said: only the outer glass is
 * hit, it is clean, dry and new. The longest leg is half the diameter, a body too, a crack straight and as long as its
 * circle is wide.
 */
final class PermittedPlaces {
    /** Sides of a quarter circle; at a radius of 300 mm the chord stays within 0.1 mm of the arc. */
    private static final int QUARTER_SIDES = 32;

    private static final GeometryFactory GEOMETRY = new GeometryFactory();
    private static final UUID PROBE = new UUID(0, 0);

    private final Glazing glazing;
    private final DamageKind kind;
    private final double diameterMm;
    private final List<DamageFacts> others;
    private final Areas areas;
    private final Set<String> taken = new LinkedHashSet<>();
    private final Set<String> leftOut = new LinkedHashSet<>();
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

    Permitted permitted() {
        var wiped = glazing.pattern().sweptArea();
        var both = Areas.overlay(left, wiped, OverlayNG.INTERSECTION);
        var share = wiped.getArea() == 0 ? 0 : both.getArea() / wiped.getArea();
        return new Permitted(left, share, new ArrayList<>(taken), new ArrayList<>(leftOut));
    }

    private void take(Sheet sheet, Rule rule) {
        if (rule.onlyFinishedRepairs()
                || !rule.speaksOf(kind)
                || !VehicleTest.anyHolds(rule.vehicles(), glazing.vehicle())) {
            return;
        }
        var named = rule.where();
        var zone = named == null
                ? areas.wholeGlass().geometry()
                : areas.zone(sheet, named).geometry();
        if (zone.isEmpty()) {
            return;
        }
        var radiusMm = diameterMm / 2;
        switch (rule.quantity()) {
            case OVERALL_DIAMETER -> {
                forbidWhereBroken(rule, diameterMm, zone);
                keepApartWhatCountsAsOne(rule, zone);
            }
            case PIT_DIAMETER -> {
                if (kind == DamageKind.PIT) {
                    forbidWhereBroken(rule, diameterMm, zone);
                } else if (isBroken(rule, diameterMm)) {
                    taken.add("Its pit is as small as the rules ask.");
                }
            }
            case LONGEST_LEG -> {
                if (isBroken(rule, radiusMm) || isBroken(rule, diameterMm)) {
                    taken.add("Its longest leg is half as long as it is wide.");
                }
                forbidWhereBroken(rule, radiusMm, zone);
            }
            case BODY_DIAMETER -> {
                if (isBroken(rule, radiusMm) || isBroken(rule, diameterMm)) {
                    taken.add("Its body without legs is half as wide as the whole.");
                }
                forbidWhereBroken(rule, radiusMm, zone);
            }
            case CRACK_LENGTH -> {
                taken.add("The crack is straight.");
                forbidWhereBroken(rule, diameterMm, zone);
            }
            case LENGTH_IN_ZONE -> lengthInZone(rule, zone);
            case DISTANCE_TO_ZONE -> {
                if (isLower(rule)) {
                    without(grown(zone, limitMm(rule)));
                } else {
                    onlyIn(buffer(zone, limitMm(rule) + radiusMm));
                }
            }
            case DISTANCE_TO_EDGE -> {
                var glass = areas.wholeGlass().geometry();
                var inside = buffer(rule.readsVisibleEdge() ? zone : glass, -(limitMm(rule) + radiusMm));
                var broken = isLower(rule) ? Areas.overlay(glass, inside, OverlayNG.DIFFERENCE) : inside;
                without(rule.readsVisibleEdge() ? broken : inReachOf(named, zone, broken));
            }
            case DISTANCE_TO_OTHER_DAMAGE, DISTANCE_TO_FINISHED_REPAIR -> {
                if (isLower(rule)) {
                    others.stream().filter(other -> isKeptFrom(rule, other)).forEach(other -> {
                        var place = Place.of(other.shape());
                        var near = buffer(place.lines(), place.reachMm() + limitMm(rule) + radiusMm);
                        without(inReachOf(named, zone, near));
                    });
                } else {
                    leftOut.add("How near another damage has to be is not drawn.");
                }
            }
            case COUNT, EARLIER_REPAIRS -> {
                if (isBrokenInside(sheet, rule, zone)) {
                    without(grown(zone, 0));
                }
            }
            case ENDS_AT_EDGE -> endsAtEdge(rule, named, zone);
            case CROSSES_ZONE -> crossesZone(rule, zone);
            case LAYERS -> {
                taken.add("Only the outer glass is hit.");
                forbidUnless(rule, Layers.OUTER.word(), zone);
            }
            case CONDITION -> {
                taken.add("It is clean and dry.");
                forbidUnless(rule, Condition.CLEAN_DRY.word(), zone);
            }
            case AGE_DAYS -> {
                taken.add("It has just arisen.");
                if (!rule.bound().holdsAt(rule.bound().margin(0, limitCount(rule)))) {
                    without(grown(zone, 0));
                }
            }
            case VIEW -> leftOut.add("What an inspector finds of the view is not drawn.");
            case LEVEL, CLEAR -> leftOut.add("How a repair comes out is not drawn.");
        }
    }

    private void forbidWhereBroken(Rule rule, double mm, Geometry zone) {
        if (isBroken(rule, mm)) {
            without(grown(zone, 0));
        }
    }

    private void forbidUnless(Rule rule, String taken, Geometry zone) {
        if (!rule.allowed().contains(taken)) {
            without(grown(zone, 0));
        }
    }

    /** A rule that names no zone holds everywhere, one that names a zone where the damage reaches it. */
    private Geometry inReachOf(@Nullable String named, Geometry zone, Geometry broken) {
        return named == null ? broken : Areas.overlay(broken, grown(zone, 0), OverlayNG.INTERSECTION);
    }

    /** Two damages that lie close are measured by one circle; chains of more than two are not followed. */
    private void keepApartWhatCountsAsOne(Rule rule, Geometry zone) {
        var togetherMm = rule.togetherWithinMm();
        if (togetherMm == null || isBroken(rule, diameterMm)) {
            return;
        }
        var largestMm = limitMm(rule);
        for (var other : others) {
            var counts = other.finishedRepair() ? rule.countsFinishedRepairs() : true;
            if (!counts || !rule.speaksOf(other.kind())) {
                continue;
            }
            leftOut.add("Chains of more than two damages that count as one are not drawn.");
            var place = Place.of(other.shape());
            var radiiMm = diameterMm / 2 + other.overallDiameter().mm() / 2;
            // One circle round both is as wide as the way between their middles and both radii.
            var near = buffer(place.lines(), place.reachMm() + togetherMm + diameterMm / 2);
            var middle = GEOMETRY.createPoint(place.centre());
            var smallEnough = buffer(middle, Math.max(0, largestMm - radiiMm));
            var broken = isBroken(rule, other.overallDiameter().mm())
                    ? near
                    : Areas.overlay(near, smallEnough, OverlayNG.DIFFERENCE);
            var otherReachesIn = zone.distance(place.lines()) <= place.reachMm();
            without(otherReachesIn ? broken : Areas.overlay(broken, grown(zone, 0), OverlayNG.INTERSECTION));
        }
    }

    /** As it may run: all of the crack where its middle lies in the zone, else what can reach in. */
    private void lengthInZone(Rule rule, Geometry zone) {
        taken.add("The crack runs straight, and the way that puts most of it into a zone.");
        if (rule.bound() == Bound.AT_MOST || rule.bound() == Bound.LESS_THAN) {
            if (isBroken(rule, diameterMm)) {
                without(buffer(zone, Math.max(0, diameterMm / 2 - limitMm(rule))));
            }
        } else {
            leftOut.add("How much of a crack must lie in a zone is not drawn.");
        }
    }

    private void endsAtEdge(Rule rule, @Nullable String named, Geometry zone) {
        var bound = rule.bound();
        if (!bound.holdsAt(bound.margin(1, limitCount(rule)))) {
            taken.add("A crack that comes as near to the edge as it is long may run into it.");
            var glass = areas.wholeGlass().geometry();
            var clear = buffer(glass, -diameterMm / 2);
            without(inReachOf(named, zone, Areas.overlay(glass, clear, OverlayNG.DIFFERENCE)));
        } else {
            leftOut.add("Whether a crack runs from edge to edge is not drawn.");
        }
    }

    private void crossesZone(Rule rule, Geometry zone) {
        if (rule.allowed().contains("yes")) {
            return;
        }
        var extent = zone.getEnvelopeInternal();
        if (diameterMm >= Math.min(extent.getWidth(), extent.getHeight())) {
            taken.add("A crack that is long enough to cross a zone may do so wherever it reaches in.");
            without(grown(zone, 0));
        } else {
            leftOut.add("Whether a crack crosses a corner of a zone is not drawn.");
        }
    }

    /** Asks the judge, of a damage in the middle of the zone: what counts does not depend on where it lies there. */
    private boolean isBrokenInside(Sheet sheet, Rule rule, Geometry zone) {
        var inside = zone.getInteriorPoint().getCoordinate();
        var day = others.stream()
                .map(DamageFacts::seenOn)
                .max(Comparator.naturalOrder())
                .orElse(LocalDate.EPOCH);
        var size = new Measured(diameterMm, 0);
        var half = new Measured(diameterMm / 2, 0);
        var probe = new DamageFacts(
                PROBE,
                PROBE,
                kind,
                DamageShape.round(inside.x, inside.y, diameterMm),
                0,
                size,
                kind == DamageKind.PIT ? size : new Measured(0, 0),
                kind == DamageKind.CRACK ? size : half,
                Layers.OUTER,
                Condition.CLEAN_DRY,
                false,
                null,
                day,
                null,
                half);
        var all = new ArrayList<DamageFacts>(List.of(probe));
        all.addAll(others);
        var alone = sheet.with(List.of(rule));
        var verdict = new GlassJudge(glazing, List.of(alone), Choices.standard(), areas, 0)
                .judge(all, day.atStartOfDay().toInstant(ZoneOffset.UTC))
                .get(PROBE);
        return verdict != null && verdict.findings().stream().anyMatch(finding -> finding.result() == Result.NO);
    }

    private static boolean isLower(Rule rule) {
        return rule.bound() == Bound.AT_LEAST || rule.bound() == Bound.MORE_THAN;
    }

    private static double limitMm(Rule rule) {
        return Objects.requireNonNull(rule.limitMm(), "the check of the sheet asks for a limit");
    }

    private static int limitCount(Rule rule) {
        return Objects.requireNonNull(rule.limitCount(), "the check of the sheet asks for a limit");
    }

    private static boolean isBroken(Rule rule, double mm) {
        return !rule.bound().holdsAt(rule.bound().margin(mm, limitMm(rule)));
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

    private void without(Geometry forbidden) {
        left = Areas.overlay(left, forbidden, OverlayNG.DIFFERENCE);
    }

    private void onlyIn(Geometry allowed) {
        left = Areas.overlay(left, allowed, OverlayNG.INTERSECTION);
    }
}

package org.quarterlight.repair;

import java.util.ArrayList;
import java.util.List;
import org.locationtech.jts.geom.Coordinate;
import org.quarterlight.glass.DamageShape;
import org.quarterlight.glass.DrawnDamage;
import org.quarterlight.glass.DrawnZone;
import org.quarterlight.glass.GlassDrawing;
import org.quarterlight.glass.GlassPattern;
import org.quarterlight.glass.Measured;
import org.quarterlight.web.Words;

/** Draws the glass of a job from its brief alone: a repairer sees no other row of the fleet's. */
public final class JobDrawing {
    private JobDrawing() {}

    /** Inside a page. */
    public static String forPage(JobBrief brief, GlassDrawing.Size size) {
        return draw(brief, size, GlassDrawing.Look.INLINE);
    }

    /** Alone, black on white. */
    static String forPrint(JobBrief brief) {
        return draw(brief, GlassDrawing.Size.M, GlassDrawing.Look.PRINT);
    }

    private static String draw(JobBrief brief, GlassDrawing.Size size, GlassDrawing.Look look) {
        var pattern = GlassPattern.of(brief.glass());
        var zones = new ArrayList<DrawnZone>();
        var band = brief.glass().edgeBandMm();
        if (band > 0) {
            zones.add(new DrawnZone(DrawnZone.EDGE_BAND, "edge band " + Math.round(band), pattern.edgeBand(band)));
        }
        if (brief.driversZoneMm() != null) {
            zones.add(new DrawnZone(
                    DrawnZone.DRIVERS_ZONE,
                    "driver's zone " + Math.round(brief.driversZoneMm()),
                    pattern.driversZone(brief.driversZoneMm())));
        }
        return GlassDrawing.of(pattern)
                .zones(zones)
                .damages(drawn(brief, pattern))
                .size(size)
                .look(look)
                .title("The windscreen of " + brief.registration() + ", seen from outside")
                .svg();
    }

    private static List<DrawnDamage> drawn(JobBrief brief, GlassPattern pattern) {
        return brief.damages().stream().map(damage -> drawn(damage, pattern)).toList();
    }

    private static DrawnDamage drawn(JobBrief.BriefDamage damage, GlassPattern pattern) {
        var shape = damage.toXMm() != null && damage.toYMm() != null
                ? DamageShape.crack(
                        new Coordinate(damage.xMm().doubleValue(), damage.yMm().doubleValue()),
                        new Coordinate(
                                damage.toXMm().doubleValue(), damage.toYMm().doubleValue()))
                : DamageShape.round(
                        damage.xMm().doubleValue(),
                        damage.yMm().doubleValue(),
                        damage.diameterMm().doubleValue());
        var diameter = new Measured(
                damage.diameterMm().doubleValue(),
                damage.diameterStandardUncertaintyMm().doubleValue());
        var toEdge =
                new Measured(pattern.distanceToEdgeMm(shape), damage.source().positionStandardUncertaintyMm());
        return new DrawnDamage(
                damage.number(),
                shape,
                damage.kind(),
                Words.of(damage.outcome()),
                diameter,
                toEdge,
                null,
                damage.pitMm() == null ? null : damage.pitMm().doubleValue(),
                damage.longestLegMm() == null ? null : damage.longestLegMm().doubleValue(),
                null,
                Words.spoken(damage.kind()) + ", " + diameter.text() + " mm, " + toEdge.text() + " mm from the edge");
    }
}

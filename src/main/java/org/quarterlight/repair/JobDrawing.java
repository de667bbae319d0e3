package org.quarterlight.repair;

import java.math.BigDecimal;
import java.util.ArrayList;
import org.jspecify.annotations.Nullable;
import org.locationtech.jts.geom.Geometry;
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
        var widthMm = brief.driversZoneMm();
        var driversZone = widthMm == null ? null : pattern.driversZone(widthMm);
        if (widthMm != null && driversZone != null) {
            zones.add(new DrawnZone(DrawnZone.DRIVERS_ZONE, "driver's zone " + Math.round(widthMm), driversZone));
        }
        return GlassDrawing.of(pattern)
                .zones(zones)
                .damages(brief.damages().stream()
                        .map(damage -> drawn(damage, pattern, driversZone))
                        .toList())
                .size(size)
                .look(look)
                .title("The windscreen of " + brief.registration() + ", seen from outside")
                .svg();
    }

    private static DrawnDamage drawn(
            JobBrief.BriefDamage damage, GlassPattern pattern, @Nullable Geometry driversZone) {
        return new DrawnDamage(
                        damage.number(),
                        damage.shape(),
                        damage.kind(),
                        Words.of(damage.outcome()),
                        new Measured(
                                damage.diameterMm().doubleValue(),
                                damage.diameterStandardUncertaintyMm().doubleValue()),
                        null,
                        null,
                        number(damage.pitMm()),
                        number(damage.longestLegMm()),
                        null,
                        "")
                .on(pattern, driversZone, damage.source().positionStandardUncertaintyMm());
    }

    private static @Nullable Double number(@Nullable BigDecimal length) {
        return length == null ? null : length.doubleValue();
    }
}

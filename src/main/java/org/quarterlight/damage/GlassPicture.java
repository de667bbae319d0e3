package org.quarterlight.damage;

import java.math.BigDecimal;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.locationtech.jts.geom.Geometry;
import org.quarterlight.eligibility.DamageFacts;
import org.quarterlight.eligibility.Eligibility;
import org.quarterlight.eligibility.Permitted;
import org.quarterlight.eligibility.Question;
import org.quarterlight.eligibility.Sheet;
import org.quarterlight.fleet.Fleet;
import org.quarterlight.fleet.Glazing;
import org.quarterlight.glass.DrawnDamage;
import org.quarterlight.glass.DrawnZone;
import org.quarterlight.glass.GlassDrawing;
import org.quarterlight.glass.Measured;
import org.quarterlight.rulebook.Rulebook;
import org.quarterlight.web.Words;
import org.springframework.security.access.prepost.PreAuthorize;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Draws a glass with what is on it, with the zones and the places that the chosen sheets speak of. */
@Service
public class GlassPicture {
    private final DamageReporting reporting;
    private final Fleet fleet;
    private final Rulebook rulebook;

    GlassPicture(DamageReporting reporting, Fleet fleet, Rulebook rulebook) {
        this.reporting = reporting;
        this.fleet = fleet;
        this.rulebook = rulebook;
    }

    /** A drawing with its legend, a close up and the same for a phone, as SVG; empty where there is none. */
    public record Drawn(
            String svg,
            String legend,
            String closeUp,
            String small,
            @Nullable Permitted permitted) {}

    /** The glass that a vehicle carries now, with all that is on it. */
    @Transactional(readOnly = true)
    @PreAuthorize("hasAnyRole('MANAGER', 'DISPATCHER', 'TECHNICIAN', 'DRIVER', 'CAB_CODE')")
    public Drawn ofVehicle(UUID vehicle, GlassDrawing.Size size, boolean pickable) {
        var glazing = fleet.glazing(vehicle);
        return draw(glazing, reporting.onGlass(glazing.windscreen()), null, size, pickable);
    }

    /** The glass of one damage, with that damage selected and, where it is open, where one like it may be repaired. */
    @Transactional(readOnly = true)
    @PreAuthorize("hasAnyRole('MANAGER', 'DISPATCHER', 'TECHNICIAN', 'DRIVER')")
    public Drawn ofDamage(DamageView damage, GlassDrawing.Size size) {
        var all = new ArrayList<>(reporting.onGlass(damage.windscreen()));
        if (all.stream().noneMatch(each -> each.id().equals(damage.id()))) {
            all.add(damage);
        }
        return draw(fleet.glazingOfWindscreen(damage.windscreen()), all, damage, size, false);
    }

    /** One damage over itself as it was seen each time, oldest first. */
    @Transactional(readOnly = true)
    @PreAuthorize("hasAnyRole('MANAGER', 'DISPATCHER', 'TECHNICIAN', 'DRIVER')")
    public String overTime(DamageView damage, List<ObservationView> seen) {
        var glazing = fleet.glazingOfWindscreen(damage.windscreen());
        var drawn = new ArrayList<DrawnDamage>();
        for (var each : seen) {
            drawn.add(new DrawnDamage(
                            drawn.size() + 1,
                            each.shape(),
                            each.kind(),
                            "neutral",
                            diameter(each),
                            null,
                            null,
                            number(each.pitMm()),
                            number(each.longestLegMm()),
                            null,
                            "")
                    .on(glazing.pattern(), null, each.source().positionStandardUncertaintyMm()));
        }
        return GlassDrawing.of(glazing.pattern()).overTime(drawn);
    }

    /** All that was ever seen on the glass that a vehicle carries now: each look in plain ink, the newest of each in its tone. */
    @Transactional(readOnly = true)
    @PreAuthorize("hasAnyRole('MANAGER', 'DISPATCHER', 'TECHNICIAN')")
    public GlassDrawing overTime(UUID vehicle, List<DamageOverTime> all) {
        var glazing = fleet.glazing(vehicle);
        var drawn = new ArrayList<DrawnDamage>();
        for (var damage : all) {
            for (var each : damage.observations()) {
                var newest = each.equals(damage.observations().getLast());
                drawn.add(new DrawnDamage(
                                damage.number(),
                                each.shape(),
                                each.kind(),
                                !newest
                                        ? "neutral"
                                        : damage.state() == DamageState.CLOSED
                                                ? "earlier-repair"
                                                : Words.of(damage.outcome()),
                                diameter(each),
                                null,
                                null,
                                number(each.pitMm()),
                                number(each.longestLegMm()),
                                newest ? "/damages/" + damage.id() : null,
                                "")
                        .on(glazing.pattern(), null, each.source().positionStandardUncertaintyMm()));
            }
        }
        return GlassDrawing.of(glazing.pattern())
                .damages(drawn)
                .title("All that was seen on the windscreen of "
                        + glazing.vehicle().registration());
    }

    private Drawn draw(
            Glazing glazing,
            List<DamageView> damages,
            @Nullable DamageView selected,
            GlassDrawing.Size size,
            boolean pickable) {
        var sheets = rulebook.sheetsFor(
                glazing.facts().vehicle(),
                glazing.depot().country(),
                glazing.depot().subdivision());
        var zones = new ArrayList<DrawnZone>();
        var width = Eligibility.driversZoneWidthMm(glazing.facts(), sheets);
        var driversZone = width.isPresent() ? glazing.pattern().driversZone(width.getAsDouble()) : null;
        var band = glazing.pattern().measurements().edgeBandMm();
        if (band > 0) {
            zones.add(new DrawnZone(
                    DrawnZone.EDGE_BAND,
                    "edge band " + Math.round(band),
                    glazing.pattern().edgeBand(band)));
        }
        if (driversZone != null) {
            zones.add(new DrawnZone(
                    DrawnZone.DRIVERS_ZONE, "driver's zone " + Math.round(width.getAsDouble()), driversZone));
        }
        var drawn = damages.stream()
                .map(damage -> drawn(damage, glazing, driversZone))
                .toList();
        var drawing = GlassDrawing.of(glazing.pattern())
                .zones(zones)
                .damages(drawn)
                .size(size)
                .pickable(pickable)
                .title("The windscreen of " + glazing.vehicle().registration() + ", seen from outside");
        var closeUp = "";
        Permitted permitted = null;
        if (selected != null) {
            drawing.selected(selected.number());
            if (selected.state() != DamageState.CLOSED) {
                permitted = permitted(selected, damages, glazing, sheets);
                drawing.permitted(permitted.places());
            }
            closeUp = drawn.stream()
                    .filter(each -> each.number() == selected.number())
                    .findFirst()
                    .map(drawing::closeUp)
                    .orElse("");
        }
        return new Drawn(
                drawing.svg(),
                pickable ? "" : drawing.legend(),
                closeUp,
                pickable ? "" : drawing.size(GlassDrawing.Size.S).svg(),
                permitted);
    }

    private static Permitted permitted(
            DamageView selected, List<DamageView> damages, Glazing glazing, List<Sheet> sheets) {
        var zone = glazing.depot().zone();
        var others = damages.stream()
                .filter(each -> !each.id().equals(selected.id()))
                .map(each -> facts(each, zone))
                .toList();
        var repair = sheets.stream()
                .filter(sheet -> sheet.question() == Question.REPAIRABLE)
                .toList();
        return Eligibility.permitted(
                glazing.facts(),
                selected.kind(),
                selected.observation().diameterMm().doubleValue(),
                others,
                repair);
    }

    private static DamageFacts facts(DamageView damage, ZoneId zone) {
        var seen = damage.observation();
        return new DamageFacts(
                damage.id(),
                seen.id(),
                damage.kind(),
                seen.shape(),
                seen.source().positionStandardUncertaintyMm(),
                diameter(seen),
                null,
                null,
                seen.layers(),
                seen.condition(),
                damage.closedAs() == ClosedAs.REPAIRED,
                null,
                seen.seenAt().atZone(zone).toLocalDate());
    }

    private static DrawnDamage drawn(DamageView damage, Glazing glazing, @Nullable Geometry driversZone) {
        var seen = damage.observation();
        return new DrawnDamage(
                        damage.number(),
                        seen.shape(),
                        damage.kind(),
                        damage.closedAs() == ClosedAs.REPAIRED
                                ? "earlier-repair"
                                : Words.of(damage.verdict().outcome()),
                        diameter(seen),
                        null,
                        null,
                        number(seen.pitMm()),
                        number(seen.longestLegMm()),
                        "/damages/" + damage.id(),
                        "")
                .on(glazing.pattern(), driversZone, seen.source().positionStandardUncertaintyMm());
    }

    private static @Nullable Double number(@Nullable BigDecimal length) {
        return length == null ? null : length.doubleValue();
    }

    private static Measured diameter(ObservationView seen) {
        return new Measured(
                seen.diameterMm().doubleValue(),
                seen.diameterStandardUncertaintyMm().doubleValue());
    }
}

package org.quarterlight.rulebook.web;

import java.util.Objects;
import java.util.Set;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.quarterlight.eligibility.Eligibility;
import org.quarterlight.eligibility.Glazing;
import org.quarterlight.eligibility.PatternReference;
import org.quarterlight.eligibility.Sheet;
import org.quarterlight.eligibility.VehicleFacts;
import org.quarterlight.glass.DrawnZone;
import org.quarterlight.glass.GenericGlass;
import org.quarterlight.glass.GlassDrawing;
import org.quarterlight.glass.GlassPattern;
import org.quarterlight.glass.SteeringSide;
import org.quarterlight.glass.VehicleCategory;

/** A sheet's zones on a generic glass. */
final class SheetDrawing {
    private static final Set<String> STEERED_FROM_THE_RIGHT = Set.of("AU", "GB", "IE", "NZ");

    /** What is left of the glass says nothing more in a drawing. */
    private static final Pattern REST = Pattern.compile("rest-.*|outside-.*|zone-b|critical-area");

    /** Zones are drawn on a grid, so a corner of one cut from the swept area may lie a hair outside of it. */
    private static final double A_HAIR_MM = 0.01;

    private SheetDrawing() {}

    /** The first category that the sheet is for. */
    static VehicleCategory category(Sheet sheet) {
        return Stream.of(VehicleCategory.values())
                .filter(each -> sheet.appliesTo(new VehicleFacts(each, null)))
                .findFirst()
                .orElse(VehicleCategory.M1);
    }

    /** Steered as usual where the sheet holds. */
    static SteeringSide side(Sheet sheet) {
        return STEERED_FROM_THE_RIGHT.contains(Objects.requireNonNullElse(sheet.country(), ""))
                ? SteeringSide.RIGHT
                : SteeringSide.LEFT;
    }

    static String svg(Sheet sheet, GenericGlass glass, SteeringSide side) {
        var pattern = GlassPattern.of(glass.measurements(side));
        var category = Stream.of(VehicleCategory.values())
                .filter(each -> GenericGlass.of(each) == glass)
                .filter(each -> sheet.appliesTo(new VehicleFacts(each, null)))
                .findFirst()
                .orElseGet(() -> Stream.of(VehicleCategory.values())
                        .filter(each -> GenericGlass.of(each) == glass)
                        .findFirst()
                        .orElse(VehicleCategory.M1));
        var glazing = new Glazing(pattern, new PatternReference("generic", 1, true), new VehicleFacts(category, null));
        var swept = pattern.sweptArea().buffer(A_HAIR_MM);
        var zones = Eligibility.zones(glazing, sheet).entrySet().stream()
                .filter(zone -> !REST.matcher(zone.getKey()).matches())
                .map(zone -> new DrawnZone(
                        // a drawing hatches the driver's zone as far as it is wiped; others it outlines as they are
                        swept.covers(zone.getValue()) ? zone.getKey() : "zone-" + zone.getKey(),
                        SheetWords.place(zone.getKey()),
                        zone.getValue()))
                .toList();
        return GlassDrawing.of(pattern)
                .zones(zones)
                .size(GlassDrawing.Size.S)
                .title("The zones of " + sheet.name() + " on a generic glass, seen from outside")
                .svg();
    }
}

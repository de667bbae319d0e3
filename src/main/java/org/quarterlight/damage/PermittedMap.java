package org.quarterlight.damage;

import java.util.List;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.eligibility.SheetReference;
import org.quarterlight.glass.DamageKind;
import org.quarterlight.glass.VehicleCategory;

/**
 * Where on a glass a damage of one kind and size may be repaired.
 *
 * @param sheets that were asked
 * @param shareOfWipedArea where its middle may lie, of the wiped area, 0 to 1
 * @param taken what was taken for granted, in sentences
 * @param leftOut rules that the map does not draw, in sentences
 */
public record PermittedMap(
        UUID pattern,
        DamageKind kind,
        double diameterMm,
        VehicleCategory category,
        List<SheetReference> sheets,
        double shareOfWipedArea,
        List<String> taken,
        List<String> leftOut) {
    public PermittedMap {
        sheets = List.copyOf(sheets);
        taken = List.copyOf(taken);
        leftOut = List.copyOf(leftOut);
    }

    /** What somebody asks the map for. */
    public record Asked(
            @Nullable DamageKind kind,
            @Nullable Double diameterMm,
            @Nullable String ruleSheet,
            @Nullable VehicleCategory category) {}

    /** As a heading says it. */
    public String share() {
        return share(shareOfWipedArea);
    }

    /** A share of the wiped area, in words. */
    public static String share(double ofWipedArea) {
        var percent = 100 * ofWipedArea;
        var words = ofWipedArea <= 0
                ? "none"
                : percent < 1
                        ? "less than 1 %"
                        : percent > 99 && percent < 99.99 ? "over 99 %" : Math.round(percent) + " %";
        return words + " of the wiped area";
    }
}

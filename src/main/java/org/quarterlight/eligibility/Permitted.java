package org.quarterlight.eligibility;

import java.util.List;
import org.locationtech.jts.geom.Geometry;

/**
 * Where a damage of one kind and size may lie and be repaired.
 *
 * @param places where its middle may lie, in the glass frame
 * @param shareOfWipedArea how much of the wiped area that is, 0 to 1
 * @param taken what was taken for granted, in sentences: what the map would need to know besides kind and size
 * @param leftOut rules that the map does not draw, in sentences
 */
public record Permitted(Geometry places, double shareOfWipedArea, List<String> taken, List<String> leftOut) {
    public Permitted {
        taken = List.copyOf(taken);
        leftOut = List.copyOf(leftOut);
    }
}

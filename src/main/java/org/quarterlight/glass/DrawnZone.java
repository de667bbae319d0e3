package org.quarterlight.glass;

import org.locationtech.jts.geom.Geometry;

/**
 * A zone as a drawing shows it.
 *
 * @param kind which pattern fills it: {@link #DRIVERS_ZONE}, {@link #EDGE_BAND}, or a border alone for any other word
 * @param label beside it, as "driver's zone 290"
 * @param area in the glass frame
 */
public record DrawnZone(String kind, String label, Geometry area) {
    public static final String DRIVERS_ZONE = "drivers-zone";
    public static final String EDGE_BAND = "edge-band";
}

package org.quarterlight.glass;

import java.util.List;
import org.locationtech.jts.geom.Geometry;
import org.locationtech.jts.geom.Polygon;
import org.locationtech.jts.geom.util.PolygonExtracter;
import org.locationtech.jts.operation.buffer.BufferOp;
import org.locationtech.jts.operation.buffer.BufferParameters;
import org.locationtech.jts.operation.overlayng.OverlayNG;
import org.locationtech.jts.operation.overlayng.OverlayNGRobust;

/**
 * Overlaying areas that share borders to the last digit, as zones cut from one another do: the plain overlay fails there.
 */
final class Overlay {
    private Overlay() {}

    /** What two areas share, without lines and points where they merely touch. */
    static Geometry shared(Geometry one, Geometry other) {
        return areas(OverlayNGRobust.overlay(one, other, OverlayNG.INTERSECTION));
    }

    /** What of an area lies outside of another. */
    static Geometry outside(Geometry area, Geometry other) {
        return areas(OverlayNGRobust.overlay(area, other, OverlayNG.DIFFERENCE));
    }

    /** What of a line lies within an area. */
    static Geometry within(Geometry line, Geometry area) {
        return OverlayNGRobust.overlay(line, area, OverlayNG.INTERSECTION);
    }

    /**
     * An area grown by so many millimetres, or shrunk where they are negative, true to within half of
     * {@link GlassPattern#CURVE_ERROR_MM}. The plain buffer gives away a hundredth of its width.
     */
    static Geometry grown(Geometry area, double mm) {
        if (mm == 0) {
            return area;
        }
        var width = Math.abs(mm);
        var error = GlassPattern.CURVE_ERROR_MM / 4;
        var parameters = new BufferParameters();
        parameters.setSimplifyFactor(error / width);
        if (width > error) {
            parameters.setQuadrantSegments(Math.max(8, (int) Math.ceil(Math.PI / (4 * Math.acos(1 - error / width)))));
        }
        return BufferOp.bufferOp(area, mm, parameters);
    }

    private static Geometry areas(Geometry result) {
        if (result.getDimension() < 2) {
            return result.getFactory().createPolygon();
        }
        if (!result.getGeometryType().equals(Geometry.TYPENAME_GEOMETRYCOLLECTION)) {
            return result;
        }
        @SuppressWarnings("unchecked")
        var polygons = (List<Polygon>) PolygonExtracter.getPolygons(result);
        return result.getFactory().buildGeometry(polygons);
    }
}

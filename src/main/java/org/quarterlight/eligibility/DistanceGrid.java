package org.quarterlight.eligibility;

import java.util.Arrays;
import org.locationtech.jts.geom.Coordinate;
import org.locationtech.jts.geom.Envelope;

/**
 * The distance to an area's border from the middles of square cells, signed and filled where somebody asks. A signed
 * distance changes by no more than the way between two places, so a cell's middle bounds it in the whole cell. Safe between
 * threads: who fills the same cell writes the same number.
 */
final class DistanceGrid {
    static final double CELL_MM = 8;

    /** More than a float loses of a length on a windscreen. */
    private static final double ROUNDED_MM = 0.001;

    private final Area area;
    private final double left;
    private final double low;
    private final int columns;
    private final int rows;
    private final float[] middles;

    DistanceGrid(Area area, Envelope glass) {
        this.area = area;
        left = glass.getMinX();
        low = glass.getMinY();
        columns = (int) Math.ceil(glass.getWidth() / CELL_MM) + 1;
        rows = (int) Math.ceil(glass.getHeight() / CELL_MM) + 1;
        middles = new float[columns * rows];
        Arrays.fill(middles, Float.NaN);
    }

    Area area() {
        return area;
    }

    /** The cell of a place; -1 off the glass. */
    int cell(double xMm, double yMm) {
        var column = (int) Math.floor((xMm - left) / CELL_MM);
        var row = (int) Math.floor((yMm - low) / CELL_MM);
        return column < 0 || row < 0 || column >= columns || row >= rows ? -1 : row * columns + column;
    }

    /** What the distance from any place of the cell is near to. */
    double middleMm(int cell) {
        var known = middles[cell];
        if (Float.isNaN(known)) {
            known = (float) area.signedDistanceMm(new Coordinate(middleX(cell), middleY(cell)));
            middles[cell] = known;
        }
        return known;
    }

    /** How far the distance from the place may be from that of its cell's middle. */
    double slackMm(int cell, double xMm, double yMm) {
        var x = xMm - middleX(cell);
        var y = yMm - middleY(cell);
        return Math.sqrt(x * x + y * y) + ROUNDED_MM;
    }

    private double middleX(int cell) {
        return left + (cell % columns + 0.5) * CELL_MM;
    }

    private double middleY(int cell) {
        return low + (cell / columns + 0.5) * CELL_MM;
    }
}

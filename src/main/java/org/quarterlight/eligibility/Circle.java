package org.quarterlight.eligibility;

import java.util.List;
import org.locationtech.jts.geom.Coordinate;
import org.locationtech.jts.math.Vector2D;

/** A circle on the glass, mm. */
record Circle(Coordinate centre, double radiusMm) {
    /** Rounding of a sum of hypotenuses at the size of a windscreen. */
    private static final double ROUNDING_MM = 1e-9;

    /**
     * The smallest circle round some circles. It touches two of them from outside on one line with its centre, or three
     * (Apollonius); the few damages of one place are tried pair by pair and three by three.
     */
    static Circle round(List<Circle> circles) {
        var smallest = circles.getFirst();
        for (var circle : circles) {
            smallest = circle.radiusMm > smallest.radiusMm ? circle : smallest;
        }
        if (smallest.holds(circles)) {
            return smallest;
        }
        var best = new Circle(smallest.centre, Double.POSITIVE_INFINITY);
        for (var i = 0; i < circles.size(); i++) {
            for (var j = 0; j < i; j++) {
                best = best.orSmaller(round(circles.get(i), circles.get(j)), circles);
                for (var k = 0; k < j; k++) {
                    for (var touching : touching(circles.get(i), circles.get(j), circles.get(k))) {
                        best = best.orSmaller(touching, circles);
                    }
                }
            }
        }
        return best;
    }

    private Circle orSmaller(Circle other, List<Circle> circles) {
        return other.radiusMm < radiusMm && other.holds(circles) ? other : this;
    }

    private boolean holds(List<Circle> circles) {
        return circles.stream()
                .allMatch(circle -> centre.distance(circle.centre) + circle.radiusMm <= radiusMm + ROUNDING_MM);
    }

    private static Circle round(Circle one, Circle other) {
        var apart = one.centre.distance(other.centre);
        if (apart + other.radiusMm <= one.radiusMm) {
            return one;
        }
        if (apart + one.radiusMm <= other.radiusMm) {
            return other;
        }
        var radius = (apart + one.radiusMm + other.radiusMm) / 2;
        var middle = Vector2D.create(one.centre, other.centre)
                .multiply((radius - one.radiusMm) / apart)
                .translate(one.centre);
        return new Circle(middle, radius);
    }

    /** The circles that hold three and touch each: |p − pᵢ| = R − rᵢ, the differences linear in p and R. */
    private static List<Circle> touching(Circle a, Circle b, Circle c) {
        var bx = b.centre.x - a.centre.x;
        var by = b.centre.y - a.centre.y;
        var cx = c.centre.x - a.centre.x;
        var cy = c.centre.y - a.centre.y;
        var determinant = 2 * (bx * cy - by * cx);
        if (Math.abs(determinant) < ROUNDING_MM) {
            return List.of();
        }
        var br = b.radiusMm - a.radiusMm;
        var cr = c.radiusMm - a.radiusMm;
        var bSum = bx * bx + by * by + a.radiusMm * a.radiusMm - b.radiusMm * b.radiusMm;
        var cSum = cx * cx + cy * cy + a.radiusMm * a.radiusMm - c.radiusMm * c.radiusMm;
        // p − p_a = (m + n R)
        var mx = (bSum * cy - cSum * by) / determinant;
        var my = (cSum * bx - bSum * cx) / determinant;
        var nx = 2 * (br * cy - cr * by) / determinant;
        var ny = 2 * (cr * bx - br * cx) / determinant;
        var square = nx * nx + ny * ny - 1;
        var half = mx * nx + my * ny + a.radiusMm;
        var rest = mx * mx + my * my - a.radiusMm * a.radiusMm;
        if (Math.abs(square) < ROUNDING_MM) {
            return half == 0 ? List.of() : List.of(at(a, mx, my, nx, ny, -rest / (2 * half)));
        }
        var root = half * half - square * rest;
        if (root < 0) {
            return List.of();
        }
        return List.of(
                at(a, mx, my, nx, ny, (-half + Math.sqrt(root)) / square),
                at(a, mx, my, nx, ny, (-half - Math.sqrt(root)) / square));
    }

    private static Circle at(Circle a, double mx, double my, double nx, double ny, double radiusMm) {
        var centre = new Coordinate(a.centre.x + mx + nx * radiusMm, a.centre.y + my + ny * radiusMm);
        return new Circle(centre, radiusMm > 0 ? radiusMm : Double.POSITIVE_INFINITY);
    }
}

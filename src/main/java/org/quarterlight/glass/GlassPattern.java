package org.quarterlight.glass;

import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.locationtech.jts.geom.Coordinate;
import org.locationtech.jts.geom.Envelope;
import org.locationtech.jts.geom.Geometry;
import org.locationtech.jts.geom.GeometryFactory;
import org.locationtech.jts.geom.Polygon;
import org.locationtech.jts.operation.distance.IndexedFacetDistance;
import org.locationtech.jts.operation.union.UnaryUnionOp;
import org.locationtech.jts.simplify.DouglasPeuckerSimplifier;

/**
 * A windscreen's geometry in the glass frame: origin at the middle of the lower edge, seen from outside, x to the right,
 * y up, millimetres along the glass. Its outline comes from a tape's lengths or was traced. Immutable and safe to share. Curves are drawn as chains that leave them by at most
 * {@link #CURVE_ERROR_MM}.
 */
public final class GlassPattern {
    /** How far a drawn curve may lie from the true one, mm: a tenth of what a gauge can tell. */
    public static final double CURVE_ERROR_MM = 0.03;

    /** How much of its height the rounding of the corners may take from a glass, mm. */
    private static final double ROUNDED_OFF_MM = 0.1;

    private static final GeometryFactory SHAPES = new GeometryFactory();

    private final GlassMeasurements measurements;
    private final Polygon outline;
    private final Geometry sweptArea;
    private final @Nullable Geometry cameraArea;
    private final IndexedFacetDistance edge;

    private GlassPattern(GlassMeasurements measurements) {
        this.measurements = measurements;
        this.outline = outlineOf(measurements);
        this.sweptArea = Overlay.shared(sweptAreaOf(measurements), outline);
        this.cameraArea = cameraAreaOf(measurements);
        this.edge = new IndexedFacetDistance(outline.getExteriorRing());
    }

    /**
     * Draws the pattern.
     *
     * @throws IllegalArgumentException where {@link GlassMeasurements#problems()} are not empty
     */
    public static GlassPattern of(GlassMeasurements measurements) {
        var problems = measurements.implausible();
        if (problems.isEmpty()) {
            var pattern = new GlassPattern(measurements);
            problems = pattern.problems();
            if (problems.isEmpty()) {
                return pattern;
            }
        }
        throw new IllegalArgumentException("no glass measures " + problems);
    }

    /** What does not fit together, of measurements that are plausible each by itself. */
    static List<MeasurementProblem> problems(GlassMeasurements measurements) {
        return new GlassPattern(measurements).problems();
    }

    /**
     * Above all, that there is a driver's zone: in front of an empty one every damage would lie outside, and be judged
     * more kindly than it may.
     */
    private List<MeasurementProblem> problems() {
        var problems = new ArrayList<MeasurementProblem>();
        var box = outline.getEnvelopeInternal();
        if (measurements.outline() == null
                && (Math.abs(box.getMinY()) > ROUNDED_OFF_MM
                        || Math.abs(box.getMaxY() - measurements.heightMm()) > ROUNDED_OFF_MM)) {
            problems.add(new MeasurementProblem("cornerRadiusMm", "The corners are too round for edges bowed so far"));
        }
        var wheelLine = SHAPES.createLineString(new Coordinate[] {
            new Coordinate(wheelCentreMm(), box.getMinY()), new Coordinate(wheelCentreMm(), box.getMaxY())
        });
        if (!sweptArea.intersects(wheelLine)) {
            problems.add(new MeasurementProblem(
                    "wheelOffsetMm", "No wiper passes the steering wheel's centre line. Check it and the wipers."));
        }
        var wipers = measurements.wipers();
        for (int i = 0; i < wipers.size(); i++) {
            if (!outline.intersects(sectorOf(wipers.get(i)))) {
                problems.add(
                        new MeasurementProblem("wipers[" + i + "].pivotXMm", "This wiper does not reach the glass"));
            }
        }
        var camera = measurements.cameraArea();
        if (camera != null && cameraArea != null && cameraArea.getArea() < camera.widthMm() * camera.heightMm() / 2) {
            problems.add(new MeasurementProblem(
                    "cameraArea.centreXMm", "Most of the camera area does not lie on the glass"));
        }
        if (measurements.outline() != null && !outline.covers(SHAPES.createPoint(eyePointMm()))) {
            problems.add(new MeasurementProblem("eyeHeightMm", "The driver's eye does not look through the glass"));
        }
        return problems;
    }

    public GlassMeasurements measurements() {
        return measurements;
    }

    /** The edge of the glass and what lies within. */
    public Polygon outline() {
        return outline;
    }

    /** What the wipers wipe, within the outline. */
    public Geometry sweptArea() {
        return sweptArea;
    }

    /** What a camera looks through, null where none does. */
    public @Nullable Geometry cameraArea() {
        return cameraArea;
    }

    /** The x of the steering wheel's centre line. */
    public double wheelCentreMm() {
        return measurements.steeringSide().sign() * measurements.wheelOffsetMm();
    }

    /** The y of the steering wheel's top. */
    public double wheelTopMm() {
        return measurements.wheelTopMm();
    }

    /** Where the driver's eye looks straight through the glass. */
    public Coordinate eyePointMm() {
        return new Coordinate(
                measurements.steeringSide().sign() * measurements.eyeOffsetMm(), measurements.eyeHeightMm());
    }

    /** How much of a length up the glass is height, seen level: sin of the rake. The glass counts as flat in this direction. */
    public double uprightShare() {
        return Math.sin(Math.toRadians(measurements.rakeDegrees()));
    }

    public SteeringSide steeringSide() {
        return measurements.steeringSide();
    }

    /** The upright band of this width about the steering wheel's centre line, over the whole height of the glass. */
    public Geometry driversBand(double widthMm) {
        var box = outline.getEnvelopeInternal();
        var centre = wheelCentreMm();
        return Overlay.shared(
                rectangle(centre - widthMm / 2, box.getMinY(), centre + widthMm / 2, box.getMaxY()), outline);
    }

    /** The driver's band as far as it is wiped. */
    public Geometry driversZone(double widthMm) {
        return Overlay.shared(driversBand(widthMm), sweptArea);
    }

    /** What lies nearer to the edge than this. */
    public Geometry edgeBand(double widthMm) {
        return Overlay.outside(outline, Overlay.grown(outline, -widthMm));
    }

    /** From the damage's nearest point to the edge of the glass; negative where it reaches over it. */
    public double distanceToEdgeMm(DamageShape damage) {
        var centre = SHAPES.createPoint(new Coordinate(damage.xMm(), damage.yMm()));
        var lines = damage.lines();
        if (lines != null && outline.covers(lines)) {
            return edge.distance(lines);
        }
        if (lines != null) {
            var over = 0.0;
            for (var corner : lines.getCoordinates()) {
                var place = SHAPES.createPoint(corner);
                over = Math.max(over, outline.covers(place) ? 0 : edge.distance(place));
            }
            return -over;
        }
        var distance = edge.distance(centre);
        return (outline.covers(centre) ? distance : -distance) - damage.diameterMm() / 2;
    }

    /** Whether this place lies on the glass. */
    public boolean holds(double xMm, double yMm) {
        return outline.covers(SHAPES.createPoint(new Coordinate(xMm, yMm)));
    }

    /** The same glass steered from the other side. */
    public GlassPattern mirrored() {
        return new GlassPattern(measurements.mirrored());
    }

    /** One standard uncertainty of where the edge and what is built from it lies; none where a tape told it. */
    public double outlineStandardUncertaintyMm() {
        var traced = measurements.outline();
        return traced == null ? 0 : traced.standardUncertaintyMm();
    }

    private static Polygon outlineOf(GlassMeasurements m) {
        var traced = m.outline();
        if (traced != null) {
            return traced.polygon();
        }
        var ring = new ArrayList<Coordinate>();
        bowed(ring, -m.lowerWidthMm() / 2, m.lowerWidthMm() / 2, 0, m.lowerBowMm());
        bowed(ring, m.upperWidthMm() / 2, -m.upperWidthMm() / 2, m.heightMm(), -m.upperBowMm());
        ring.add(ring.getFirst().copy());
        var sharp = SHAPES.createPolygon(ring.toArray(Coordinate[]::new));
        if (m.cornerRadiusMm() == 0) {
            return sharp;
        }
        // Rolling a disc of the radius round the inside leaves the sides where they are and rounds the corners.
        var rounded = Overlay.grown(Overlay.grown(sharp, -m.cornerRadiusMm()), m.cornerRadiusMm());
        return (Polygon) DouglasPeuckerSimplifier.simplify(rounded, CURVE_ERROR_MM / 8);
    }

    /** An edge that is straight but for its bow, a parabola: {@code middleY} in the middle, {@code bow} more at the corners. */
    private static void bowed(ArrayList<Coordinate> ring, double fromX, double toX, double middleY, double bow) {
        var pieces = Math.max(1, (int) Math.ceil(Math.sqrt(8 * Math.abs(bow) / CURVE_ERROR_MM)));
        for (int i = 0; i <= pieces; i++) {
            var x = fromX + (toX - fromX) * i / pieces;
            var share = 2.0 * i / pieces - 1;
            ring.add(new Coordinate(x, middleY + bow * share * share));
        }
    }

    private static Geometry sweptAreaOf(GlassMeasurements m) {
        return UnaryUnionOp.union(
                m.wipers().stream().map(GlassPattern::sectorOf).toList(), SHAPES);
    }

    /** A ring's sector: out along one direction, round, back along the other, round again. */
    private static Geometry sectorOf(Wiper wiper) {
        var from = Math.toRadians(wiper.fromDegrees());
        var to = Math.toRadians(wiper.toDegrees());
        var ring = new ArrayList<Coordinate>();
        arc(ring, wiper, wiper.outerRadiusMm(), from, to);
        arc(ring, wiper, wiper.innerRadiusMm(), to, from);
        ring.add(ring.getFirst().copy());
        return SHAPES.createPolygon(ring.toArray(Coordinate[]::new));
    }

    private static void arc(ArrayList<Coordinate> ring, Wiper wiper, double radius, double from, double to) {
        var step = radius <= CURVE_ERROR_MM ? Math.PI : 2 * Math.acos(1 - CURVE_ERROR_MM / radius);
        var pieces = Math.max(1, (int) Math.ceil(Math.abs(to - from) / step));
        for (int i = 0; i <= pieces; i++) {
            var angle = from + (to - from) * i / pieces;
            ring.add(new Coordinate(
                    wiper.pivotXMm() + radius * Math.cos(angle), wiper.pivotYMm() + radius * Math.sin(angle)));
        }
    }

    private @Nullable Geometry cameraAreaOf(GlassMeasurements m) {
        var camera = m.cameraArea();
        if (camera == null) {
            return null;
        }
        return Overlay.shared(
                rectangle(
                        camera.centreXMm() - camera.widthMm() / 2,
                        m.heightMm() - camera.heightMm(),
                        camera.centreXMm() + camera.widthMm() / 2,
                        m.heightMm()),
                outline);
    }

    private static Geometry rectangle(double x1, double y1, double x2, double y2) {
        return SHAPES.toGeometry(new Envelope(x1, x2, y1, y2));
    }
}

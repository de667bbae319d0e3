package org.quarterlight.eligibility;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.IdentityHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.function.Supplier;
import java.util.stream.Collectors;
import org.locationtech.jts.geom.Envelope;
import org.locationtech.jts.geom.Geometry;
import org.locationtech.jts.geom.GeometryFactory;
import org.locationtech.jts.geom.PrecisionModel;
import org.locationtech.jts.geom.util.AffineTransformation;
import org.locationtech.jts.geom.util.PolygonExtracter;
import org.locationtech.jts.operation.overlayng.OverlayNG;
import org.quarterlight.glass.SteeringSide;

/** The zones of some sheets, drawn on one glass. What two sheets draw alike is drawn once. */
final class Areas {
    private static final GeometryFactory GEOMETRY = new GeometryFactory();

    /**
     * Zones are drawn on a grid of a millionth of a millimetre. Zones made from each other then share their borders to
     * the last digit, and no sliver is left between them.
     */
    private static final PrecisionModel GRID = new PrecisionModel(1e6);

    private final Glazing glazing;
    private final Map<String, Area> byConstruction = new HashMap<>();
    /** A zone may be a part of many others, and theirs of more: each is drawn once. */
    private final Map<Sheet, Map<String, Area>> byName = new IdentityHashMap<>();

    private final List<Area> all = new ArrayList<>();

    Areas(Glazing glazing) {
        this.glazing = glazing;
    }

    int count() {
        return all.size();
    }

    Area wholeGlass() {
        return ofEveryGlass(Zone.WHOLE_GLASS);
    }

    /** The zone of this name on that sheet; empty where the sheet does not draw it for this vehicle. */
    Area zone(Sheet sheet, String name) {
        // A kept sheet may draw a zone of its own under a name that is one of every glass only since.
        if (Zone.OF_EVERY_GLASS.contains(name) && !sheet.zones().containsKey(name)) {
            return ofEveryGlass(name);
        }
        var known = byName.computeIfAbsent(sheet, unused -> new HashMap<>());
        var area = known.get(name);
        if (area == null) {
            area = drawn(sheet, name);
            known.put(name, area);
        }
        return area;
    }

    private Area drawn(Sheet sheet, String name) {
        for (var way : sheet.zones().getOrDefault(name, List.of())) {
            if (VehicleTest.anyHolds(way.vehicles(), glazing.vehicle())) {
                return drawn(sheet, way.zone());
            }
        }
        return keep("nothing", GEOMETRY::createPolygon);
    }

    private Area ofEveryGlass(String name) {
        var pattern = glazing.pattern();
        return keep(name, () -> switch (name) {
            case Zone.SWEPT_AREA -> pattern.sweptArea();
            case Zone.VISIBLE_GLASS -> {
                var border = pattern.measurements().edgeBandMm();
                yield border > 0
                        ? overlay(pattern.outline(), pattern.edgeBand(border), OverlayNG.DIFFERENCE)
                        : pattern.outline();
            }
            case Zone.CAMERA_AREA -> Objects.requireNonNullElseGet(pattern.cameraArea(), GEOMETRY::createPolygon);
            default -> pattern.outline();
        });
    }

    private Area drawn(Sheet sheet, Zone zone) {
        return switch (zone) {
            case Zone.Band band -> {
                var within = zone(sheet, band.within());
                var half = band.widthMm() / 2;
                var middle = switch (band.centre()) {
                    case WHEEL -> glazing.pattern().wheelCentreMm();
                    case EYE -> glazing.pattern().eyePointMm().x;
                };
                yield keep(
                        "band %s at %s in %d".formatted(band.widthMm(), middle, within.index()),
                        () -> both(within.geometry(), column(within.geometry(), middle - half, middle + half)));
            }
            case Zone.Square square -> {
                var within = zone(sheet, square.within());
                var half = square.sideMm() / 2;
                var up = half / glazing.pattern().uprightShare();
                var eye = glazing.pattern().eyePointMm();
                var box = GEOMETRY.toGeometry(new Envelope(eye.x - half, eye.x + half, eye.y - up, eye.y + up));
                yield keep(
                        "square %s in %d".formatted(square.sideMm(), within.index()),
                        () -> both(within.geometry(), box));
            }
            case Zone.Without without -> {
                var left = zone(sheet, without.from());
                var taken = zones(sheet, without.without());
                yield keep("without " + left.index() + numbers(taken), () -> {
                    var geometry = left.geometry();
                    for (var area : taken) {
                        geometry = overlay(geometry, area.geometry(), OverlayNG.DIFFERENCE);
                    }
                    return geometry;
                });
            }
            case Zone.Inset inset -> {
                var within = zone(sheet, inset.within());
                yield keep(
                        "inset %s %s %s %s in %d"
                                .formatted(
                                        inset.topMm(),
                                        inset.bottomMm(),
                                        inset.sidesMm(),
                                        inset.fromWheelTop(),
                                        within.index()),
                        () -> inset(within.geometry(), inset));
            }
            case Zone.Rectangle rectangle -> {
                var within = zone(sheet, rectangle.within());
                var eye = glazing.pattern().eyePointMm();
                var box = GEOMETRY.toGeometry(new Envelope(
                        eye.x - rectangle.widthMm() / 2,
                        eye.x + rectangle.widthMm() / 2,
                        eye.y - rectangle.heightMm() / 2,
                        eye.y + rectangle.heightMm() / 2));
                yield keep(
                        "rectangle %s %s in %d".formatted(rectangle.widthMm(), rectangle.heightMm(), within.index()),
                        () -> both(within.geometry(), box));
            }
            case Zone.Strip strip -> {
                var within = zone(sheet, strip.within());
                var inwardsMm = -sign(strip.side()) * strip.widthMm();
                yield keep(
                        "strip %s %s in %d".formatted(strip.side(), strip.widthMm(), within.index()),
                        () -> overlay(within.geometry(), moved(within.geometry(), inwardsMm, 0), OverlayNG.DIFFERENCE));
            }
            case Zone.Half half -> {
                var within = zone(sheet, half.within());
                var extent = within.geometry().getEnvelopeInternal();
                var outermost = extent.isNull() ? 0 : Math.max(-extent.getMinX(), extent.getMaxX()) + 1;
                var side = sign(half.side()) * outermost;
                yield keep(
                        "half %s of %d".formatted(half.side(), within.index()),
                        () -> both(within.geometry(), column(within.geometry(), Math.min(0, side), Math.max(0, side))));
            }
            case Zone.Union union -> {
                var parts = zones(sheet, union.zones());
                yield keep("union" + numbers(parts), () -> {
                    Geometry geometry = GEOMETRY.createPolygon();
                    for (var area : parts) {
                        geometry = overlay(geometry, area.geometry(), OverlayNG.UNION);
                    }
                    return geometry;
                });
            }
        };
    }

    private List<Area> zones(Sheet sheet, List<String> names) {
        return names.stream().map(name -> zone(sheet, name)).toList();
    }

    private static String numbers(List<Area> areas) {
        return areas.stream().map(area -> " " + area.index()).collect(Collectors.joining());
    }

    /** Which way x runs towards that side. */
    private double sign(Zone.Side side) {
        var isRight = (glazing.pattern().steeringSide() == SteeringSide.LEFT) == (side == Zone.Side.DRIVER);
        return isRight ? 1 : -1; // seen from outside
    }

    /** A place belongs to the inset when the glass still goes on so far above and below it and to both sides. */
    private Geometry inset(Geometry glass, Zone.Inset inset) {
        var left = both(glass, moved(glass, 0, -inset.topMm()));
        if (inset.bottomMm() > 0) {
            left = both(left, moved(glass, 0, inset.bottomMm()));
        }
        left = both(left, moved(glass, inset.sidesMm(), 0));
        left = both(left, moved(glass, -inset.sidesMm(), 0));
        if (!inset.fromWheelTop()) {
            return left;
        }
        var extent = glass.getEnvelopeInternal();
        var bottom = glazing.pattern().wheelTopMm();
        if (bottom >= extent.getMaxY()) {
            return GEOMETRY.createPolygon();
        }
        return both(
                left,
                GEOMETRY.toGeometry(
                        new Envelope(extent.getMinX() - 1, extent.getMaxX() + 1, bottom, extent.getMaxY() + 1)));
    }

    private static Geometry moved(Geometry geometry, double xMm, double yMm) {
        return AffineTransformation.translationInstance(xMm, yMm).transform(geometry);
    }

    private static Geometry column(Geometry within, double fromMm, double toMm) {
        var extent = within.getEnvelopeInternal();
        if (extent.isNull()) {
            return GEOMETRY.createPolygon();
        }
        return GEOMETRY.toGeometry(new Envelope(fromMm, toMm, extent.getMinY() - 1, extent.getMaxY() + 1));
    }

    private static Geometry both(Geometry one, Geometry other) {
        return overlay(one, other, OverlayNG.INTERSECTION);
    }

    static Geometry overlay(Geometry one, Geometry other, int operation) {
        return OverlayNG.overlay(one, other, operation, GRID);
    }

    private Area keep(String construction, Supplier<Geometry> geometry) {
        return byConstruction.computeIfAbsent(construction, unused -> {
            var area = new Area(all.size(), surface(geometry.get()));
            all.add(area);
            return area;
        });
    }

    /** Where zones only touch, an overlay leaves lines and points behind. */
    @SuppressWarnings("unchecked") // JTS names no type; the extracter collects polygons only
    private static Geometry surface(Geometry geometry) {
        return GEOMETRY.buildGeometry((List<Geometry>) PolygonExtracter.getPolygons(geometry));
    }
}

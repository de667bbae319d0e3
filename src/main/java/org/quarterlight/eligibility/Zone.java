package org.quarterlight.eligibility;

import java.util.List;
import java.util.stream.Stream;

/**
 * How a part of the glass is found from the pattern; zones are constructed, never typed in. The zones named inside are
 * others of the same sheet or one of those that every glass has.
 */
public sealed interface Zone {
    String WHOLE_GLASS = "whole-glass";
    String SWEPT_AREA = "swept-area";
    /**
     * What the printed border leaves; all of the glass where the border's width is not known. A distance to the edge that
     * names it is taken to the edge that can be seen.
     */
    String VISIBLE_GLASS = "visible-glass";

    String CAMERA_AREA = "camera-area";
    /** By custom the sheets' own zone before the driver. */
    String DRIVERS_ZONE = "drivers-zone";

    List<String> OF_EVERY_GLASS = List.of(WHOLE_GLASS, VISIBLE_GLASS, SWEPT_AREA, CAMERA_AREA);

    /** A side of the glass, told from the driver's seat. */
    enum Side {
        DRIVER,
        PASSENGER
    }

    /** What stands in the middle of an upright band. */
    enum Centre {
        /** The steering wheel's centre line. */
        WHEEL,
        /** The driver's eye point, before the headrest. */
        EYE
    }

    /** The zones that must be known before this one. */
    List<String> builtFrom();

    /** An upright band, half its width to each side of its centre line. */
    record Band(double widthMm, Centre centre, String within) implements Zone {
        @Override
        public List<String> builtFrom() {
            return List.of(within);
        }
    }

    /** What is left of one zone without others. */
    record Without(String from, List<String> without) implements Zone {
        public Without {
            without = List.copyOf(without);
        }

        @Override
        public List<String> builtFrom() {
            return Stream.concat(Stream.of(from), without.stream()).toList();
        }
    }

    /**
     * A square with its middle at the driver's eye point, standing upright before the eye: on glass raked at ρ against the
     * level it is taller by 1 / sin ρ.
     */
    record Square(double sideMm, String within) implements Zone {
        @Override
        public List<String> builtFrom() {
            return List.of(within);
        }
    }

    /**
     * The glass without borders: a strip below the edge at every place along the top, one above the edge along the
     * bottom, strips along the left and right edges, and, where it starts at the wheel, all that lies lower than the highest point of the steering wheel.
     */
    record Inset(double topMm, double bottomMm, double sidesMm, boolean fromWheelTop, String within) implements Zone {
        @Override
        public List<String> builtFrom() {
            return List.of(within);
        }
    }

    /** A rectangle with its middle at the driver's eye point, laid on the glass as a sheet of paper is. */
    record Rectangle(double widthMm, double heightMm, String within) implements Zone {
        @Override
        public List<String> builtFrom() {
            return List.of(within);
        }
    }

    /** What lies no farther than this from one side's edge, measured level. */
    record Strip(Side side, double widthMm, String within) implements Zone {
        @Override
        public List<String> builtFrom() {
            return List.of(within);
        }
    }

    /** What lies on one side of the upright line through the middle of the glass. */
    record Half(Side side, String within) implements Zone {
        @Override
        public List<String> builtFrom() {
            return List.of(within);
        }
    }

    /** Several zones as one. */
    record Union(List<String> zones) implements Zone {
        public Union {
            zones = List.copyOf(zones);
        }

        @Override
        public List<String> builtFrom() {
            return zones;
        }
    }

    /** One way to draw a zone, for the vehicles that it is for. */
    record Drawn(List<VehicleTest> vehicles, Zone zone) {
        public Drawn {
            vehicles = List.copyOf(vehicles);
        }
    }
}

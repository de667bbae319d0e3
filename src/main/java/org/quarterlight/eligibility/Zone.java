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
    String CAMERA_AREA = "camera-area";
    /** By custom the sheets' own zone before the driver. */
    String DRIVERS_ZONE = "drivers-zone";

    List<String> OF_EVERY_GLASS = List.of(WHOLE_GLASS, SWEPT_AREA, CAMERA_AREA);

    /** The zones that must be known before this one. */
    List<String> builtFrom();

    /** An upright band, half its width to each side of the steering wheel's centre line. */
    record Band(double widthMm, String within) implements Zone {
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

    /** A square with its middle at the driver's eye point. */
    record Square(double sideMm, String within) implements Zone {
        @Override
        public List<String> builtFrom() {
            return List.of(within);
        }
    }

    /**
     * The glass without borders: a strip below the edge at every place along the top, strips along the left and right
     * edges, and, where it starts at the wheel, all that lies lower than the highest point of the steering wheel.
     */
    record Inset(double topMm, double sidesMm, boolean fromWheelTop, String within) implements Zone {
        @Override
        public List<String> builtFrom() {
            return List.of(within);
        }
    }

    /** One way to draw a zone, for the vehicles that it is for. */
    record Drawn(List<VehicleTest> vehicles, Zone zone) {
        public Drawn {
            vehicles = List.copyOf(vehicles);
        }
    }
}

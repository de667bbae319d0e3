package org.quarterlight.glass;

import java.util.List;
import java.util.Set;

/**
 * Glasses to begin with, until somebody measures a vehicle's own: typical sizes of our own making, taken from no vehicle.
 */
public enum GenericGlass {
    SMALL_CAR(
            "Small car 1300",
            new GlassMeasurements(
                    1300,
                    1080,
                    750,
                    70,
                    60,
                    90,
                    30,
                    SteeringSide.LEFT,
                    350,
                    130,
                    350,
                    430,
                    40,
                    List.of(new Wiper(540, -40, 90, 700, 95, 176), new Wiper(-40, -60, 120, 640, 90, 172)),
                    new CameraArea(0, 130, 120),
                    Set.of(Equipment.CAMERA, Equipment.RAIN_SENSOR))),
    VAN(
            "Van 1500",
            new GlassMeasurements(
                    1500,
                    1340,
                    800,
                    60,
                    50,
                    100,
                    45,
                    SteeringSide.LEFT,
                    420,
                    150,
                    420,
                    420,
                    40,
                    List.of(new Wiper(640, -40, 100, 740, 96, 176), new Wiper(-30, -60, 120, 720, 92, 172)),
                    new CameraArea(0, 140, 110),
                    Set.of(Equipment.CAMERA))),
    RIGID_TRUCK(
            "Rigid truck 2000",
            new GlassMeasurements(
                    2000,
                    1900,
                    800,
                    40,
                    40,
                    110,
                    78,
                    SteeringSide.LEFT,
                    640,
                    110,
                    640,
                    390,
                    40,
                    List.of(
                            new Wiper(840, -30, 160, 740, 94, 175),
                            new Wiper(170, -30, 160, 740, 94, 175),
                            new Wiper(-500, -30, 160, 700, 94, 175)),
                    new CameraArea(0, 160, 110),
                    Set.of(Equipment.CAMERA))),
    COACH(
            "Coach 2100",
            new GlassMeasurements(
                    2100,
                    1980,
                    1000,
                    30,
                    40,
                    140,
                    72,
                    SteeringSide.LEFT,
                    620,
                    140,
                    620,
                    480,
                    45,
                    List.of(new Wiper(880, -40, 170, 960, 96, 174), new Wiper(-880, -40, 170, 960, 6, 84)),
                    new CameraArea(0, 180, 140),
                    Set.of(Equipment.CAMERA)));

    private final String title;
    private final GlassMeasurements steeredFromTheLeft;

    GenericGlass(String title, GlassMeasurements steeredFromTheLeft) {
        this.title = title;
        this.steeredFromTheLeft = steeredFromTheLeft;
    }

    /** What such a vehicle most likely carries. */
    public static GenericGlass of(VehicleCategory category) {
        return switch (category) {
            case M1 -> SMALL_CAR;
            case N1, M2 -> VAN;
            case N2, N3 -> RIGID_TRUCK;
            case M3 -> COACH;
        };
    }

    /** A name with its width. */
    public String title() {
        return title;
    }

    public GlassMeasurements measurements(SteeringSide side) {
        return side == SteeringSide.LEFT ? steeredFromTheLeft : steeredFromTheLeft.mirrored();
    }
}

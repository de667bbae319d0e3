package org.quarterlight.web;

import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * A job's state as a rail of six stations, 10 px apart in a box of 58 × 12: what is done, where it stands, and a cross
 * where it ended early. Paths are in the syntax of SVG.
 */
public record JobRail(
        String words,
        String ahead,
        @Nullable String done,
        @Nullable Integer presentX,
        @Nullable String cross) {
    private static final List<String> STATIONS =
            List.of("requested", "approved", "planned", "under-way", "inspected", "closed");
    private static final int FIRST_X = 4;
    private static final int STEP = 10;
    private static final int MIDDLE_Y = 6;

    /** The rail of a state as the domain names it. */
    public static JobRail of(Enum<?> state) {
        return of(Words.of(state));
    }

    /** The rail of a state in lower case with hyphens, {@code under-way}. */
    public static JobRail of(String state) {
        return switch (state) {
            case "declined" -> ended("declined", stationX(1) + STEP / 2);
            case "abandoned" -> ended("abandoned", stationX(4));
            default -> at(state);
        };
    }

    /** Whether the job stands at a station. */
    public boolean present() {
        return presentX != null;
    }

    private static JobRail at(String state) {
        var station = STATIONS.indexOf(state);
        if (station < 0) {
            throw new IllegalArgumentException("not a state of a job: " + state);
        }
        var ahead = new StringBuilder("M%s %sH%s".formatted(FIRST_X, MIDDLE_Y, stationX(STATIONS.size() - 1)));
        for (int i = station + 1; i < STATIONS.size(); i++) {
            ahead.append("M%s 3v6".formatted(stationX(i)));
        }
        var done = new StringBuilder("M%s %sH%s".formatted(FIRST_X, MIDDLE_Y, stationX(station)));
        for (int i = 0; i < station; i++) {
            done.append("M%s 3v6".formatted(stationX(i)));
        }
        return new JobRail(
                state.replace('-', ' '),
                ahead.toString(),
                station == 0 ? null : done.toString(),
                stationX(station) - 2,
                null);
    }

    private static JobRail ended(String words, int crossX) {
        return new JobRail(
                words,
                "M%s %sH%s".formatted(FIRST_X, MIDDLE_Y, crossX),
                null,
                null,
                "M%s 2l8 8m0 -8l-8 8".formatted(crossX));
    }

    private static int stationX(int station) {
        return FIRST_X + STEP * station;
    }
}

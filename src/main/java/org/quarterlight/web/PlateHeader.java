package org.quarterlight.web;

import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * The header of a page about one vehicle and nothing else, as the model attribute {@code plateHeader}: a driver's cab
 * code (mark, page name, plate) or a running job (plate, then lines beside it).
 */
public record PlateHeader(int pattern, @Nullable String pageName, String registration, List<String> lines) {
    public PlateHeader {
        lines = List.copyOf(lines);
    }

    /** For a page that a cab code opens. */
    public static PlateHeader ofPage(int pattern, String pageName, String registration) {
        return new PlateHeader(pattern, pageName, registration, List.of());
    }

    /** For a job that is being done. */
    public static PlateHeader ofJob(int pattern, String registration, String damage, String organisation) {
        return new PlateHeader(pattern, null, registration, List.of(damage, organisation));
    }
}

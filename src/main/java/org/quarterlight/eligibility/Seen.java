package org.quarterlight.eligibility;

import com.fasterxml.jackson.annotation.JsonValue;
import java.util.Locale;

/**
 * How a length was seen, and the standard uncertainty it has where nobody says otherwise. The figures are ours, not
 * from a published source.
 */
public enum Seen {
    EYE,
    GAUGE,
    PHOTO;

    /** A length judged by eye: 15 % of it, but never under 2 mm. */
    static final double EYE_SHARE = 0.15;

    static final double EYE_AT_LEAST_MM = 2;
    static final double GAUGE_MM = 0.3;
    /** For a photo that was not measured by calculation: as good as an eye that looks twice. */
    static final double PHOTO_SHARE = 0.05;

    static final double PHOTO_AT_LEAST_MM = 0.5;
    /** A finger on a drawing of the glass. */
    static final double EYE_POSITION_MM = 10;
    /** A tape from two edges. */
    static final double GAUGE_POSITION_MM = 1;

    static final double PHOTO_POSITION_MM = 3;

    /** The part of a length that its standard uncertainty is; none where it is the same for all lengths. */
    public double share() {
        return switch (this) {
            case EYE -> EYE_SHARE;
            case GAUGE -> 0;
            case PHOTO -> PHOTO_SHARE;
        };
    }

    /** What the standard uncertainty of a length never falls below, mm. */
    public double atLeastMm() {
        return switch (this) {
            case EYE -> EYE_AT_LEAST_MM;
            case GAUGE -> GAUGE_MM;
            case PHOTO -> PHOTO_AT_LEAST_MM;
        };
    }

    /** One standard uncertainty of a length, mm. */
    public double standardUncertaintyMm(double lengthMm) {
        return Math.max(atLeastMm(), share() * Math.abs(lengthMm));
    }

    /** One standard uncertainty of the place on the glass, in any direction, mm. */
    public double positionStandardUncertaintyMm() {
        return switch (this) {
            case EYE -> EYE_POSITION_MM;
            case GAUGE -> GAUGE_POSITION_MM;
            case PHOTO -> PHOTO_POSITION_MM;
        };
    }

    /** Lower case, as in JSON. */
    @JsonValue
    public String word() {
        return name().toLowerCase(Locale.ROOT);
    }
}

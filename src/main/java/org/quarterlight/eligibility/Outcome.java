package org.quarterlight.eligibility;

import com.fasterxml.jackson.annotation.JsonValue;
import java.util.Locale;

/** What follows for one damage. Listed from the worst, the order in which people should see them. */
public enum Outcome {
    STAND_DOWN,
    REPLACE,
    MEASURE_AGAIN,
    REPAIR,
    WATCH;

    /** Lower case with hyphens, as in JSON. */
    @JsonValue
    public String word() {
        return name().toLowerCase(Locale.ROOT).replace('_', '-');
    }
}

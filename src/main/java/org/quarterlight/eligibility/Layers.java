package org.quarterlight.eligibility;

import com.fasterxml.jackson.annotation.JsonValue;
import java.util.Locale;

/** How deep an impact went. */
public enum Layers {
    /** Only the outer glass is hit. */
    OUTER,
    /** The interlayer or the inner glass is hit too. */
    THROUGH;

    /** Lower case with hyphens, as in JSON. */
    @JsonValue
    public String word() {
        return name().toLowerCase(Locale.ROOT).replace('_', '-');
    }
}

package org.quarterlight.eligibility;

import com.fasterxml.jackson.annotation.JsonValue;
import java.util.Locale;

/** How a rule or a question came out. */
public enum Result {
    YES,
    UNCLEAR,
    NO;

    /** Lower case with hyphens, as in JSON. */
    @JsonValue
    public String word() {
        return name().toLowerCase(Locale.ROOT).replace('_', '-');
    }
}

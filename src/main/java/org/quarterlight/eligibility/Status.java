package org.quarterlight.eligibility;

import com.fasterxml.jackson.annotation.JsonValue;
import java.util.Locale;

/** How a figure came to be known. Never better than it was. */
public enum Status {
    /** Read in the document named, or in a copy or quotation of it. */
    SEEN,
    /** Read in a restatement by somebody else. */
    SECONDARY,
    /** Recalled; not checked against the published text. */
    MEMORY,
    /** Calculated from other figures. */
    COMPUTED,
    /** What the trade does; nobody has published it as a limit. */
    COMMON_PRACTICE;

    /** Lower case with hyphens, as in JSON. */
    @JsonValue
    public String word() {
        return name().toLowerCase(Locale.ROOT).replace('_', '-');
    }
}

package org.quarterlight.inspection;

import com.fasterxml.jackson.annotation.JsonValue;
import org.quarterlight.web.Words;

/** What an inspector says of one damage. */
public enum InspectionAnswer {
    /** Still there, as it was. */
    CONFIRMED,
    /** Still there, and not as it was. */
    CHANGED,
    /** Nobody knew of it before this inspection. */
    NEW,
    /** Not there any more. */
    GONE,
    /** A finished repair that has failed. */
    FAILED;

    /** Lower case, as in JSON. */
    @JsonValue
    public String word() {
        return Words.of(this);
    }
}

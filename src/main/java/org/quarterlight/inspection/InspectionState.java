package org.quarterlight.inspection;

import com.fasterxml.jackson.annotation.JsonValue;
import org.quarterlight.web.Words;

/** Where an inspection stands. Whether it is overdue is told by the day at the vehicle's depot. */
public enum InspectionState {
    DUE,
    OVERDUE,
    DONE;

    /** Lower case, as in JSON. */
    @JsonValue
    public String word() {
        return Words.of(this);
    }
}

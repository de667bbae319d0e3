package org.quarterlight.eligibility;

import com.fasterxml.jackson.annotation.JsonValue;
import java.util.Locale;

/** What is asked of a damage. Sheets answer all but {@code AS_REPAIRED}. */
public enum Question {
    /** May the vehicle be on the road with it? */
    ROADWORTHY,
    /** May it be repaired? */
    REPAIRABLE,
    /** What would remain on the road if it were repaired? Answered by the same sheets as the first. */
    AS_REPAIRED,
    /** Is the finished repair good enough? */
    ACCEPTABLE;

    /** Lower case with hyphens, as in JSON. */
    @JsonValue
    public String word() {
        return name().toLowerCase(Locale.ROOT).replace('_', '-');
    }
}

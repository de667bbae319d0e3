package org.quarterlight.damage;

import com.fasterxml.jackson.annotation.JsonValue;
import org.quarterlight.web.Words;

/** What makes somebody see to a damage on a day. */
public enum PlannedBy {
    /** Its job stands on that day. */
    JOB,
    /** The vehicle's next inspection is planned or due then. */
    INSPECTION,
    /** The verdict says by then. */
    VERDICT;

    /** Lower case, as in JSON. */
    @JsonValue
    public String word() {
        return Words.of(this);
    }

    /** For a sentence: by whose doing it is that day. */
    public String words() {
        return switch (this) {
            case JOB -> "the day of its job";
            case INSPECTION -> "the day of the vehicle's next inspection";
            case VERDICT -> "the day by which it is to be seen to";
        };
    }
}

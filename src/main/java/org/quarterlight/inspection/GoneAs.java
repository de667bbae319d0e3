package org.quarterlight.inspection;

import com.fasterxml.jackson.annotation.JsonValue;
import org.quarterlight.damage.ClosedAs;
import org.quarterlight.web.Words;

/** Why a damage that was known is not there any more. */
public enum GoneAs {
    REPAIRED,
    /** The glass is another one. */
    REPLACED,
    /** It never was a damage, or was reported twice. */
    NO_DAMAGE;

    /** Lower case with hyphens, as in JSON. */
    @JsonValue
    public String word() {
        return Words.of(this);
    }

    ClosedAs closedAs() {
        return switch (this) {
            case REPAIRED -> ClosedAs.REPAIRED;
            case REPLACED -> ClosedAs.REPLACED;
            case NO_DAMAGE -> ClosedAs.WITHDRAWN;
        };
    }

    String words() {
        return switch (this) {
            case REPAIRED -> "found repaired at an inspection";
            case REPLACED -> "the glass was found replaced at an inspection";
            case NO_DAMAGE -> "an inspection found no damage";
        };
    }
}

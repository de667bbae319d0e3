package org.quarterlight.eligibility;

import com.fasterxml.jackson.annotation.JsonValue;
import java.util.Locale;

/** On which side of its limit a rule is kept. Lengths are compared as they are, never rounded. */
public enum Bound {
    AT_MOST,
    LESS_THAN,
    AT_LEAST,
    MORE_THAN,
    /** For facts that are not lengths: the fact is one of those allowed. */
    ONE_OF;

    /** How far a value lies on the good side of the limit, in the unit of both; negative beyond it. */
    double margin(double value, double limit) {
        return switch (this) {
            case AT_MOST, LESS_THAN -> limit - value;
            case AT_LEAST, MORE_THAN -> value - limit;
            case ONE_OF -> throw new IllegalStateException("one-of has no margin");
        };
    }

    /** Whether a value at this margin keeps the rule. */
    boolean holdsAt(double margin) {
        return switch (this) {
            case AT_MOST, AT_LEAST -> margin >= 0;
            case LESS_THAN, MORE_THAN -> margin > 0;
            case ONE_OF -> throw new IllegalStateException("one-of has no margin");
        };
    }

    /** Lower case with hyphens, as in JSON. */
    @JsonValue
    public String word() {
        return name().toLowerCase(Locale.ROOT).replace('_', '-');
    }
}

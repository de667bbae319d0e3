package org.quarterlight.eligibility;

import com.fasterxml.jackson.annotation.JsonValue;
import java.util.Locale;

/** What a rule reads. */
public enum Quantity {
    OVERALL_DIAMETER,
    PIT_DIAMETER,
    /** From the middle of the impact to the tip of its longest leg, read of every kind but a crack. */
    LONGEST_LEG,
    /** From end to end, read of a crack. */
    CRACK_LENGTH,
    /** From the damage's nearest point to the edge of the glass. */
    DISTANCE_TO_EDGE,
    /** From the damage's nearest point to the rule's zone; negative where it reaches in. */
    DISTANCE_TO_ZONE,
    /** To the nearest other damage that counts. */
    DISTANCE_TO_OTHER_DAMAGE,
    /** To the nearest finished repair. */
    DISTANCE_TO_FINISHED_REPAIR,
    /** How many damages that count lie in the rule's zone, this one among them. */
    COUNT,
    LAYERS,
    CONDITION,
    /** Whether a crack crosses the rule's zone from side to side or from top to bottom. */
    CROSSES_ZONE,
    /** What an inspector found of the view. */
    VIEW;

    boolean isLength() {
        return compareTo(DISTANCE_TO_FINISHED_REPAIR) <= 0;
    }

    boolean isDistance() {
        return isLength() && compareTo(DISTANCE_TO_EDGE) >= 0;
    }

    /** Lower case with hyphens, as in JSON. */
    @JsonValue
    public String word() {
        return name().toLowerCase(Locale.ROOT).replace('_', '-');
    }
}

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
    /** Of a combination break, without its legs. */
    BODY_DIAMETER,
    /** How much of a crack lies in the rule's zone. */
    LENGTH_IN_ZONE,
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
    /** How many finished repairs lie in the rule's zone. */
    EARLIER_REPAIRS,
    /** How many ends of a crack reach the edge of the glass. */
    ENDS_AT_EDGE,
    /** Days since the damage arose, or was first seen. */
    AGE_DAYS,
    LAYERS,
    CONDITION,
    /** Whether a crack crosses the rule's zone from side to side or from top to bottom. */
    CROSSES_ZONE,
    /** What an inspector found of the view. */
    VIEW,
    /** Whether a finished repair is level with the glass. */
    LEVEL,
    /** Whether a finished repair is clear, hardly to be found, from outside and from inside. */
    CLEAR;

    boolean isLength() {
        return compareTo(DISTANCE_TO_FINISHED_REPAIR) <= 0;
    }

    boolean isDistance() {
        return isLength() && compareTo(DISTANCE_TO_EDGE) >= 0;
    }

    boolean isCount() {
        return compareTo(COUNT) >= 0 && compareTo(AGE_DAYS) <= 0;
    }

    /** Whether its limit holds in the rule's zone alone, and is kept as well by lying outside. */
    boolean isOnlyInsideItsZone() {
        return this != DISTANCE_TO_ZONE && this != CROSSES_ZONE && this != LENGTH_IN_ZONE && this != COUNT;
    }

    /** Whether it can only be read of a crack. */
    boolean isOfCracks() {
        return this == CRACK_LENGTH || this == LENGTH_IN_ZONE || this == CROSSES_ZONE || this == ENDS_AT_EDGE;
    }

    /** Whether it can only be asked of a finished repair. */
    boolean isOfFinishedRepairs() {
        return this == LEVEL || this == CLEAR;
    }

    /** Lower case with hyphens, as in JSON. */
    @JsonValue
    public String word() {
        return name().toLowerCase(Locale.ROOT).replace('_', '-');
    }
}

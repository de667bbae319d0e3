package org.quarterlight.eligibility;

import com.fasterxml.jackson.annotation.JsonValue;
import java.util.Locale;

/** How much a damage counts on the road, from nothing upwards. None and minor may be driven; major only to be put right, as local law allows; dangerous not at all. */
public enum Grade {
    NONE,
    MINOR,
    MAJOR,
    DANGEROUS;

    Grade orWorse(Grade other) {
        return compareTo(other) >= 0 ? this : other;
    }

    boolean mayBeDriven() {
        return compareTo(MINOR) <= 0;
    }

    /** Lower case with hyphens, as in JSON. */
    @JsonValue
    public String word() {
        return name().toLowerCase(Locale.ROOT).replace('_', '-');
    }
}

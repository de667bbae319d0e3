package org.quarterlight.fleet.list;

import java.util.Set;

/** How a date such as 03/04/2024 is meant. */
public enum DateOrder {
    DAY_FIRST,
    MONTH_FIRST;

    private static final Set<String> MONTH_FIRST_COUNTRIES = Set.of("US", "PH", "FM", "MH", "PW");

    /** The habit of a country, by its ISO 3166-1 code of two letters. Common practice, no source. */
    public static DateOrder habitOf(String country) {
        return MONTH_FIRST_COUNTRIES.contains(country) ? MONTH_FIRST : DAY_FIRST;
    }
}

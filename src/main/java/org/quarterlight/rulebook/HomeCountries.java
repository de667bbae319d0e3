package org.quarterlight.rulebook;

import java.util.Set;

/** Where the present organisation has depots, ISO 3166-1 alpha-2; answered by who knows depots. */
public interface HomeCountries {
    Set<String> homeCountries();
}

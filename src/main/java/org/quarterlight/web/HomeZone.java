package org.quarterlight.web;

import java.time.ZoneId;
import java.util.Optional;

/** Where the present organisation mostly is; whoever keeps its places answers. */
public interface HomeZone {
    /** Empty where it has no place yet. */
    Optional<ZoneId> homeZone();
}

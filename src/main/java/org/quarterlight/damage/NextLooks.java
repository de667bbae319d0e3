package org.quarterlight.damage;

import java.time.LocalDate;
import java.util.Collection;
import java.util.Map;
import java.util.UUID;

/** When the glass of vehicles is looked at next: damages ask, whoever keeps inspections answers. */
public interface NextLooks {
    /** By vehicle, from today on; one of which nobody asks for an inspection, or only a missed one, is missing. */
    Map<UUID, LocalDate> of(Collection<UUID> vehicles);
}

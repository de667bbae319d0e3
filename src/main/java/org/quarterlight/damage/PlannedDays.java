package org.quarterlight.damage;

import java.time.LocalDate;
import java.util.Collection;
import java.util.Map;
import java.util.UUID;

/** On which days jobs are to be done: damages ask, whoever keeps jobs answers. */
public interface PlannedDays {
    /** By job; one without a day is missing. */
    Map<UUID, LocalDate> of(Collection<UUID> jobs);
}

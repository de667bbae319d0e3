package org.quarterlight.damage;

import java.time.LocalDate;
import java.util.Optional;
import java.util.UUID;

/** On which day a job is to be done: damages ask, whoever keeps jobs answers. */
public interface PlannedDays {
    Optional<LocalDate> of(UUID job);
}

package org.quarterlight.repair;

import java.util.Optional;
import java.util.UUID;

/** Which van drives to a job, as whoever plans days knows. */
public interface JobVans {
    /** The present organisation's van on whose day the job stands; none where it was done without one. */
    Optional<UUID> vanOf(UUID job);
}

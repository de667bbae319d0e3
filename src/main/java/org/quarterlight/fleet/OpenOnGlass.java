package org.quarterlight.fleet;

import java.time.LocalDate;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.quarterlight.glass.DrawnDamage;

/** What is open on the glass that vehicles carry, for small pictures: the fleet asks, whoever keeps damages answers. */
public interface OpenOnGlass {
    /** By vehicle; one with nothing open may be missing. */
    Map<UUID, List<DrawnDamage>> of(Collection<UUID> vehicles);

    /** Of those of which a damage is expected to pass a limit before somebody sees to it, the first day of that. */
    Map<UUID, LocalDate> growing(Collection<UUID> vehicles);
}

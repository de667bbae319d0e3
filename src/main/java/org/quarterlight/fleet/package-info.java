/**
 * Depots, vehicles, the windscreens they carry and the patterns of these. The way in is {@link
 * org.quarterlight.fleet.Fleet}; it knows damages only by the condition that others note on a vehicle.
 */
@NullMarked
@ApplicationModule(
        allowedDependencies = {"kernel", "glass", "tenancy", "web", "account", "history", "photo", "eligibility"})
package org.quarterlight.fleet;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;

/**
 * Vans and their days: which job stands where in whose day, and whether the day holds. The way in is {@link
 * org.quarterlight.dispatch.Dispatching}; it knows a job by its brief and sees no row of a fleet's.
 */
@NullMarked
@ApplicationModule(allowedDependencies = {"kernel", "glass", "tenancy", "web", "account", "history", "repair"})
package org.quarterlight.dispatch;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
